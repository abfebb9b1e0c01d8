"""Feet moved to a bearing wall that is there: purlin line moved to where it works."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ..audit.zone import ZoneStrip
from ..basis.nds.compression import SLENDERNESS_LIMIT
from ..basis.sections import section
from ..brief.braces import purlin_plan
from ..brief.model import Brief, Foot, FootOn, RoofForm
from ..framing.plan import line_of
from ..framing.struts import all_struts
from ..solve import Solution
from ..units import INCH, show_length
from .firmer import HELD, with_firmer_struts, with_struts
from .model import Ladder, RemedyKind, Rung
from .rows import FootRow, foot_rows, with_feet

_CLEAR = 0.5 * INCH  # inside the zone, so that cutting tolerance does not break it
_BEYOND_DOUBT = 1.0  # of le/d, that no small shift of a joint takes back
_OUTER = ("W-SOUTH", "W-NORTH")


@dataclass(frozen=True)
class _Move:
    """A row of struts, and the wall and purlin place that it goes to.

    Attributes:
        held: the rule asks for a lateral brace at mid-length there, over 8 ft.
    """

    row: FootRow
    wall: str
    from_plate: float
    held: bool


def propose(before: Solution) -> list[Ladder]:
    """Return the struts on the nearest bearing walls, 45 degrees or steeper."""
    rows = foot_rows(before)
    if not rows or before.brief.roof.form is not RoofForm.GABLE:
        return []
    moves = [_nearest(before, row) for row in rows]
    found = [move for move in moves if move is not None]
    if len(found) < len(rows):
        return []
    units = before.brief.units
    places = ", ".join(
        f"{m.row.purlin} to {show_length(m.from_plate, units)} from its plate"
        for m in found
    )
    moved = _moved(before.brief, found)
    return [
        Ladder(
            kind=RemedyKind.FEET,
            key="feet-to-wall",
            title="Feet moved to a bearing wall",
            build=(
                f"Move purlin line {places}, and stand its struts on the bearing "
                "wall, {size}."
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
    best: tuple[float, _Move] | None = None
    for strip in before.zone:
        reaches = strip.start <= row.x[0] + 1e-6 and strip.end >= row.x[-1] - 1e-6
        if strip.slope != side or strip.wall in _OUTER or not reaches:
            continue
        place = _legal_place(strip, now)
        if place is None or (best is not None and abs(place - now) >= best[0]):
            continue
        move = _Move(
            row=row,
            wall=strip.wall.removeprefix("W-"),
            from_plate=place,
            held=strip.nearest is None,
        )
        best = abs(place - now), move
    return None if best is None else best[1]


def _legal_place(strip: ZoneStrip, now: float) -> float | None:
    """Return where braces of a purlin reach a wall by the rule, the nearest to now, m.

    Without a lateral brace where there is such a place, with one otherwise.
    """
    if strip.nearest is not None and strip.farthest is not None:
        low, high = strip.nearest + _CLEAR, strip.farthest - _CLEAR
        return min(max(now, low), high) if low <= high else None
    if strip.nearest_any_length is None:
        return None
    return max(now, strip.nearest_any_length + _CLEAR)


def _moved(brief: Brief, moves: list[_Move]) -> Brief:
    """Return the brief with purlins and feet at their new places."""
    place = {m.row.purlin: m.from_plate for m in moves}
    purlins = tuple(
        replace(p, from_plate=place[p.name], height=None) if p.name in place else p
        for p in brief.purlins
    )
    feet = [Foot(on=FootOn.WALL, name=m.wall) for m in moves]
    return with_feet(replace(brief, purlins=purlins), [m.row for m in moves], feet)


def _rungs(moved: Brief, moves: list[_Move]) -> list[Rung]:
    """Return the struts as they are, held at mid-length, stiffened, then thicker."""
    parts = {m.row.part for m in moves}
    long = [m.row.part for m in moves if m.held]
    base = with_struts(moved, long, {"held_at_mid": True})
    first = HELD if long else "as they are"
    firmer = [
        Rung(size=f"{HELD}, {words}" if long else words, brief=brief)
        for words, _, brief in with_firmer_struts(base, parts)
    ]
    if not long and _too_slender(moved, moves):
        return firmer
    return [Rung(size=first, brief=base), *firmer]


def _too_slender(moved: Brief, moves: list[_Move]) -> bool:
    """Return whether moved struts are more slender than the code allows at any load.

    Source: le/d of 50 at most, NDS 2018 3.7.1.4. Held or stiffened ones are left to the
    checks of the roof.
    """
    walls = {w.name: line_of(w) for w in moved.walls}
    for move in moves:
        group, wall = all_struts(moved)[move.row.part], walls[move.wall]
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
