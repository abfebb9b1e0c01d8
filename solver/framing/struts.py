"""Struts (purlin braces) at their spacing, and what their feet stand on."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

import numpy as np

from ..basis.sections import section
from ..brief.braces import purlin_plan, purlin_reach, strut_count
from ..brief.model import (
    Beam,
    Brief,
    Foot,
    FootOn,
    HipBrace,
    JoistDirection,
    Purlin,
    Struts,
    Wall,
)
from ..brief.purlin_parts import Strut
from ..units import FOOT
from .beams import BEAM_LAYER, beam_key
from .ceiling_joists import joist_key
from .common_rafters import roof_point
from .draft import MAIN, Draft
from .headers import HEADER_LAYER, header_over_gap
from .landing import FoundFoot, found_foot
from .model import Member, Point, Role, SupportKind
from .plan import line_of, wall_owner, wall_stands_at
from .purlins import PURLIN_LAYER, purlin_axis, purlin_drop, purlin_key, purlin_side

BRACE_FEET = "feet"


@dataclass(frozen=True)
class FootPlace:
    """Where one strut stands.

    Attributes:
        point: on the ceiling line.
        layer: of its node.
        carrier: key of the member that it stands on, or None.
        owner: support owner that it stands on, or None.
        fault: why it stands on nothing, or None.
    """

    point: Point
    layer: str
    carrier: str | None = None
    owner: str | None = None
    fault: str | None = None


def strut_key(purlin: str, number: int | str) -> str:
    """Return the key of a strut: a number from 1 along the purlin, or a name."""
    return (
        f"ST-{purlin}-{number:02d}"
        if isinstance(number, int)
        else (f"ST-{purlin}-{number}")
    )


def is_hip_brace(strut: Member) -> bool:
    """Return whether a strut stands under a hip or a ridge end."""
    return strut.key.startswith("HB-")


def strut_group(brief: Brief, strut: Member) -> Strut | HipBrace:
    """Return the entry of the brief that a strut comes from."""
    assert strut.part is not None
    if is_hip_brace(strut):
        return brief.hip_braces[strut.part]
    return all_struts(brief)[strut.part]


def is_held_at_mid(brief: Brief, strut: Member) -> bool:
    """Return whether a strut is held the weak way at mid-length."""
    return strut.held or strut_group(brief, strut).held_at_mid


def all_struts(brief: Brief) -> tuple[Strut, ...]:
    """Return the groups of struts, then those that were added one by one."""
    return (*brief.struts, *brief.added_struts)


def strut_places(brief: Brief, group: Struts, purlin: Purlin) -> np.ndarray:
    """Return where the struts of a group stand along their purlin's eave, m."""
    reach = purlin_reach(brief, purlin)
    first, count = strut_count(group.spacing, group.start, group.end, reach)
    return first + group.spacing * np.arange(count)


@dataclass(frozen=True)
class _Wanted:
    """A strut to be framed: its part of the brief and where it meets its purlin."""

    part: int
    x: float
    name: str | None = None


def add_struts(draft: Draft) -> None:
    """Add all struts, numbered along each purlin line; added ones have names."""
    for purlin in draft.brief.purlins:
        if not draft.has(purlin_key(purlin.name)):
            continue
        tops: list[float] = []
        for wanted in [*_grouped(draft, purlin), *_added(draft, purlin)]:
            top = _top_place(draft, purlin, wanted)
            if any(abs(top - known) <= 1e-6 for known in tops):
                if wanted.name is not None:
                    why = "a strut stands in its place already"
                    draft.changes.drop(strut_key(purlin.name, wanted.name), why)
                continue
            tops.append(top)
            number = wanted.name or len(tops)
            _add_strut(draft, strut_key(purlin.name, number), purlin, wanted, top)
    _drop_lost(draft)
    _add_plies_under_struts(draft)


def _grouped(draft: Draft, purlin: Purlin) -> list[_Wanted]:
    """Return the struts of a purlin line's groups, along it."""
    found = [
        _Wanted(part, draft.lines.along(purlin_side(purlin)).settle(float(x)))
        for part, group in enumerate(draft.brief.struts)
        if group.purlin == purlin.name
        for x in strut_places(draft.brief, group, purlin)
    ]
    return sorted(found, key=lambda wanted: _top_place(draft, purlin, wanted))


def _added(draft: Draft, purlin: Purlin) -> list[_Wanted]:
    """Return the struts that were added to a purlin line one by one."""
    low, high = purlin_reach(draft.brief, purlin)
    found = []
    for n, strut in enumerate(draft.brief.added_struts):
        if strut.purlin != purlin.name:
            continue
        if not low - 1e-6 <= strut.at <= high + 1e-6:
            why = f"purlin line {purlin.name} does not reach its place"
            draft.changes.drop(strut_key(purlin.name, strut.name), why)
            continue
        x = draft.lines.along(purlin_side(purlin)).settle(strut.at)
        part = len(draft.brief.struts) + n
        found.append(_Wanted(part, x, strut.name))
    return found


def _drop_lost(draft: Draft) -> None:
    """Note the added struts whose purlin line is not there."""
    for strut in draft.brief.added_struts:
        if not draft.has(purlin_key(strut.purlin)):
            why = f"there is no purlin line {strut.purlin}"
            draft.changes.drop(strut_key(strut.purlin, strut.name), why)


def _top_place(draft: Draft, purlin: Purlin, wanted: _Wanted) -> float:
    """Return where a strut meets its purlin: plumb over a joist that carries it.

    Where the joist lies beyond the end of the purlin the strut leans to that end. Less
    than an inch from a joint of the purlin it stands there.
    """
    place, x = purlin_plan(draft.brief, purlin), _over_foot(draft, purlin, wanted)
    point = roof_point(draft.brief, purlin_side(purlin), x, place)
    axis = purlin_axis(purlin_side(purlin))
    return float(draft.joint_near(purlin_key(purlin.name), point)[axis])


def _over_foot(draft: Draft, purlin: Purlin, wanted: _Wanted) -> float:
    """Return the place along the ridge that its foot asks of a strut."""
    stated = _found(draft, purlin, wanted.part, wanted.x).foot
    joists, axis = draft.brief.ceiling_joists, purlin_axis(purlin_side(purlin))
    crossing = (JoistDirection.ACROSS, JoistDirection.ALONG)[axis]
    crosses = joists is not None and joists.direction is crossing
    if stated.on is FootOn.CEILING_JOIST and crosses and stated.at is None:
        low, high = purlin_reach(draft.brief, purlin)
        foot = place_foot(draft, stated, purlin, wanted.x)
        return min(max(foot.point[axis], low), high)
    return wanted.x


def _found(draft: Draft, purlin: Purlin, part: int, x: float) -> FoundFoot:
    """Return the foot of a strut of a group that holds its purlin at x."""
    place = purlin_plan(draft.brief, purlin)
    top = roof_point(draft.brief, purlin_side(purlin), x, place)
    return found_foot(draft.brief, all_struts(draft.brief)[part].foot, top)


def place_foot(draft: Draft, stated: Foot, purlin: Purlin, x: float) -> FootPlace:
    """Return where a stated foot stands of a strut that holds its purlin at x."""
    brief = draft.brief
    plan = purlin_plan(brief, purlin)
    away = plan if stated.from_plate is None else stated.from_plate
    x, y, _ = (float(v) for v in roof_point(brief, purlin_side(purlin), x, away))
    if stated.at is not None:
        return stated_foot(draft, stated, *stated.at, f"X-{purlin.name}", None)
    return stated_foot(draft, stated, x, y, f"X-{purlin.name}", 1 * FOOT)


def stated_foot(
    draft: Draft, stated: Foot, x: float, y: float, point: str, reach: float | None
) -> FootPlace:
    """Return the place nearest to a plan point on what a foot is stated to stand on.

    Args:
        draft: the framing so far.
        stated: the foot.
        x: m, on plan.
        y: m, on plan.
        point: support owner of a stated point.
        reach: m, how far beside its end a wall may stand; None for any way.
    """
    brief = draft.brief
    if stated.on is FootOn.NEAREST_WALL:  # it found none
        return FootPlace((x, y, 0.0), BRACE_FEET, fault="it stands on nothing")
    if stated.on is FootOn.CEILING_JOIST:
        return foot_on_joist(draft, x, y)
    if stated.on is FootOn.POINT:
        return FootPlace((x, y, 0.0), BRACE_FEET, owner=point)
    if stated.on is FootOn.WALL:
        wall = next(w for w in brief.walls if w.name == stated.name)
        return _foot_on_wall(draft, wall, x, y, reach)
    if stated.on is FootOn.BEAM:
        beam = next(b for b in brief.beams if b.name == stated.name)
        return _foot_on_beam(draft, beam, x, y, reach)
    post = next(p for p in brief.posts if p.name == stated.name)
    return FootPlace((*post.at, 0.0), BEAM_LAYER, carrier=f"PO-{post.name}")


def _foot_on_wall(
    draft: Draft, wall: Wall, x: float, y: float, reach: float | None
) -> FootPlace:
    """Return the place of a wall nearest to a plan point, and what is wrong with it.

    Over a gap with a header it is a place on the header.
    """
    line = line_of(wall)
    point, u = nearest_on(line, x, y)
    fault = None
    if not wall.bearing:
        fault = f"it stands on partition {wall.name}, which is no bearing wall"
    elif not wall_stands_at(wall, u):
        header = header_over_gap(draft, wall, u)
        if header is not None:
            return FootPlace(point, HEADER_LAYER, carrier=header)
        fault = f"it stands over the gap in wall {wall.name}"
    elif reach is not None and abs(u - line.place(x, y)[0]) > reach:
        fault = f"wall {wall.name} does not reach it"
    return FootPlace(point, BRACE_FEET, owner=wall_owner(wall), fault=fault)


def _foot_on_beam(
    draft: Draft, beam: Beam, x: float, y: float, reach: float | None
) -> FootPlace:
    """Return the place of a beam nearest to a plan point, and what is wrong with it."""
    line, key = line_of(beam), beam_key(beam.name)
    x, y = draft.lines.floor_x.settle(x), draft.lines.floor_y.settle(y)
    point, u = nearest_on(line, x, y)
    off = abs(u - line.place(x, y)[0])
    fault = None
    if not draft.has(key) or (reach is not None and off > 1e-6):
        fault = f"beam {beam.name} does not reach under it"
    return FootPlace(point, BEAM_LAYER, carrier=key, fault=fault)


def nearest_on(line, x: float, y: float) -> tuple[Point, float]:  # noqa: ANN001
    """Return the point of a plan line nearest to a place, and its place along it."""
    u = min(max(line.place(x, y)[0], line.low), line.high)
    return line.point(u), u


def foot_on_joist(draft: Draft, x: float, y: float) -> FootPlace:
    """Return a foot on the joist nearest to a plan point."""
    joists = draft.brief.ceiling_joists
    assert joists is not None
    across = joists.direction is JoistDirection.ACROSS
    if across:
        y = draft.lines.floor_y.settle(y)
    else:
        x = draft.lines.floor_x.settle(x)
    marks = draft.joist_stations
    if not len(marks):
        return FootPlace((x, y, 0.0), BRACE_FEET, fault="no ceiling joist runs there")
    k, mark = _nearest_mark(marks, x if across else y)
    point = (mark, y, 0.0) if across else (x, mark, 0.0)
    along = y if across else x
    axis = 1 if across else 0
    for bay in range(1, 100):
        key = joist_key(k, bay)
        if not draft.has(key):
            if key in draft.removed:
                continue
            break
        piece = draft.members[key]
        if piece.start[axis] - 1e-6 <= along <= piece.end[axis] + 1e-6:
            x, y, z = (float(v) for v in draft.joint_near(key, point))
            return FootPlace((x, y, z), MAIN, carrier=key)
    return FootPlace(point, BRACE_FEET, fault="no ceiling joist is left under it")


def _nearest_mark(marks: np.ndarray, place: float) -> tuple[int, float]:
    """Return number and place of the mark nearest to a place, the first of two."""
    after = int(marks.searchsorted(place))
    near = range(max(0, after - 1), min(len(marks), after + 1))
    k = min(near, key=lambda n: abs(marks[n] - place))
    return k, float(marks[k])


def _add_strut(
    draft: Draft, key: str, purlin: Purlin, wanted: _Wanted, x: float
) -> None:
    """Add one strut, its joint with the purlin and its foot."""
    brief, side = draft.brief, purlin_side(purlin)
    strut = all_struts(brief)[wanted.part]
    top = roof_point(brief, side, x, purlin_plan(brief, purlin))
    along = np.eye(3)[purlin_axis(side)]
    row_line = top, top + np.array([along[1], along[0], 0.0])
    stated = draft.changes.foot_of(brief, draft.changes.of(key, *row_line), strut.foot)
    found = found_foot(brief, stated, top)
    at = wanted.x if stated is strut.foot else x
    foot = place_foot(draft, found.foot, purlin, at)
    if found.why_not is not None:
        foot = dataclasses.replace(foot, fault=found.why_not)
    added = draft.add(
        key,
        Role.STRUT,
        foot.point,
        top,
        strut,
        layer=foot.layer,
        end_layer=PURLIN_LAYER,
        row_line=row_line,
        up=(float(along[0]), float(along[1]), 0.0),
        axial_only=True,
        acts=1,
        slope=side,
        offset=(0.0, 0.0, purlin_drop(brief, purlin)),
        group=purlin.name,
        part=wanted.part,
        foot=found.foot,
        held=found.held,
    )
    if not added:
        return
    draft.attach(purlin_key(purlin.name), top, PURLIN_LAYER)
    stand(draft, key, foot)


def stand(draft: Draft, key: str, foot: FootPlace) -> None:
    """Join the foot of a strut with what it stands on, or name it as loose."""
    if foot.fault is not None:
        draft.loose(key, foot.point, foot.fault)
    elif foot.carrier is not None and draft.has(foot.carrier):
        node = draft.attach(foot.carrier, foot.point, foot.layer)
        draft.members[key].stations[0.0] = node
    elif foot.owner is not None:
        owner = f"X-{key}" if foot.owner.startswith("X") else foot.owner
        node = draft.node(foot.point, foot.layer)
        draft.support(node, SupportKind.FOOT, owner, key)


def _add_plies_under_struts(draft: Draft) -> None:
    """Give the joists that carry struts the plies that the brief states for them."""
    joists = draft.brief.ceiling_joists
    if joists is None or joists.plies_under_struts <= joists.plies:
        return
    changed = {
        draft.changes.holder.get(o.member)
        for o in draft.brief.overrides
        if o.plies or o.size
    }
    feet = {
        d.stations[0.0] for d in draft.members.values() if d.member.role is Role.STRUT
    }
    for key, piece in draft.members.items():
        if piece.member.role is not Role.CEILING_JOIST or key in changed:
            continue
        if feet & set(piece.stations.values()):
            piece.member = dataclasses.replace(
                piece.member,
                section=section(joists.size, joists.plies_under_struts),
            )
