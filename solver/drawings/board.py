"""The paper: its size, the scale, the frame with the title block, and the scale bar."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..report.cautions import CAUTIONS
from ..units import FOOT, System
from .columns import MEASURE
from .ink import Drawing, Floats, Layer, Place

EDGE = 10.0  # mm from the edge of the paper to the frame
BLOCK = 24.0  # mm, height of the title block
ROOM = 23.0  # mm around a view, for dimensions and words
# ANSI/ASME Y14.1 A to E and ISO 216 A4 to A0, lying, mm.
_PAPERS = {
    System.IMPERIAL: ((279.4, 215.9), (431.8, 279.4), (558.8, 431.8), (863.6, 558.8),
                      (1117.6, 863.6)),
    System.METRIC: ((297.0, 210.0), (420.0, 297.0), (594.0, 420.0), (841.0, 594.0),
                    (1189.0, 841.0)),
}  # fmt: skip
_SCALES = {  # real over drawn, and what it is called
    System.IMPERIAL: ((48.0, "1/4 in = 1 ft"), (96.0, "1/8 in = 1 ft"),
                      (192.0, "1/16 in = 1 ft")),
    System.METRIC: ((50.0, "1:50"), (100.0, "1:100"), (200.0, "1:200")),
}  # fmt: skip

_SAID = f"{CAUTIONS[0]} {CAUTIONS[1]} {MEASURE} {CAUTIONS[3]}"


@dataclass(frozen=True, eq=False)
class Board:
    """A sheet with one view on it.

    Attributes:
        drawing: the sheet.
        shift: mm of the paper under (0, 0) of the view.
        scale: real size over drawn size.
    """

    drawing: Drawing
    shift: Floats
    scale: float

    def at(self, place: Place) -> Floats:
        """Return the mm of a place of the view, m."""
        return self.shift + self.mm(place)

    def mm(self, length: Place | Floats) -> Floats:
        """Return lengths of the view, m, as mm of paper."""
        return np.asarray(length, dtype=float) * 1000.0 / self.scale


def board(
    name: str, title: str, roof: str, low: Place, high: Place, units: System,
    number: str,
) -> Board:  # fmt: skip
    """Return an empty sheet for a view.

    The largest scale whose paper is known, and of its papers the smallest that fits.

    Args:
        name: of the files.
        title: of the sheet.
        roof: name of the roof.
        low: m, lower corner of the view.
        high: m, upper corner.
        units: imperial or metric paper and scale.
        number: of the sheet.
    """
    low, high = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    size, scale, words = _fitting(high - low, units)
    drawing = Drawing(name, f"{roof}: {title}", size, scale)
    free = np.array([EDGE, EDGE + BLOCK]), np.array(size) - EDGE
    middle = (free[0] + free[1]) / 2
    shift = middle - (low + high) / 2 * 1000.0 / scale
    made = Board(drawing, shift, scale)
    _frame(drawing, roof, title, words, number)
    _bar(drawing, scale, units)
    return made


def _fitting(size: Floats, units: System) -> tuple[tuple[float, float], float, str]:
    """Return paper, scale and its name for a view of a size, m."""
    for scale, words in _SCALES[units]:
        wide, tall = size * 1000.0 / scale
        for paper in _PAPERS[units]:
            if (
                wide + 2 * ROOM <= paper[0] - 2 * EDGE
                and tall + 2 * ROOM <= paper[1] - 2 * EDGE - BLOCK
            ):
                return paper, scale, words
    scale, words = _SCALES[units][-1]
    return _PAPERS[units][-1], scale, words


def _frame(drawing: Drawing, roof: str, title: str, scale: str, number: str) -> None:
    """Add the frame and the title block with the cautions."""
    wide, tall = drawing.size
    layer = Layer.TITLE
    drawing.box((EDGE, EDGE), (wide - EDGE, tall - EDGE), layer, 0.5)
    top = EDGE + BLOCK
    drawing.line([(EDGE, top), (wide - EDGE, top)], layer, 0.5)
    first, second = EDGE + 86.0, wide - EDGE - 58.0
    for x in (first, second):
        drawing.line([(x, EDGE), (x, top)], layer, 0.3)
    x = EDGE + 3.0
    drawing.say((x, top - 7.0), title, 3.6, layer=layer, bold=True)
    drawing.say((x, top - 12.5), _cut(roof, 46), 2.5, layer=layer)
    drawing.say((x, top - 21.0), f"Scale {scale}", 2.5, layer=layer)
    for n, words in enumerate(_lines(_SAID, second - first - 6.0, 1.8)):
        drawing.say((first + 3.0, top - 4.2 - 3.2 * n), words, 1.8, layer=layer)
    drawing.say(
        (second + 3.0, top - 6.0), f"Sheet {number}", 3.0, layer=layer, bold=True
    )
    drawing.say((second + 3.0, top - 12.5), "Drawn by Loadfall", 2.2, layer=layer)
    drawing.say((second + 3.0, top - 20.5), "Reviewed by, date:", 2.2, layer=layer)


def _lines(text: str, room: float, height: float) -> list[str]:
    """Return a text in lines that fit into some mm."""
    most = int(room / (height * 0.66))
    lines, line = list[str](), ""
    for word in text.split():
        if line and len(line) + 1 + len(word) > most:
            lines.append(line)
            line = word
        else:
            line = f"{line} {word}".strip()
    return [*lines, line]


def _cut(text: str, most: int) -> str:
    """Return a text cut to a number of letters."""
    return text if len(text) <= most else text[: most - 1] + "…"


def _bar(drawing: Drawing, scale: float, units: System) -> None:
    """Add the scale bar over the title block."""
    step, name = (4 * FOOT, "ft") if units is System.IMPERIAL else (1.0, "m")
    one = step * 1000.0 / scale
    x, y = EDGE + 6.0, EDGE + BLOCK + 5.0
    for n in range(4):
        drawing.box(
            (x + n * one, y), (x + (n + 1) * one, y + 1.6), Layer.SYMBOLS, 0.18,
            fill="#22282a" if n % 2 == 0 else "#ffffff",
        )  # fmt: skip
    unit = 4 if units is System.IMPERIAL else 1
    for n in range(5):
        words = f"{n * unit} {name}" if n == 4 else f"{n * unit}"
        drawing.say((x + n * one, y + 2.6), words, 1.9, "middle", layer=Layer.SYMBOLS)


def north(made: Board) -> None:
    """Add the arrow to the north, over the title block on the right."""
    wide, _ = made.drawing.size
    x, y = wide - EDGE - 10.0, EDGE + BLOCK + 4.0
    layer = Layer.SYMBOLS
    made.drawing.line([(x, y), (x, y + 13.0)], layer, 0.3)
    made.drawing.outline(
        [(x - 1.8, y + 8.5), (x, y + 13.0), (x + 1.8, y + 8.5)], layer, fill="#22282a"
    )
    made.drawing.say((x + 2.6, y + 9.5), "N", 3.0, layer=layer)
