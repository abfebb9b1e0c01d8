"""Feet moved to a bearing wall that is there: purlin line moved to where it works."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ..audit.zone import ZoneStrip
from ..basis.nds.compression import SLENDERNESS_LIMIT
from ..basis.sections import section
from ..brief.braces import purlin_plan
from ..brief.model import Brief, Foot, FootOn, RoofForm, Struts
from ..framing.plan import line_of
from ..solve import Solution
from ..units import INCH, show_length
from .model import Ladder, RemedyKind, Rung
from .rows import FootRow, foot_rows, with_feet

_CLEAR = 0.5 * INCH  # inside the zone, so that cutting tolerance does not break it
_BEYOND_DOUBT = 1.0  # of le/d, that no small shift of a joint takes back
_OUTER = ("W-SOUTH", "W-NORTH")


@dataclass(frozen=True)
class _Move:
    """A row of struts, and the wall and purlin place that it goes to."""

    row: FootRow
    wall: str
    from_plate: float


def propose(before: Solution) -> list[Ladder]:
    """Return the struts on the nearest bearing walls, 45 degrees or steeper."""
    rows = foot_rows(before)
    if not rows or before.brief.roof.form is not RoofForm.GABLE:
        return []
    moves = [_nearest(before, row) for row in rows]
    found = [move for move in moves if move is not None]
    if len(found) < len(rows):
        return []
    places = ", ".join(
        f"{m.row.purlin} to {show_length(m.from_plate)} from its plate" for m in found
    )
    moved = _moved(before.brief, found)
    return [
        Ladder(
            kind=RemedyKind.FEET,
            key="feet-to-wall",
            title="Feet moved to a bearing wall",
            build=(
                f"Move purlin line {places}, and stand its struts on the bearing wall "
                "{size}."
            ),
            rungs=tuple(_rungs(moved, found)),
            leaves=(
                "It lifts nothing: joists that have sagged under the old feet stay so "
                "until they are jacked.",
                "The rafters span farther below the purlin's new place.",
                "Leaning struts push sideways on the wall they stand on.",
            ),
        )
    ]


def _nearest(before: Solution, row: FootRow) -> _Move | None:
    """Return the legal place nearest to where a row holds its purlin now."""
    brief = before.brief
    purlin = next(p for p in brief.purlins if p.name == row.purlin)
    side = purlin.slope.value[0].upper()
    now = purlin_plan(brief, purlin)
    best: tuple[float, ZoneStrip, float] | None = None
    for strip in before.zone:
        reaches = strip.start <= row.x[0] + 1e-6 and strip.end >= row.x[-1] - 1e-6
        if strip.slope != side or strip.wall in _OUTER or not reaches:
            continue
        if strip.nearest is None or strip.farthest is None:
            continue
        low, high = strip.nearest + _CLEAR, strip.farthest - _CLEAR
        if low > high:
            continue
        place = min(max(now, low), high)
        if best is None or abs(place - now) < best[0]:
            best = abs(place - now), strip, place
    if best is None:
        return None
    return _Move(row=row, wall=best[1].wall.removeprefix("W-"), from_plate=best[2])


def _moved(brief: Brief, moves: list[_Move]) -> Brief:
    """Return the brief with purlins and feet at their new places."""
    place = {m.row.purlin: m.from_plate for m in moves}
    purlins = tuple(
        replace(p, from_plate=place[p.name], height=None) if p.name in place else p
        for p in brief.purlins
    )
    feet = {m.row.part: Foot(on=FootOn.WALL, name=m.wall) for m in moves}
    return with_feet(replace(brief, purlins=purlins), feet)


def _rungs(moved: Brief, moves: list[_Move]) -> list[Rung]:
    """Return the struts as they are, held at mid-length, stiffened, then thicker."""
    parts = {m.row.part for m in moves}

    def changed(**fields: object) -> Brief:
        struts: tuple[Struts, ...] = tuple(
            replace(s, **fields) if n in parts else s  # type: ignore[arg-type]
            for n, s in enumerate(moved.struts)
        )
        return replace(moved, struts=struts)

    rungs = [
        Rung(
            size="held at mid-length by a runner from strut to strut",
            brief=changed(held_at_mid=True),
        ),
        Rung(
            size="each with a second piece nailed on as a T",
            brief=changed(stiffener=True),
        ),
        Rung(size="of 4x4", brief=changed(size="4x4", grade="No.2")),
    ]
    as_they_are = (
        [] if _too_slender(moved, moves) else [Rung(size="as they are", brief=moved)]
    )
    return [*as_they_are, *(r for r in rungs if r.brief != moved)]


def _too_slender(moved: Brief, moves: list[_Move]) -> bool:
    """Return whether moved struts are more slender than the code allows at any load.

    Source: le/d of 50 at most, NDS 2018 3.7.1.4. Held or stiffened ones are left to the
    checks of the roof.
    """
    walls = {w.name: line_of(w) for w in moved.walls}
    for move in moves:
        group, wall = moved.struts[move.row.part], walls[move.wall]
        if group.held_at_mid or group.stiffener or wall.along != 0:
            continue
        from_plate = move.from_plate
        south = abs(from_plate - wall.at)
        north = abs(moved.footprint.width - from_plate - wall.at)
        is_south = move.row.y < moved.footprint.width / 2
        reach = math.hypot(south if is_south else north, moved.roof.pitch * from_plate)
        thin = section(group.size, group.plies).breadth * group.plies
        if reach / thin > SLENDERNESS_LIMIT + _BEYOND_DOUBT:
            return True
    return False
