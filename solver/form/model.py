"""The roof form as frozen values: planes, walls, lines and nodes.

A form is read, never changed. Plan coordinates x, y and heights z in m.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .inside import following, plane_under
from .spec import EdgeSpec, Tier

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

__all__ = [
    "EdgeSpec",
    "LineKind",
    "Outline",
    "RoofForm",
    "RoofLine",
    "RoofPlane",
    "RoofWall",
    "Tier",
]


class LineKind(StrEnum):
    """What a framer calls a line where planes and walls meet."""

    EAVE = "eave"  # a plane starts at a plate
    RIDGE = "ridge"  # two planes fall away from each other, along their length
    HIP = "hip"  # two planes fall away from an outside corner
    VALLEY = "valley"  # two planes fall toward each other
    BREAK = "pitch break"  # the same side goes on at another pitch
    RAKE = "rake"  # a plane ends over a gable wall
    ABUTMENT = "abutment"  # a plane ends at the foot of a wall that rises above it
    CORNER = "corner"  # two plumb walls meet
    PLATE = "plate"  # the foot of a gable wall


@dataclass(frozen=True, eq=False)
class Outline:
    """A simple plan polygon, counter-clockwise.

    Attributes:
        polygon: (n, 2) m. Edge i runs from point i to point i + 1.
        given: (n,) the index that each edge had in what was stated.
    """

    polygon: Floats
    given: Ints

    @property
    def area(self) -> float:
        """Return the area, m2."""
        return polygon_area(self.polygon)

    @property
    def perimeter(self) -> float:
        """Return the length all round, m."""
        sides = following(self.polygon) - self.polygon
        return float(np.hypot(*sides.T).sum())


@dataclass(frozen=True, eq=False)
class RoofPlane:
    """One plane of the roof.

    Attributes:
        edges: indices of the outline's edges whose eaves lie in this plane.
        tier: 0 at the plate, 1 after the first change of pitch, ...
        pitch: rise over run.
        nodes: (k,) node ids round the plane, counter-clockwise in plan.
        polygon3: (k, 3) m, the same as points; above the outline only.
        overhang3: (m, 3) m, the plane with its overhangs.
        normal: (3,) unit, upward.
        uphill: (2,) unit plan direction of steepest rise.
        eaves: ids of its eave lines.
    """

    edges: tuple[int, ...]
    tier: int
    pitch: float
    nodes: Ints
    polygon3: Floats
    overhang3: Floats
    normal: Floats
    uphill: Floats
    eaves: tuple[int, ...] = ()

    @property
    def polygon(self) -> Floats:
        """Return the plan polygon, (k, 2) m, counter-clockwise."""
        return self.polygon3[:, :2]

    @cached_property
    def plan_area(self) -> float:
        """Return the area projected on plan, without overhang, m2."""
        return polygon_area(self.polygon)

    @property
    def slope_area(self) -> float:
        """Return the area on the slope, without overhang, m2."""
        return self.plan_area * float(np.sqrt(1 + self.pitch**2))

    def height(self, x: ArrayLike, y: ArrayLike) -> Floats:
        """Return the height of the unbounded plane over plan points, m."""
        px, py, pz = self.polygon3[0]
        rise = (np.asarray(x) - px) * self.uphill[0] + (np.asarray(y) - py) * (
            self.uphill[1]
        )
        return np.asarray(pz + self.pitch * rise, dtype=np.float64)


@dataclass(frozen=True, eq=False)
class RoofWall:
    """A plumb wall face under or between roof planes.

    Attributes:
        edge: index of the outline's edge in whose plumb plane it stands.
        tier: of that edge; -1 for the wall under a plate above the datum.
        nodes: (k,) node ids round the face, counter-clockwise seen from outside.
        polygon3: (k, 3) m, the same as points.
    """

    edge: int
    tier: int
    nodes: Ints
    polygon3: Floats


@dataclass(frozen=True, eq=False)
class RoofLine:
    """A straight line where two faces meet, or a face meets the outline.

    Attributes:
        kind: what a framer calls it.
        start, end: (3,) m; the lower end first.
        start_node, end_node: node ids.
        planes: ids of the one or two planes that meet here, the one on the left of the
            way from start to end first; none at a corner of walls.
        wall: id of the wall face, or None; at a corner the first of the two.
        edge: the outline edge that the line lies on, or None.
    """

    kind: LineKind
    start: Floats
    end: Floats
    start_node: int
    end_node: int
    planes: tuple[int, ...]
    wall: int | None = None
    edge: int | None = None

    @property
    def length(self) -> float:
        """Return the true length, m."""
        return float(np.linalg.norm(self.end - self.start))

    @property
    def run(self) -> float:
        """Return the length on plan, m."""
        return float(np.hypot(*(self.end - self.start)[:2]))

    @property
    def rise(self) -> float:
        """Return the height of the end above the start, m."""
        return float(self.end[2] - self.start[2])


@dataclass(frozen=True, eq=False)
class RoofForm:
    """The whole form over one outline.

    Attributes:
        outline: the plan.
        edges: what is stated of each edge, in the order of the outline.
        nodes: (N, 3) m, the points where lines meet; the outline's points come first.
        planes, walls, lines: the faces, and where they meet.
    """

    outline: Outline
    edges: tuple[EdgeSpec, ...]
    nodes: Floats
    planes: tuple[RoofPlane, ...]
    walls: tuple[RoofWall, ...]
    lines: tuple[RoofLine, ...]

    def of_kind(self, *kinds: LineKind) -> tuple[RoofLine, ...]:
        """Return the lines of the given kinds."""
        return tuple(line for line in self.lines if line.kind in kinds)

    @cached_property
    def ridges(self) -> tuple[RoofLine, ...]:
        """Return the ridges."""
        return self.of_kind(LineKind.RIDGE)

    @cached_property
    def hips(self) -> tuple[RoofLine, ...]:
        """Return the hips."""
        return self.of_kind(LineKind.HIP)

    @cached_property
    def valleys(self) -> tuple[RoofLine, ...]:
        """Return the valleys."""
        return self.of_kind(LineKind.VALLEY)

    @cached_property
    def eaves(self) -> tuple[RoofLine, ...]:
        """Return the eaves, at the plate lines."""
        return self.of_kind(LineKind.EAVE)

    @cached_property
    def rakes(self) -> tuple[RoofLine, ...]:
        """Return the rakes, at the gable walls."""
        return self.of_kind(LineKind.RAKE)

    @property
    def plan_area(self) -> float:
        """Return the area of all planes projected on plan, m2."""
        return sum(plane.plan_area for plane in self.planes)

    @property
    def slope_area(self) -> float:
        """Return the area of all planes on the slope, without overhang, m2."""
        return sum(plane.slope_area for plane in self.planes)

    @property
    def area_error(self) -> float:
        """Return how far the planes' plan area is off the outline's, relative."""
        return abs(self.plan_area / self.outline.area - 1)

    @property
    def unreached(self) -> tuple[tuple[int, int], ...]:
        """Return (edge, tier) of every stated change of pitch that the roof ends below.

        An edge between two points of one straight line counts with its neighbour.
        """
        reached = {(e, p.tier) for p in self.planes for e in p.edges}
        reached |= {(w.edge, w.tier) for w in self.walls}
        return tuple(
            (edge, tier)
            for edge, spec in enumerate(self.edges)
            for tier in range(1, len(spec.profile))
            if (edge, tier) not in reached
        )

    def plane_at(self, x: ArrayLike, y: ArrayLike) -> Ints:
        """Return the id of the plane over each plan point, or -1 outside.

        Args:
            x: m.
            y: m, broadcastable against x.

        Returns:
            Broadcast shape. A point on a line gets one of the planes that meet there.
        """
        return plane_under([p.polygon for p in self.planes], x, y)

    def height_at(self, x: ArrayLike, y: ArrayLike) -> Floats:
        """Return the height of the roof over each plan point, m; NaN outside.

        Args:
            x: m.
            y: m, broadcastable against x.

        Returns:
            Broadcast shape. On a wall within the roof, the foot or the top of it.
        """
        x, y = np.broadcast_arrays(
            np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
        )
        found = self.plane_at(x, y)
        height = np.full(found.shape, np.nan)
        for index, plane in enumerate(self.planes):
            here = found == index
            height[here] = plane.height(x[here], y[here])
        return height


def polygon_area(polygon: Floats) -> float:
    """Return the signed area of a plan polygon, m2, counter-clockwise positive."""
    x, y = (polygon - polygon[0]).T
    return float(0.5 * np.sum(x * following(y) - following(x) * y))
