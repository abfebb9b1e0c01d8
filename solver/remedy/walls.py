"""A bearing wall under the feet of the struts, down to a footing or girder."""

from __future__ import annotations

from dataclasses import replace

from ..brief.model import Brief, Foot, FootOn, OverWalls, Wall
from ..solve import Solution
from ..units import FOOT
from .model import Ladder, RemedyKind, Rung
from .rows import FootRow, foot_rows, fresh, with_feet

_BEYOND = 1 * FOOT  # the wall goes so far past its last foot
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
    """Return the brief with a wall under each row."""
    brief: Brief = before.brief
    length = brief.footprint.length
    feet: list[Foot] = []
    walls: list[Wall] = list(brief.walls)
    names: list[str] = []
    for row in rows:
        low, high = row.x[0] - _BEYOND, row.x[-1] + _BEYOND
        name = fresh(f"new {row.purlin}", (w.name for w in walls))
        walls.append(
            Wall(
                name=name,
                start=(max(0.0, low), row.y),
                end=(min(length, high), row.y),
                joists=OverWalls.CONTINUOUS,
            )
        )
        feet.append(Foot(on=FootOn.WALL, name=name))
        names.append(name)
    total = sum(w.end[0] - w.start[0] for w in walls[len(brief.walls) :]) / FOOT
    many = "a bearing wall" if len(names) == 1 else f"{len(names)} bearing walls"
    return Rung(
        size=f"{many}, {total:.0f} ft in all",
        brief=with_feet(replace(brief, walls=tuple(walls)), rows, feet),
    )
