"""A drawing on paper before it is a file: strokes, words and dimensions in mm.

Knows nothing of roofs and nothing of file formats; y is upward, the origin at the
lower left corner of the paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Place = Sequence[float] | Floats


class Layer(StrEnum):
    """Layers, after the US National CAD Standard's discipline S; names from memory."""

    RAFTERS = "S-FRAM-RAFT"
    RIDGE = "S-FRAM-RIDG"
    PURLINS = "S-FRAM-PURL"
    STRUTS = "S-FRAM-STRT"
    TIES = "S-FRAM-TIES"
    JOISTS = "S-JOIS"
    BEAMS = "S-BEAM"
    POSTS = "S-COLS"
    WALLS = "S-WALL"
    OUTLINE = "S-ROOF-OTLN"
    DIMENSIONS = "S-ANNO-DIMS"
    WORDS = "S-ANNO-TEXT"
    SYMBOLS = "S-ANNO-SYMB"
    TITLE = "S-ANNO-TTLB"


class Dash(StrEnum):
    """How a line runs."""

    FULL = "full"
    HIDDEN = "hidden"  # below what is drawn
    CENTRE = "centre"


@dataclass(frozen=True, eq=False)
class Stroke:
    """A line of straight pieces.

    Attributes:
        points: (n, 2) mm.
        layer: which.
        width: mm.
        dash: how it runs.
        closed: back to the first point.
        fill: "" or a colour.
    """

    points: Floats
    layer: Layer
    width: float = 0.18
    dash: Dash = Dash.FULL
    closed: bool = False
    fill: str = ""


@dataclass(frozen=True, eq=False)
class Words:
    """One line of words.

    Attributes:
        place: mm, of its baseline.
        text: the words.
        height: mm of its letters.
        layer: which.
        anchor: ``start``, ``middle`` or ``end``.
        turn: degrees, counter-clockwise.
        bold: whether.
    """

    place: tuple[float, float]
    text: str
    height: float = 2.2
    layer: Layer = Layer.WORDS
    anchor: str = "start"
    turn: float = 0.0
    bold: bool = False


@dataclass(frozen=True, eq=False)
class Dimension:
    """A measured distance.

    Attributes:
        a, b: mm, the two places.
        off: mm from a-b to the line of the dimension, positive to the left.
        text: what it says.
    """

    a: tuple[float, float]
    b: tuple[float, float]
    off: float
    text: str


@dataclass
class Drawing:
    """One sheet.

    Attributes:
        name: of its files.
        title: as the title block has it.
        size: mm, width and height of the paper.
        scale: real size over drawn size.
        items: in the order of drawing.
    """

    name: str
    title: str
    size: tuple[float, float]
    scale: float
    items: list[Stroke | Words | Dimension] = field(
        default_factory=list[Stroke | Words | Dimension]
    )

    def line(
        self, points: Iterable[Place], layer: Layer, width: float = 0.18,
        dash: Dash = Dash.FULL,
    ) -> None:  # fmt: skip
        """Add a line."""
        self.items.append(Stroke(_array(points), layer, width, dash))

    def outline(
        self, points: Iterable[Place], layer: Layer, width: float = 0.18,
        dash: Dash = Dash.FULL, fill: str = "",
    ) -> None:  # fmt: skip
        """Add a closed line."""
        self.items.append(Stroke(_array(points), layer, width, dash, True, fill))

    def box(
        self, low: Place, high: Place, layer: Layer, width: float = 0.18, fill: str = ""
    ) -> None:
        """Add a rectangle."""
        (a, b), (c, d) = low, high
        self.outline([(a, b), (c, b), (c, d), (a, d)], layer, width, fill=fill)

    def say(
        self, place: Place, text: str, height: float = 2.2, anchor: str = "start",
        turn: float = 0.0, layer: Layer = Layer.WORDS, bold: bool = False,
    ) -> None:  # fmt: skip
        """Add words."""
        spot = float(place[0]), float(place[1])
        self.items.append(Words(spot, text, height, layer, anchor, turn, bold))

    def measure(self, a: Place, b: Place, off: float, text: str) -> None:
        """Add a dimension."""
        ends = [(float(p[0]), float(p[1])) for p in (a, b)]
        self.items.append(Dimension(ends[0], ends[1], off, text))


def _array(points: Iterable[Place]) -> Floats:
    """Return places as an array."""
    return np.array([(float(p[0]), float(p[1])) for p in points])


def readable(turn: float) -> float:
    """Return an angle, degrees, at which words read from below or from the right."""
    turn = (turn + 180.0) % 360.0 - 180.0
    if turn > 90.0 + 1e-6:
        return turn - 180.0
    return turn + 180.0 if turn <= -90.0 + 1e-6 else turn
