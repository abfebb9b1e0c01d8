"""A main rectangle with wings, each of its own width, plate height and pitches.

Draws the outline of them all and hands it to the general method: a lower wing's roof
dies into the main wall or roof, a higher wing's walls stand up out of the main roof.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..errors import BriefError
from .model import RoofForm
from .polygon import roof_from_outline
from .spec import EdgeSpec

FLUSH = 1e-6
SIDES = ("south", "east", "north", "west")


@dataclass(frozen=True)
class Wing:
    """A rectangle built against one side of the main one.

    Attributes:
        side: of the main rectangle, 0 south, 1 east, 2 north, 3 west.
        start: plan distance of the wing from the side's start (counter-clockwise), m.
        width: along the side, m.
        length: how far it stands out, m.
        near, far: specs of its two flanks, the one nearer the side's start first.
        end: spec of its outer end.
    """

    side: int
    start: float
    width: float
    length: float
    near: EdgeSpec
    far: EdgeSpec
    end: EdgeSpec


def winged_roof(
    length: float, width: float, main: Sequence[EdgeSpec], wings: Sequence[Wing]
) -> RoofForm:
    """Return the roof over the rectangle from (0, 0) to (length, width) and its wings.

    Args:
        length: of the main rectangle, along x, m.
        width: of the main rectangle, along y, m.
        main: specs of its south, east, north and west sides.
        wings: they may not overlap; a wing may be flush with a corner if the walls
            that then make one line have one roof.

    Raises:
        BriefError: naming the wing or the field.
        FramingError: no closed roof comes of it.
    """
    if len(main) != 4:
        raise BriefError("main", len(main), "four specs: south, east, north, west")
    points: list[np.ndarray] = []
    specs: list[EdgeSpec] = []
    corners = np.array([(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)])
    order = sorted(range(len(wings)), key=lambda i: wings[i].start)
    for side in range(4):
        corner, following = corners[side], corners[(side + 1) % 4]
        size = float(np.hypot(*(following - corner)))
        forth = (following - corner) / size
        out = np.array([forth[1], -forth[0]])
        points.append(corner)
        specs.append(main[side])
        reached = 0.0
        for index in (i for i in order if wings[i].side == side):
            wing = wings[index]
            _check(wing, f"wings[{index}]", reached, size)
            reached = wing.start + wing.width
            foot = corner + wing.start * forth, corner + reached * forth
            tip = [point + wing.length * out for point in foot]
            points += [foot[0], tip[0], tip[1], foot[1]]
            specs += [wing.near, wing.end, wing.far, main[side]]
    keep = [
        i
        for i, point in enumerate(points)
        if np.hypot(*(points[(i + 1) % len(points)] - point)) > FLUSH
    ]
    return roof_from_outline([points[i] for i in keep], [specs[i] for i in keep])


def _check(wing: Wing, field: str, reached: float, size: float) -> None:
    """Refuse a wing that does not fit on its side."""
    for name in ("width", "length"):
        value = getattr(wing, name)
        if not (np.isfinite(value) and value > FLUSH):
            raise BriefError(f"{field}.{name}", value, "a length above 0")
    if not (reached <= wing.start and wing.start + wing.width <= size + FLUSH):
        raise BriefError(
            f"{field}.start",
            wing.start,
            f"a place from {reached:g} m on such that the wing ends within {size:g} m",
            "Wings may not overlap.",
        )
