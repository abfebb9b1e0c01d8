"""A drawing as SVG, in millimetres, so that it prints to scale."""

from __future__ import annotations

import math
from html import escape

from .ink import Dash, Dimension, Drawing, Layer, Stroke, Words, readable

INK = "#22282a"
TICK, PAST, GAP, LETTER = 1.0, 1.0, 1.2, 2.1  # mm of a dimension's parts
_DASHES = {Dash.HIDDEN: "2.4 1.2", Dash.CENTRE: "6 1.2 1.2 1.2"}
_HALO = (
    'stroke="#ffffff" stroke-width="0.7" paint-order="stroke" stroke-linejoin="round"'
)


def svg_text(drawing: Drawing) -> str:
    """Return a drawing as an SVG document."""
    wide, tall = drawing.size
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}mm" '
        f'height="{tall:g}mm" viewBox="0 0 {wide:g} {tall:g}">',
        f"<title>{escape(drawing.title)}</title>",
        f'<path d="M0 0H{wide:g}V{tall:g}H0Z" fill="#ffffff" stroke="none"/>',
    ]
    strokes = [i for i in drawing.items if not isinstance(i, Words)]
    words = [i for i in drawing.items if isinstance(i, Words)]
    parts += [_item(item, tall) for item in (*strokes, *words)]
    return "\n".join([*parts, "</svg>"]) + "\n"


def _item(item: Stroke | Words | Dimension, tall: float) -> str:
    """Return one item."""
    if isinstance(item, Stroke):
        return _stroke(item, tall)
    if isinstance(item, Words):
        return _words(item, tall)
    return "\n".join(
        _stroke(p, tall) if isinstance(p, Stroke) else _words(p, tall)
        for p in dimension_parts(item)
    )


def _stroke(stroke: Stroke, tall: float) -> str:
    """Return a line."""
    path = "L".join(f"{x:.3f} {tall - y:.3f}" for x, y in stroke.points)
    dash = _DASHES.get(stroke.dash, "")
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path d="M{path}{"Z" if stroke.closed else ""}" '
        f'fill="{stroke.fill or "none"}" stroke="{INK}" '
        f'stroke-width="{stroke.width:g}"{dashed} class="{stroke.layer.value}"/>'
    )


def _words(words: Words, tall: float) -> str:
    """Return words; letters are 0.7 of the size of type."""
    x, y = words.place[0], tall - words.place[1]
    turn = f' transform="rotate({-words.turn:.2f} {x:.3f} {y:.3f})"'
    heavy = ' font-weight="600"' if words.bold else ""
    halo = f" {_HALO}" if words.layer is not Layer.TITLE else ""
    return (
        f'<text x="{x:.3f}" y="{y:.3f}" font-size="{words.height / 0.7:.3f}" '
        f'font-family="Georgia, \'Times New Roman\', serif" fill="{INK}" '
        f'text-anchor="{words.anchor}"{turn if words.turn else ""}{heavy}{halo}>'
        f"{escape(words.text)}</text>"
    )


def dimension_parts(item: Dimension) -> list[Stroke | Words]:
    """Return the lines and the words that a dimension is drawn with."""
    sheet = Drawing("", "", (0.0, 0.0), 1.0)
    (xa, ya), (xb, yb) = item.a, item.b
    length = math.hypot(xb - xa, yb - ya) or 1.0
    ux, uy = (xb - xa) / length, (yb - ya) / length
    nx, ny = -uy, ux
    side = math.copysign(1.0, item.off)
    ends = [(x + nx * item.off, y + ny * item.off) for x, y in (item.a, item.b)]
    layer = Layer.DIMENSIONS
    for (x, y), (x0, y0) in zip(ends, (item.a, item.b), strict=True):
        gap, past = GAP * side, PAST * side
        sheet.line(
            [(x0 + nx * gap, y0 + ny * gap), (x + nx * past, y + ny * past)], layer, 0.1
        )
        tick = TICK * 0.7
        dx, dy = tick * (ux + nx), tick * (uy + ny)
        sheet.line([(x - dx, y - dy), (x + dx, y + dy)], layer, 0.3)
    sheet.line(ends, layer, 0.13)
    turn = readable(math.degrees(math.atan2(uy, ux)))
    rise = math.radians(turn)
    middle = (ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2
    place = middle[0] - 0.9 * math.sin(rise), middle[1] + 0.9 * math.cos(rise)
    sheet.say(place, item.text, LETTER, "middle", turn, layer)
    return [part for part in sheet.items if not isinstance(part, Dimension)]
