"""Where labels go on the screen so that none lies on another.

Pure: pixels in, pixels out. The first of the list matter most and are placed first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_GAP = 4.0  # pixels between labels
# Directions to try around the point, and how far away, in label heights.
_AROUND = ((0, 1), (1, 1), (-1, 1), (1, 0), (-1, 0), (1, -1), (-1, -1), (0, -1))
_FAR = (1.0, 2.2, 3.6, 5.2)


@dataclass(frozen=True)
class Box:
    """A rectangle on the screen, from its lower left corner, in pixels."""

    x: float
    y: float
    width: float
    height: float

    def overlaps(self, other: Box, gap: float = 0.0) -> bool:
        """Return whether two rectangles come nearer than a gap."""
        return not (
            self.x + self.width + gap <= other.x
            or other.x + other.width + gap <= self.x
            or self.y + self.height + gap <= other.y
            or other.y + other.height + gap <= self.y
        )

    def within(self, other: Box) -> bool:
        """Return whether this rectangle lies inside another."""
        return (
            self.x >= other.x
            and self.y >= other.y
            and self.x + self.width <= other.x + other.width
            and self.y + self.height <= other.y + other.height
        )


def place(
    points: Floats,
    sizes: Sequence[tuple[float, float]],
    bounds: Box,
    taken: Sequence[Box] = (),
) -> list[Box | None]:
    """Return a place for every label, None for those that find none.

    Args:
        points: (n, 2) pixels, what each label is about; NaN where it is out of sight.
        sizes: width and height of each label, pixels.
        bounds: all labels lie inside.
        taken: places that are already in use, such as the legend.
    """
    used = list(taken)
    out: list[Box | None] = []
    for point, (width, height) in zip(points, sizes, strict=True):
        found = None
        if np.all(np.isfinite(point)) and _inside(point, bounds):
            found = _free(point, width, height, bounds, used)
        if found is not None:
            used.append(found)
        out.append(found)
    return out


def _inside(point: Floats, bounds: Box) -> bool:
    """Return whether a point lies on the screen."""
    x, y = point
    return (
        bounds.x <= x <= bounds.x + bounds.width
        and bounds.y <= y <= bounds.y + bounds.height
    )


def _free(
    point: Floats, width: float, height: float, bounds: Box, used: Sequence[Box]
) -> Box | None:
    """Return the nearest free place around a point."""
    for far in _FAR:
        for right, up in _AROUND:
            x = point[0] + right * (width / 2 + height * far) - width / 2
            y = point[1] + up * height * far - height / 2
            box = Box(float(x), float(y), width, height)
            if box.within(bounds) and not any(box.overlaps(u, _GAP) for u in used):
                return box
    return None
