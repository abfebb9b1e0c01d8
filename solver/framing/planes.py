"""Rafter lines laid out on any roof plane: from the eave up-slope, clipped to it.

Receives planes and lines of the form; returns geometry alone. Every rafter lies in its
plane, and its top lies on the line of the form where the plane ends.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..form import LineKind, RoofForm, RoofLine, RoofPlane
from .plan import in_one_place

Floats = NDArray[np.float64]
_NEAR = 1e-6
_TOPS = (LineKind.RIDGE, LineKind.HIP, LineKind.VALLEY)
_SIDES = {(0, 1): "S", (-1, 0): "E", (0, -1): "N", (1, 0): "W"}


@dataclass(frozen=True, eq=False)
class RafterLine:
    """The joint line of a rafter between the plate and where its plane ends.

    Attributes:
        mark: place along the eave, m.
        station: number of the mark in its layout.
        foot, top: (3,) m.
        lines: of the form that meet at the top: one along a hip or a ridge, more
            where they end.
    """

    mark: float
    station: int
    foot: Floats
    top: Floats
    lines: tuple[RoofLine, ...]

    @property
    def is_jack(self) -> bool:
        """Return whether it ends on a hip or a valley short of the ridge."""
        return len(self.lines) == 1 and self.lines[0].kind is not LineKind.RIDGE


def plane_side(plane: RoofPlane) -> str:
    """Return the letter of the side that a plane over a rectangle falls to."""
    x, y = (round(float(v)) for v in plane.uphill)
    return _SIDES[x, y]


def along_of(plane: RoofPlane) -> Floats:
    """Return the unit plan direction of a plane's eave, to the east or the north."""
    x, y = plane.uphill
    along = np.array([y, -x])
    ahead = along[1] > 0 if abs(along[0]) < 1e-9 else along[0] > 0
    return along if ahead else -along


def to_plane(plane: RoofPlane, points: Floats) -> Floats:
    """Return plan points as (along the eave, up-slope on plan), (k, 2) m."""
    points = np.asarray(points, dtype=float)[..., :2]
    up = (points - plane.polygon[0]) @ plane.uphill
    return np.stack([points @ along_of(plane), up], axis=-1)


def lay_rafters(form: RoofForm, plane: RoofPlane, marks: Floats) -> list[RafterLine]:
    """Return the rafters of a plane at the marks that its eave has room for.

    Args:
        form: says what line each rafter ends on.
        plane: one of its planes, whose first edge is an eave.
        marks: (k,) m along the eave, in order; none where a rafter would be shorter
            than an inch on plan.
    """
    found = []
    for station, mark in enumerate(marks.tolist()):
        for low, high in _intervals(to_plane(plane, plane.polygon), mark):
            if in_one_place(high, low):
                continue
            origin = plane.polygon[0]
            base = along_of(plane) * mark
            base = base + plane.uphill * float((origin - base) @ plane.uphill)
            ends = [base + plane.uphill * v for v in (low, high)]
            foot, top = (np.array([*end, float(plane.height(*end))]) for end in ends)
            lines = tuple(line for line in form.of_kind(*_TOPS) if _lies_on(line, top))
            found.append(RafterLine(mark, station, foot, top, lines))
    return found


def _intervals(polygon: Floats, mark: float) -> list[tuple[float, float]]:
    """Return where the line at a mark runs within a polygon, in its second axis."""
    crossings = []
    for (s0, v0), (s1, v1) in zip(polygon, np.roll(polygon, -1, axis=0), strict=True):
        if min(s0, s1) <= mark < max(s0, s1):
            crossings.append(v0 + (v1 - v0) * (mark - s0) / (s1 - s0))
    crossings.sort()
    return list(zip(crossings[::2], crossings[1::2], strict=True))


def _lies_on(line: RoofLine, point: Floats) -> bool:
    """Return whether a point lies on a line of the form, ends included."""
    way = line.end - line.start
    part = float(np.clip((point - line.start) @ way / (way @ way), 0.0, 1.0))
    return bool(np.linalg.norm(line.start + part * way - point) < _NEAR)


def clipped(polygon: Floats, axis: int, low: float, high: float) -> Floats:
    """Return the part of a polygon between two values of one axis, (k, 2).

    Args:
        polygon: (n, 2); where it is not convex the part may touch itself, its area
            is right all the same.
        axis: 0 or 1.
        low: of the part; minus infinity for no bound.
        high: likewise.
    """
    for bound, sign in ((low, 1.0), (high, -1.0)):
        if np.isfinite(bound):
            polygon = _half(polygon, sign * (polygon[:, axis] - bound))
    return polygon


def _half(polygon: Floats, depth: Floats) -> Floats:
    """Return the part of a polygon whose points have a depth of 0 or more."""
    out = []
    for n in range(len(polygon)):
        a, b = polygon[n - 1], polygon[n]
        da, db = depth[n - 1], depth[n]
        if (da < 0) != (db < 0):
            out.append(a + (b - a) * (da / (da - db)))
        if db >= 0:
            out.append(b)
    return np.array(out).reshape(-1, 2)


def area_of(polygon: Floats) -> float:
    """Return the area of a polygon of either turn, m2."""
    if len(polygon) < 3:
        return 0.0
    x, y = polygon.T
    return abs(float(0.5 * np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)))
