"""Ceiling joists, lapped or run through over walls and beams.

A lap over an interior line is a hinge, but it still ties. Where the wall of that line
has a gap and no beam stands in it, the joist ends are loose ends.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from ..basis.sections import section
from ..brief.model import Beam, BeamPlace, CeilingJoists, JoistDirection, OverWalls
from .beams import BEAM_LAYER, beam_key, is_spreader
from .draft import Draft
from .headers import header_over_gap
from .hips import first_clear_joist
from .model import Role, SupportKind
from .plan import beside, between, line_of, wall_owner, wall_stands_at


@dataclass(frozen=True)
class Crossing:
    """An interior line that a joist crosses.

    Attributes:
        at: place along the joist, m.
        owner: support owner of a wall that stands there, or None.
        beam: key of a beam or a header that carries the joist there, or None.
        name: of the wall or beam, for messages.
        lapped: the joists end there, side by side; else one runs through.
    """

    at: float
    owner: str | None
    beam: str | None
    name: str
    lapped: bool


def joist_key(station: int, bay: int) -> str:
    """Return the key of a ceiling joist."""
    return f"CJ-{station:02d}-{bay}"


def add_ceiling_joists(draft: Draft) -> None:
    """Add all ceiling joists, where the brief has any."""
    brief = draft.brief
    joists = brief.ceiling_joists
    if joists is None:
        return
    size = brief.footprint
    if joists.direction is JoistDirection.ACROSS:
        span, axis = size.width, 1
    else:
        span, axis = size.length, 0
    clear = 0.0
    if draft.hip is not None and axis == 1:
        clear = first_clear_joist(draft, section(joists.size).depth)
    for k, mark in enumerate(draft.joist_stations):
        if clear > 0 and min(mark, size.length - mark) < clear - 1e-9:
            continue  # the end rafters pass through there
        _add_line(draft, k, float(mark), span, axis)


def joist_side(draft: Draft, mark: float) -> int:
    """Return which side of its rafter a joist is nailed to: 1 east or north, -1 west.

    Under a hip roof it is the side toward the middle, away from the end rafters.
    """
    if draft.hip is None or mark <= draft.brief.footprint.length / 2:
        return 1
    return -1


def _crossings(draft: Draft, mark: float, span: float, axis: int) -> list[Crossing]:
    """Return the interior lines that a joist line crosses, in order."""
    joists = draft.brief.ceiling_joists
    assert joists is not None
    found: list[Crossing] = []
    for beam in draft.brief.beams:
        line, key = line_of(beam), beam_key(beam.name)
        inside = between(0.0, line.at, span)
        carries = beam.carries_joists and not is_spreader(beam)
        carries = carries and line.along != axis and draft.has(key)
        if not (carries and inside and line.covers(mark)):
            continue
        if not any(beside(c.at, line.at) for c in found):  # else the first has it
            lapped = _cut_at(beam, joists)
            found.append(Crossing(line.at, None, key, beam.name, lapped))
    for wall in draft.brief.walls:
        line = line_of(wall)
        meeting = line.crossed(axis, mark)
        if meeting is None or not wall.bearing or not between(0.0, meeting[0], span):
            continue
        at, u = meeting
        if not line.covers(u) or any(beside(c.at, at) for c in found):
            continue
        stands = wall_stands_at(wall, u)
        owner = wall_owner(wall) if stands else None
        lapped = (wall.joists or joists.over_walls) is OverWalls.LAPPED
        header = None if stands else header_over_gap(draft, wall, u)
        found.append(Crossing(at, owner, header, wall.name, lapped))
    return sorted(found, key=lambda c: c.at)


def _cut_at(beam: Beam, joists: CeilingJoists) -> bool:
    """Return whether joists end at a beam: cut to hang in it, or lapped over it."""
    if beam.place is BeamPlace.FLUSH:
        return True
    if beam.place is BeamPlace.ABOVE:
        return beam.joists is OverWalls.LAPPED
    return (beam.joists or joists.over_walls) is OverWalls.LAPPED


def _add_line(draft: Draft, k: int, mark: float, span: float, axis: int) -> None:
    """Add the joists of one line from outer wall to outer wall."""
    joists = draft.brief.ceiling_joists
    assert joists is not None
    crossings = _crossings(draft, mark, span, axis)
    cuts = [0.0, *(c.at for c in crossings if c.lapped), span]

    def point(u: float) -> tuple[float, float, float]:
        return (mark, u, 0.0) if axis == 1 else (u, mark, 0.0)

    made = section(joists.size)
    for bay, (low, high) in enumerate(pairwise(cuts), start=1):
        aside = made.breadth * (1 if bay % 2 else 2) * joist_side(draft, mark)
        draft.add(
            joist_key(k, bay),
            Role.CEILING_JOIST,
            point(low),
            point(high),
            joists,
            up=(0.0, 0.0, 1.0),
            station=k,
            offset=(
                aside if axis == 1 else 0.0,
                aside if axis == 0 else 0.0,
                made.depth / 2,
            ),
        )
    outer = ("W-SOUTH", "W-NORTH") if axis == 1 else ("W-WEST", "W-EAST")
    for u, bay, owner in ((0.0, 1, outer[0]), (span, len(cuts) - 1, outer[1])):
        key = joist_key(k, bay)
        if draft.has(key):
            node = draft.attach(key, point(u))
            draft.support(node, SupportKind.SEAT, owner, key)
    bay = 1
    for crossing in crossings:
        keys = [joist_key(k, bay)]
        if crossing.lapped:
            bay += 1
            keys.append(joist_key(k, bay))
        _bear(draft, [key for key in keys if draft.has(key)], crossing, point)
    if axis == 1:
        _joint_in_the_middle(draft, k, crossings, span, point)


def _joint_in_the_middle(
    draft: Draft,
    k: int,
    crossings: list[Crossing],
    span: float,
    point,  # noqa: ANN001
) -> None:
    """Give a joist line a joint amid the house, where the ceiling can hold it.

    Where one interior line that carries it lies nearest to the middle, that holds it.
    """
    held = [abs(c.at - span / 2) for c in crossings if c.owner or c.beam]
    if len([away for away in held if not beside(away, min(held))]) == len(held) - 1:
        return
    for bay in range(1, len(crossings) + 2):
        key = joist_key(k, bay)
        if draft.has(key):
            piece = draft.members[key]
            if between(piece.start[1], span / 2, piece.end[1]):
                place = draft.joint_near(key, point(span / 2))
                draft.attach(key, place)


def _bear(draft: Draft, keys: list[str], crossing: Crossing, point) -> None:  # noqa: ANN001
    """Let joists bear where they cross an interior line, or name the loose ends."""
    where = point(crossing.at)
    if crossing.owner is None and crossing.beam is None:
        if crossing.lapped:
            for key in keys:
                reason = f"the joist ends over the gap in wall {crossing.name}"
                draft.loose(key, where, reason)
        return
    for key in keys:
        node = draft.attach(key, where)
        if crossing.owner is not None:
            draft.support(node, SupportKind.BEARING, crossing.owner, key)
        elif crossing.beam is not None:
            lower = draft.attach(crossing.beam, where, BEAM_LAYER)
            if not draft.rests(node):
                draft.contact(key, crossing.beam, node, lower)
