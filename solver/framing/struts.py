"""Struts (purlin braces) at their spacing, and what their feet stand on."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

import numpy as np

from ..basis.sections import section
from ..brief.braces import purlin_plan, purlin_reach, strut_count
from ..brief.model import Brief, FootOn, HipBrace, JoistDirection, Purlin, Struts
from ..units import FOOT
from .beams import BEAM_LAYER, beam_key
from .ceiling_joists import joist_key
from .common_rafters import roof_point
from .draft import MAIN, Draft
from .model import Member, Point, Role, SupportKind
from .plan import line_of, wall_owner, wall_stands_at
from .purlins import PURLIN_LAYER, purlin_drop, purlin_key, purlin_side

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


def strut_key(purlin: str, number: int) -> str:
    """Return the key of a strut; numbers run along the ridge from 1."""
    return f"ST-{purlin}-{number:02d}"


def is_hip_brace(strut: Member) -> bool:
    """Return whether a strut stands under a hip or a ridge end."""
    return strut.key.startswith("HB-")


def strut_group(brief: Brief, strut: Member) -> Struts | HipBrace:
    """Return the group of the brief that a strut comes from."""
    assert strut.part is not None
    if is_hip_brace(strut):
        return brief.hip_braces[strut.part]
    return brief.struts[strut.part]


def strut_places(brief: Brief, group: Struts, purlin: Purlin) -> np.ndarray:
    """Return where the struts of a group stand along the ridge, m."""
    reach = purlin_reach(brief, purlin)
    first, count = strut_count(group.spacing, group.start, group.end, reach)
    return first + group.spacing * np.arange(count)


def add_struts(draft: Draft) -> None:
    """Add all struts, numbered along each purlin line."""
    for purlin in draft.brief.purlins:
        if not draft.has(purlin_key(purlin.name)):
            continue
        places: list[tuple[float, int, FootPlace]] = []
        for part, group in enumerate(draft.brief.struts):
            if group.purlin != purlin.name:
                continue
            for stated in strut_places(draft.brief, group, purlin):
                x = draft.lines.roof_x.settle(float(stated))
                foot = _foot(draft, group, purlin, x)
                top = _top_place(draft, group, purlin, foot, x)
                if all(abs(top - p[0]) > 1e-6 for p in places):
                    places.append((top, part, foot))
        places.sort(key=lambda place: place[0])
        for number, (x, part, foot) in enumerate(places, start=1):
            _add_strut(draft, strut_key(purlin.name, number), purlin, part, x, foot)
    _add_plies_under_struts(draft)


def _top_place(
    draft: Draft, group: Struts, purlin: Purlin, foot: FootPlace, x: float
) -> float:
    """Return where a strut meets its purlin: plumb over a joist that carries it.

    Where the joist lies beyond the end of the purlin the strut leans to that end.
    """
    joists = draft.brief.ceiling_joists
    across = joists is not None and joists.direction is JoistDirection.ACROSS
    if group.foot.on is FootOn.CEILING_JOIST and across:
        low, high = purlin_reach(draft.brief, purlin)
        return min(max(foot.point[0], low), high)
    return x


def _foot(draft: Draft, group: Struts, purlin: Purlin, x: float) -> FootPlace:
    """Return the foot of a strut that holds its purlin at x."""
    brief, stated = draft.brief, group.foot
    width, side = brief.footprint.width, purlin_side(purlin)
    plan = purlin_plan(brief, purlin)
    away = plan if stated.from_plate is None else stated.from_plate
    y = away if side == "S" else width - away
    if stated.on is FootOn.CEILING_JOIST:
        return foot_on_joist(draft, x, y)
    if stated.on is FootOn.POINT:
        return FootPlace((x, y, 0.0), BRACE_FEET, owner=f"X-{purlin.name}")
    own = plan if side == "S" else width - plan
    if stated.on is FootOn.WALL:
        wall = next(w for w in brief.walls if w.name == stated.name)
        point, u = nearest_on(line_of(wall), x, own)
        fault = None
        if not wall.bearing:
            fault = f"it stands on partition {wall.name}, which is no bearing wall"
        elif not wall_stands_at(wall, u):
            fault = f"it stands over the gap in wall {wall.name}"
        elif abs(u - (x if line_of(wall).along == 0 else own)) > 1 * FOOT:
            fault = f"wall {wall.name} does not reach it"
        return FootPlace(point, BRACE_FEET, owner=wall_owner(wall), fault=fault)
    if stated.on is FootOn.BEAM:
        beam = next(b for b in brief.beams if b.name == stated.name)
        along = line_of(beam).along == 0
        x, own = draft.lines.floor_x.settle(x), draft.lines.floor_y.settle(own)
        point, u = nearest_on(line_of(beam), x, own)
        key, fault = beam_key(beam.name), None
        if not draft.has(key) or abs(u - (x if along else own)) > 1e-6:
            fault = f"beam {beam.name} does not reach under it"
        return FootPlace(point, BEAM_LAYER, carrier=key, fault=fault)
    post = next(p for p in brief.posts if p.name == stated.name)
    return FootPlace((*post.at, 0.0), BEAM_LAYER, carrier=f"PO-{post.name}")


def nearest_on(line, x: float, y: float) -> tuple[Point, float]:  # noqa: ANN001
    """Return the point of a plan line nearest to a place, and its place along it."""
    u = min(max(x if line.along == 0 else y, line.low), line.high)
    return ((u, line.at, 0.0) if line.along == 0 else (line.at, u, 0.0)), u


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
    k = int(abs(marks - (x if across else y)).argmin())
    mark = float(marks[k])
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
            return FootPlace(point, MAIN, carrier=key)
    return FootPlace(point, BRACE_FEET, fault="no ceiling joist is left under it")


def _add_strut(
    draft: Draft, key: str, purlin: Purlin, part: int, x: float, foot: FootPlace
) -> None:
    """Add one strut, its joint with the purlin and its foot."""
    brief = draft.brief
    group = brief.struts[part]
    side = purlin_side(purlin)
    top = roof_point(brief, side, x, purlin_plan(brief, purlin))
    added = draft.add(
        key,
        Role.STRUT,
        foot.point,
        top,
        group,
        layer=foot.layer,
        end_layer=PURLIN_LAYER,
        up=(1.0, 0.0, 0.0),
        axial_only=True,
        acts=1,
        slope=side,
        offset=(0.0, 0.0, purlin_drop(brief, purlin)),
        group=purlin.name,
        part=part,
    )
    if not added:
        return
    draft.attach(purlin_key(purlin.name), top, PURLIN_LAYER)
    if foot.fault is not None:
        draft.loose(key, foot.point, foot.fault)
    elif foot.carrier is not None and draft.has(foot.carrier):
        node = draft.attach(foot.carrier, foot.point, foot.layer)
        strut = draft.members[key]
        strut.stations[0.0] = node
    elif foot.owner is not None:
        owner = f"X-{key}" if foot.owner.startswith("X-") else foot.owner
        node = draft.node(foot.point, foot.layer)
        draft.support(node, SupportKind.FOOT, owner, key)


def _add_plies_under_struts(draft: Draft) -> None:
    """Give the joists that carry struts the plies that the brief states for them."""
    joists = draft.brief.ceiling_joists
    if joists is None or joists.plies_under_struts <= joists.plies:
        return
    changed = {o.member for o in draft.brief.overrides if o.plies or o.size}
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
