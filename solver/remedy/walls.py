"""A bearing wall under the feet of the struts, down to a footing or girder."""

from __future__ import annotations

import math
from dataclasses import replace

from ..brief.model import Brief, Foot, FootOn, OverWalls, Wall
from ..brief.outline import is_outline, within
from ..solve import Solution
from ..units import FOOT
from .model import Ladder, RemedyKind, Rung
from .rows import FootRow, Place, foot_rows, fresh, with_feet
from .stock import about

_BEYOND = 1 * FOOT  # the wall goes so far past its last foot
_STEPS = 12  # in which it stops short of the end of the house
STOPS = (
    "It stops the sag and does not lift it: about half of what has crept in stays, and "
    "lifting takes jacks, time and an eye on the finishes above and below."
)


def propose(before: Solution) -> list[Ladder]:
    """Return the wall under every row of feet that stands on ceiling joists."""
    rows = foot_rows(before)
    if not rows:
        return []
    return [
        Ladder(
            kind=RemedyKind.WALL,
            key="bearing-wall",
            title="Bearing wall under the feet",
            build=(
                "Build {size} straight under the strut feet, studs under each foot, "
                "up tight to the joists; the joists run over it uncut."
            ),
            rungs=(under_feet(before, rows),),
            leaves=(
                STOPS,
                "It does not carry itself: the floor under a new wall has to be a "
                "girder, a footing or a wall again, and that was not checked here.",
                "It divides the room below.",
            ),
            engineer=("What stands under the new wall has to be found and checked.",),
        )
    ]


def under_feet(before: Solution, rows: list[FootRow]) -> Rung:
    """Return the brief with a wall under each straight line of feet."""
    brief: Brief = before.brief
    feet: list[Foot] = []
    walls: list[Wall] = list(brief.walls)
    for row in rows:
        for line in row.lines:
            name = fresh(f"new {row.purlin}", (w.name for w in walls))
            start, end = _ends(brief, line)
            walls.append(
                Wall(name=name, start=start, end=end, joists=OverWalls.CONTINUOUS)
            )
        one = len(row.lines) == 1
        feet.append(
            Foot(on=FootOn.WALL, name=walls[-1].name)
            if one
            else Foot(on=FootOn.NEAREST_WALL)
        )
    made = walls[len(brief.walls) :]
    total = sum(math.dist(w.start, w.end) for w in made)
    many = "a bearing wall" if len(made) == 1 else f"{len(made)} bearing walls"
    return Rung(
        size=f"{many}, {about(total, brief.units)} in all",
        brief=with_feet(replace(brief, walls=tuple(walls)), rows, feet),
    )


def _ends(brief: Brief, line: tuple[Place, ...]) -> tuple[Place, Place]:
    """Return the ends of a wall a foot past the ends of a line, within the plan, m."""
    first, last = line[0], line[-1]
    length = math.dist(first, last)
    way = (1.0, 0.0)
    if length > 0:
        way = (last[0] - first[0]) / length, (last[1] - first[1]) / length

    def beyond(point: Place, sign: float) -> Place:
        """Return the farthest place past a foot that lies within the plan."""
        for part in range(_STEPS, 0, -1):
            far = sign * _BEYOND * part / _STEPS
            at = point[0] + far * way[0], point[1] + far * way[1]
            if _inside(brief, *at):
                return at
        return point

    return beyond(first, -1.0), beyond(last, 1.0)


def _inside(brief: Brief, x: float, y: float) -> bool:
    """Return whether a place lies within the plan."""
    if is_outline(brief):
        return within(brief, x, y)
    return 0.0 <= x <= brief.footprint.length and 0.0 <= y <= brief.footprint.width
