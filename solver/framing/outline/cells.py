"""The convex parts of a plan, cut apart across the mouths of its wings.

At every inside corner one of the two walls there is carried on across the plan, the way
that makes the shorter cut. Each part gets ceiling joists of one direction.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .plan import Edge

Floats = NDArray[np.float64]
_NEAR = 1e-6
_TURN = 2e-3  # rad


@dataclass(frozen=True, eq=False)
class Cell:
    """A convex part of the plan.

    Attributes:
        polygon: (n, 2) m, counter-clockwise.
        sides: by side of the polygon, the name of the outline's side that it lies on,
            None across a mouth.
    """

    polygon: Floats
    sides: tuple[str | None, ...]

    def chord(self, way: Floats, mark: float) -> tuple[float, float, int, int] | None:
        """Return where a line across the cell starts and ends, and on which sides.

        Args:
            way: (2,) unit, along the line; its normal is turned right from it.
            mark: m, of the line along that normal.

        Returns:
            Low and high along the way, and the numbers of the two sides; None where
            the line misses the cell.
        """
        normal = normal_of(way)
        s, v = self.polygon @ normal, self.polygon @ way
        mark = min(max(mark, float(s.min()) + _NEAR), float(s.max()) - _NEAR)
        ends = []
        for n in range(len(s)):
            m = (n + 1) % len(s)
            if min(s[n], s[m]) <= mark < max(s[n], s[m]):
                part = (mark - s[n]) / (s[m] - s[n])
                ends.append((float(v[n] + (v[m] - v[n]) * part), n))
        if len(ends) != 2:
            return None
        (low, first), (high, last) = sorted(ends)
        return low, high, first, last

    def covered(self, start: Floats, way: Floats, length: float) -> float:
        """Return how much of a plan line lies over the cell, m."""
        low, high = 0.0, length
        for a, b in zip(self.polygon, np.roll(self.polygon, -1, axis=0), strict=True):
            inward = np.array([a[1] - b[1], b[0] - a[0]])
            gap, rate = float((start - a) @ inward), float(way @ inward)
            if abs(rate) < 1e-12 * float(np.hypot(*inward)):
                if gap < -_NEAR * float(np.hypot(*inward)):
                    return 0.0
            elif rate > 0:
                low = max(low, -gap / rate)
            else:
                high = min(high, -gap / rate)
        return max(0.0, high - low)

    def extent(self, way: Floats) -> tuple[float, float]:
        """Return the least and largest place along a direction, m."""
        s = self.polygon @ way
        return float(s.min()), float(s.max())

    def longest(self, way: Floats) -> float:
        """Return the longest line across the cell in a direction, m."""
        marks = self.polygon @ normal_of(way)
        chords = [self.chord(way, float(mark)) for mark in marks]
        return max((c[1] - c[0] for c in chords if c is not None), default=0.0)


def normal_of(way: Floats) -> Floats:
    """Return the unit vector that marks of lines along a way are measured on.

    It points east, or north where it has no way east.
    """
    normal = np.array([way[1], -way[0]])
    ahead = normal[1] > 0 if abs(normal[0]) < 1e-9 else normal[0] > 0
    return normal if ahead else -normal


def cells_of(edges: tuple[Edge, ...]) -> list[Cell]:
    """Return the convex parts of an outline, those of the first sides first."""
    whole = Cell(
        np.array([edge.start for edge in edges]), tuple(edge.name for edge in edges)
    )
    open_cells, done = [whole], []
    while open_cells:
        cell = open_cells.pop(0)
        parts = _parted(cell)
        if parts is None:
            done.append(cell)
        else:
            open_cells = [*parts, *open_cells]
    return done


def _parted(cell: Cell) -> tuple[Cell, Cell] | None:
    """Return the two parts of a cell on either side of its shortest cut, or None."""
    points, count = cell.polygon, len(cell.polygon)
    best: tuple[float, int, int, Floats] | None = None
    for n in range(count):
        before, after = points[n] - points[n - 1], points[(n + 1) % count] - points[n]
        before, after = before / np.hypot(*before), after / np.hypot(*after)
        if before[0] * after[1] - before[1] * after[0] > -_TURN:
            continue
        for way in (before, -after):
            hit = _hit(points, n, way)
            if hit is not None and (best is None or hit[0] < best[0] - _NEAR):
                best = (hit[0], n, hit[1], hit[2])
    if best is None:
        return None
    _, n, side, point = best
    return _part(cell, n, side, point), _part_other(cell, n, side, point)


def _hit(points: Floats, n: int, way: Floats) -> tuple[float, int, Floats] | None:
    """Return distance, side and place where a line from a corner first meets a side."""
    count, origin = len(points), points[n]
    best: tuple[float, int, Floats] | None = None
    for k in range(count):
        if k in (n, (n - 1) % count):
            continue
        a, b = points[k], points[(k + 1) % count]
        side = b - a
        det = way[0] * side[1] - way[1] * side[0]
        if abs(det) < 1e-9 * float(np.hypot(*side)):
            continue
        gap = a - origin
        far = float(gap[0] * side[1] - gap[1] * side[0]) / float(det)
        part = float(gap[0] * way[1] - gap[1] * way[0]) / float(det)
        slack = _NEAR / float(np.hypot(*side))
        nearer = best is None or far < best[0] - _NEAR
        if nearer and far > _NEAR and -slack <= part <= 1 + slack:
            best = (far, k, a + side * min(max(part, 0.0), 1.0))
    return best


def _part(cell: Cell, n: int, side: int, point: Floats) -> Cell:
    """Return the part from a corner round to where its cut meets a side."""
    count = len(cell.polygon)
    ring = [(n + k) % count for k in range((side - n) % count + 1)]
    points = [*cell.polygon[ring], point]
    sides = [*(cell.sides[k] for k in ring), None]
    return _tidy(points, sides)


def _part_other(cell: Cell, n: int, side: int, point: Floats) -> Cell:
    """Return the part from where a cut meets a side round to its corner."""
    count = len(cell.polygon)
    ring = [(side + 1 + k) % count for k in range((n - side - 1) % count)]
    points = [point, *cell.polygon[ring], cell.polygon[n]]
    sides = [cell.sides[side], *(cell.sides[k] for k in ring), None]
    return _tidy(points, sides)


def _tidy(points: list[Floats], sides: list[str | None]) -> Cell:
    """Return a cell without sides of no length."""
    keep = [
        k
        for k in range(len(points))
        if np.hypot(*(points[(k + 1) % len(points)] - points[k])) > _NEAR
    ]
    return Cell(np.array([points[k] for k in keep]), tuple(sides[k] for k in keep))
