"""The plan under the roof: where walls and beams stand, and what gaps they have.

Reads the brief alone. South plate at y = 0, north plate at y = width.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..brief.model import Beam, Brief, JoistDirection, Opening, Wall
from ..units import INCH

TOUCH = INCH  # joints nearer than this are one
Place = float | np.ndarray
_HAIR = 1e-9  # m, rounding must not decide what an inch is
_NEAR = TOUCH - _HAIR
_SAME_WAY = 1e-3  # rad between two lines that are taken to be parallel
OUTER = ("SOUTH", "NORTH", "WEST", "EAST")
_BESIDE = 3 * INCH  # a joist this near a rafter is nailed to it


OBLIQUE = 2  # a wall along neither axis
_PARALLEL = 1e-6  # m that the ends of a wall may lie off one axis


@dataclass(frozen=True)
class Line:
    """A wall or beam as a plan segment; beams run along an axis.

    Attributes:
        along: 0 when it runs along the ridge (x), 1 when it runs across (y), `OBLIQUE`
            when at an angle to both.
        at: its place on the other axis; NaN when oblique.
        low, high: its extent along itself, sorted; from 0 at its first point when
            oblique.
        origin: m, plan point at place 0.
        way: unit plan vector along the line, toward greater places.
    """

    along: int
    at: float
    low: float
    high: float
    origin: tuple[float, float]
    way: tuple[float, float]

    def covers(self, u: float) -> bool:
        """Return whether a place along the line lies within its extent."""
        return self.low - _NEAR < u < self.high + _NEAR

    def point(self, u: float) -> tuple[float, float, float]:
        """Return the point on the ceiling line at a place along the line."""
        (x, y), (dx, dy) = self.origin, self.way
        return (x + u * dx, y + u * dy, 0.0)

    def place(self, x: float, y: float) -> tuple[float, float]:
        """Return the place along the line beside a plan point, and how far aside."""
        gap, (dx, dy) = (x - self.origin[0], y - self.origin[1]), self.way
        return gap[0] * dx + gap[1] * dy, gap[1] * dx - gap[0] * dy

    def crossed(self, axis: int, mark: float) -> tuple[float, float] | None:
        """Return where what runs along an axis crosses the line.

        Args:
            axis: 0 for what runs along the ridge, 1 across it.
            mark: its place on the other axis, m.

        Returns:
            Its place along that axis, and that along the line; None where the two run
            the same way.
        """
        way = self.way[1 - axis]
        if abs(way) < _SAME_WAY:
            return None
        u = (mark - self.origin[1 - axis]) / way
        return self.origin[axis] + u * self.way[axis], u


def in_one_place(a: Place, b: Place) -> Any:  # noqa: ANN401
    """Return whether two settled places are one; an inch apart they are two.

    Element by element where the places are arrays; so does ``beside``.
    """
    return abs(a - b) < _NEAR


def beside(a: Place, b: Place) -> Any:  # noqa: ANN401
    """Return whether what stands at one place still bears on what is at the other."""
    return abs(a - b) <= TOUCH + _HAIR


def between(low: float, place: float, high: float) -> bool:
    """Return whether a place lies between two others and beside neither."""
    return low < place < high and not (beside(low, place) or beside(place, high))


def line_of(item: Wall | Beam) -> Line:
    """Return the plan line of a wall or a beam."""
    (x, y), (x1, y1) = item.start, item.end
    dx, dy = abs(x1 - x), abs(y1 - y)
    if min(dx, dy) > _PARALLEL:
        length = float(np.hypot(dx, dy))
        way = ((x1 - x) / length, (y1 - y) / length)
        return Line(OBLIQUE, float("nan"), 0.0, length, (x, y), way)
    along = 0 if dx > dy else 1
    low, high = sorted((item.start[along], item.end[along]))
    at = item.start[1 - along]
    if along == 0:
        return Line(0, at, low, high, (0.0, at), (1.0, 0.0))
    return Line(1, at, low, high, (at, 0.0), (0.0, 1.0))


def gap_of(wall: Wall, opening: Opening) -> tuple[float, float]:
    """Return one gap of a wall as an interval along its axis, m."""
    line = line_of(wall)
    if line.along == OBLIQUE:
        return opening.start, opening.end
    if wall.end[line.along] > wall.start[line.along]:
        return line.low + opening.start, line.low + opening.end
    return line.high - opening.end, line.high - opening.start


def gaps_of(wall: Wall) -> list[tuple[float, float]]:
    """Return the gaps of a wall as intervals along its axis, m."""
    return sorted(gap_of(wall, opening) for opening in wall.openings)


def wall_stands_at(wall: Wall, u: float) -> bool:
    """Return whether the wall has studs under a place along its axis."""
    return line_of(wall).covers(u) and not any(
        between(low, u, high) for low, high in gaps_of(wall)
    )


def wall_owner(wall: Wall) -> str:
    """Return the support owner of a wall."""
    return f"W-{wall.name}"


def bearing_under(brief: Brief, x: float, y: float) -> str | None:
    """Return the owner of a bearing wall that stands under a plan point, or None."""
    size = brief.footprint
    outer = {
        "W-SOUTH": abs(y),
        "W-NORTH": abs(y - size.width),
        "W-WEST": abs(x),
        "W-EAST": abs(x - size.length),
    }
    for owner, distance in outer.items():
        if beside(distance, 0.0):
            return owner
    for wall in brief.walls:
        line = line_of(wall)
        u, aside = line.place(x, y)
        if wall.bearing and beside(aside, 0.0) and wall_stands_at(wall, u):
            return wall_owner(wall)
    return None


def stations(length: float, spacing: float) -> np.ndarray:
    """Return layout stations from 0 at a spacing, the last one at the far end, m.

    A rest shorter than an inch is taken up by the last spacing.
    """
    count = int(np.floor((length + 1e-9) / spacing))
    marks = spacing * np.arange(count + 1)
    if length - marks[-1] > INCH:
        marks = np.append(marks, length)
    marks[-1] = length
    return marks


def joist_marks(brief: Brief, rafters: np.ndarray, ends: np.ndarray) -> np.ndarray:
    """Return the stations of the ceiling joists, m: beside rafters that are near.

    Args:
        brief: as stated.
        rafters: stations of the rafters of the long sides, m.
        ends: those of the rafters of hip ends, m; none for gables.
    """
    joists, size = brief.ceiling_joists, brief.footprint
    if joists is None:
        return np.zeros(0)
    if joists.direction is not JoistDirection.ACROSS:
        return _beside_rafters(stations(size.width, joists.spacing)[1:-1], ends)
    return _beside_rafters(stations(size.length, joists.spacing), rafters)


def _beside_rafters(marks: np.ndarray, rafters: np.ndarray) -> np.ndarray:
    """Return marks, those a few inches from a rafter moved to it.

    Where rafters of two ends stand nearer to each other than joints can be, the mark
    is moved an inch beyond them, away from the middle: it cannot be beside both.
    """
    if not len(rafters) or not len(marks):
        return marks
    near = rafters[np.abs(rafters[None, :] - marks[:, None]).argmin(axis=1)]
    apart = np.abs(rafters[None, :] - near[:, None])
    twice = ((apart > _HAIR) & (apart < _NEAR)).any(axis=1)
    outward = np.where(near > (rafters[0] + rafters[-1]) / 2, 1.0, -1.0)
    group = np.where(apart < _NEAR, outward[:, None] * rafters, -np.inf).max(axis=1)
    near = np.where(twice, outward * (group + TOUCH), near)
    return np.unique(np.where(np.abs(near - marks) <= _BESIDE + _HAIR, near, marks))
