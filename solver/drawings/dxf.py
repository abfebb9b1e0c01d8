"""A drawing as DXF: full size, in inches or millimetres, on the trade's layers.

Dimensions are dimensions, words are words; what the paper's frame holds is drawn at
the same scale around it.
"""

from __future__ import annotations

import io
import math
from typing import Any

from ..extras import extra
from ..units import System
from .ink import Dash, Dimension, Drawing, Layer, Stroke, Words, readable
from .svg import GAP, LETTER, PAST, TICK

_TYPES = {Dash.FULL: "CONTINUOUS", Dash.HIDDEN: "DASHED", Dash.CENTRE: "CENTER"}
_COLOURS = {  # of the DXF index, so that layers are told apart on a dark screen
    Layer.RAFTERS: 7, Layer.RIDGE: 6, Layer.PURLINS: 3, Layer.STRUTS: 1, Layer.TIES: 8,
    Layer.JOISTS: 7, Layer.BEAMS: 5, Layer.POSTS: 1, Layer.WALLS: 9, Layer.OUTLINE: 8,
    Layer.DIMENSIONS: 4, Layer.WORDS: 2, Layer.SYMBOLS: 2, Layer.TITLE: 8,
}  # fmt: skip
_STYLE = "LOADFALL"
Modelspace = Any  # of ezdxf


def dxf_text(drawing: Drawing, units: System) -> str:
    """Return a drawing as a DXF document.

    Args:
        drawing: the drawing, in mm of paper.
        units: imperial writes inches, metric millimetres.

    Raises:
        ExtraError: ezdxf is not installed.
    """
    library = extra("ezdxf")
    imperial = units is System.IMPERIAL
    size = drawing.scale / 25.4 if imperial else drawing.scale
    document = library.new("R2010", setup=["linetypes"], units=1 if imperial else 4)
    document.header["$MEASUREMENT"] = 0 if imperial else 1
    document.header["$LTSCALE"] = size * (25.4 if imperial else 1.0) / 5
    for layer in Layer:
        document.layers.add(layer.value, color=_COLOURS[layer])
    style = document.styles.add(_STYLE, font="times.ttf")
    style.dxf.width = 0.85
    _dimension_style(document, size)
    space = document.modelspace()
    for item in drawing.items:
        if isinstance(item, Stroke):
            _stroke(space, item, size)
        elif isinstance(item, Words):
            _words(library, space, item, size)
        else:
            _dimension(space, item, size)
    out = io.StringIO()
    document.write(out)
    return out.getvalue()


def _dimension_style(document: Modelspace, size: float) -> None:
    """Add the look of dimensions: slanted ticks, words above the line."""
    style = document.dimstyles.duplicate_entry("Standard", _STYLE)
    style.dxf.dimtxsty = _STYLE
    style.dxf.dimtxt = LETTER * size
    style.dxf.dimtsz = TICK * size
    style.dxf.dimexo = GAP * size
    style.dxf.dimexe = PAST * size
    style.dxf.dimgap = 0.9 * size
    style.dxf.dimtad = 1
    style.dxf.dimtih = style.dxf.dimtoh = 0


def _stroke(space: Modelspace, item: Stroke, size: float) -> None:
    """Add a line."""
    look = {
        "layer": item.layer.value,
        "linetype": _TYPES[item.dash],
        "lineweight": _weight(item.width),
    }
    points = [(float(x) * size, float(y) * size) for x, y in item.points]
    space.add_lwpolyline(points, close=item.closed, dxfattribs=look)


def _weight(width: float) -> int:
    """Return the nearest line weight that DXF knows, hundredths of a mm."""
    known = (9, 13, 18, 25, 30, 35, 50, 70)
    return min(known, key=lambda w: abs(w - 100 * width))


def _words(library: Any, space: Modelspace, item: Words, size: float) -> None:  # noqa: ANN401
    """Add words."""
    text = space.add_text(
        item.text,
        height=item.height * size,
        rotation=item.turn,
        dxfattribs={"layer": item.layer.value, "style": _STYLE},
    )
    align = library.enums.TextEntityAlignment
    place = item.place[0] * size, item.place[1] * size
    anchors = {"start": align.LEFT, "middle": align.CENTER, "end": align.RIGHT}
    text.set_placement(place, align=anchors[item.anchor])


def _dimension(space: Modelspace, item: Dimension, size: float) -> None:
    """Add a dimension."""
    a, b = ((x * size, y * size) for x, y in (item.a, item.b))
    if math.dist(a, b) == 0:
        return
    off = item.off
    turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    if abs(readable(turn) - turn) > 1.0:  # words would stand on their heads
        a, b, off = b, a, -off
    made = space.add_aligned_dim(
        p1=a, p2=b, distance=off * size, text=item.text, dimstyle=_STYLE,
        dxfattribs={"layer": Layer.DIMENSIONS.value},
    )  # fmt: skip
    made.render()
