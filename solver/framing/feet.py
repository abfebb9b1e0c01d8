"""Feet of braces: what they stand on, and how they are joined with it."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..brief.model import Beam, Foot, FootOn, HipBrace, JoistDirection, Wall
from ..brief.purlin_parts import Strut
from .beams import BEAM_LAYER, beam_key
from .ceiling_joists import joist_key
from .draft import MAIN, Draft
from .headers import HEADER_LAYER, header_over_gap
from .landing import FoundFoot, found_foot
from .model import Point, Role, SupportKind
from .plan import line_of, wall_owner, wall_stands_at

BRACE_FEET = "feet"
_AS_NEAR = 1e-6  # m, two joists nearer alike than this are as near
Floats = NDArray[np.float64]


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
    """Return a foot on the joist nearest to a plan point.

    Of two as near it is the one toward the middle of the house.
    """
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
    size = draft.brief.footprint
    middle = (size.length if across else size.width) / 2
    k = _nearest(marks, x if across else y, middle)
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
            x, y, z = (float(v) for v in draft.joint_near(key, point))
            return FootPlace((x, y, z), MAIN, carrier=key)
    return FootPlace(point, BRACE_FEET, fault="no ceiling joist is left under it")


def _nearest(marks: Floats, place: float, middle: float) -> int:
    """Return the number of the mark nearest to a place; of two the inner one."""
    away = abs(marks - place)
    near = np.flatnonzero(away <= away.min() + _AS_NEAR)
    return int(near[abs(marks[near] - middle).argmin()])


def find_foot(
    draft: Draft,
    key: str,
    own: Foot,
    top: Floats,
    row_line: tuple[Floats, Floats],
    foot_of: Callable[[Foot, Floats], FootPlace],
) -> tuple[FoundFoot, FootPlace]:
    """Return the foot of a brace as its group or a change states it, and its place.

    Args:
        draft: of the roof.
        key: of the brace.
        own: foot that its group states.
        top: (3,) m, where it meets what it holds.
        row_line: two points of the line that marks its place in its row.
        foot_of: the place of a stated foot under a top.
    """
    change = draft.changes.of(key, *row_line)
    found = found_foot(
        draft.brief, draft.changes.foot_of(draft.brief, change, own), top
    )
    foot = foot_of(found.foot, top)
    if found.why_not is not None:
        foot = dataclasses.replace(foot, fault=found.why_not)
    return found, foot


def set_brace(
    draft: Draft,
    key: str,
    stock: Strut | HipBrace,
    found: FoundFoot,
    foot: FootPlace,
    head: int,
    **rest: object,
) -> None:
    """Add one brace from its foot to a joint, and join both.

    Args:
        draft: of the roof.
        key: of the brace.
        stock: its entry of the brief.
        found: its foot.
        foot: the place of it.
        head: number of the joint that it holds.
        rest: further arguments of Draft.add and fields of Member.
    """
    added = draft.add(
        key,
        Role.STRUT,
        foot.point,
        draft.points[head],
        stock,
        layer=foot.layer,
        axial_only=True,
        acts=1,
        foot=found.foot,
        held=found.held,
        **rest,  # type: ignore[arg-type]
    )
    if added:
        draft.end_on(key, head)
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
