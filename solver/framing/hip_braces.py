"""Braces and posts under hips and ridge ends, and stub joists at the hip ends."""

from __future__ import annotations

import numpy as np

from ..basis.sections import section
from ..brief.model import FootOn, HipBrace, HipPlace, JoistDirection
from ..units import FOOT
from .beams import BEAM_LAYER, beam_key
from .ceiling_joists import joist_side
from .draft import MAIN, Draft
from .hip_layout import CORNERS, corner_of
from .hips import hip_key
from .model import Role, SupportKind
from .plan import line_of, wall_owner, wall_stands_at
from .struts import BRACE_FEET, FootPlace, foot_on_joist, nearest_on

_PLACES = {
    HipPlace.SOUTH_WEST: "SW",
    HipPlace.SOUTH_EAST: "SE",
    HipPlace.NORTH_EAST: "NE",
    HipPlace.NORTH_WEST: "NW",
}
_AT_RIDGE = 1 - 1e-9
_FAR = 3 * FOOT  # a wall farther from plumb under a hip does not reach it


def brace_key(place: str, number: int) -> str:
    """Return the key of a hip brace; under a ridge end the place is ``W`` or ``E``."""
    return f"HB-{place}-{number:02d}"


def add_hip_braces(draft: Draft) -> None:
    """Add the braces that the brief states, numbered up from each corner."""
    if draft.hip is None:
        return
    hips = {corner_of(draft.brief, *h.start[:2]): h for h in draft.hip.form.hips}
    wanted: dict[tuple[str, float], int] = {}
    for part, brace in enumerate(draft.brief.hip_braces):
        corners = CORNERS if brace.hip is HipPlace.ALL else (_PLACES[brace.hip],)
        for corner in corners:
            at_ridge = brace.at >= _AT_RIDGE
            place = corner[1] if at_ridge else corner
            wanted.setdefault((place, 1.0 if at_ridge else brace.at), part)
    count: dict[str, int] = {}
    for (place, at), part in sorted(wanted.items()):
        count[place] = count.get(place, 0) + 1
        corner = next(c for c in hips if c.endswith(place))
        line = hips[corner]
        top = line.start + at * (line.end - line.start)
        key = brace_key(place, count[place])
        if draft.has(hip_key(corner)):
            _add_brace(draft, key, part, corner, top)


def _add_brace(draft: Draft, key: str, part: int, corner: str, top: np.ndarray) -> None:
    """Add one brace with its joint under the hip, and its foot."""
    brace, hip = draft.brief.hip_braces[part], hip_key(corner)
    foot = _foot(draft, brace, float(top[0]), float(top[1]))
    head = draft.attach(hip, top)
    added = draft.add(
        key,
        Role.STRUT,
        foot.point,
        draft.points[head],
        brace,
        layer=foot.layer,
        end_layer=MAIN,
        up=(1.0, 0.0, 0.0),
        axial_only=True,
        acts=1,
        group=hip,
        part=part,
        offset=(_beside_joists(draft, brace, foot.point[0]), 0.0, 0.0),
    )
    if not added:
        return
    draft.end_on(key, head)
    if foot.fault is not None:
        draft.loose(key, foot.point, foot.fault)
    elif foot.carrier is not None and draft.has(foot.carrier):
        node = draft.attach(foot.carrier, foot.point, foot.layer)
        draft.members[key].stations[0.0] = node
    elif foot.owner is not None:
        owner = f"X-{key}" if foot.owner == "X" else foot.owner
        node = draft.node(foot.point, foot.layer)
        draft.support(node, SupportKind.FOOT, owner, key)


def _beside_joists(draft: Draft, brace: HipBrace, x: float) -> float:
    """Return how far along the ridge a brace is drawn aside to pass a joist, m."""
    joists = draft.brief.ceiling_joists
    if joists is None or joists.direction is not JoistDirection.ACROSS:
        return 0.0
    if brace.foot.on is FootOn.CEILING_JOIST:
        return 0.0
    made, half = section(joists.size), section(brace.size).depth / 2
    for k, mark in enumerate(draft.joist_stations):
        side = joist_side(draft, mark)
        near = (mark - x) * side + made.breadth / 2
        if draft.has(f"CJ-{k:02d}-1") and -half - 2 * made.breadth < near < half:
            return side * (near - half)
    return 0.0


def _foot(draft: Draft, brace: HipBrace, x: float, y: float) -> FootPlace:
    """Return the foot of a brace: plumb under its top, or on what is named."""
    brief, on, name = draft.brief, brace.foot.on, brace.foot.name
    if on is FootOn.CEILING_JOIST:
        return foot_on_joist(draft, x, y)
    if on is FootOn.POINT:
        return FootPlace((x, y, 0.0), BRACE_FEET, owner="X")
    if on is FootOn.WALL:
        wall = next(w for w in brief.walls if w.name == name)
        point, u = nearest_on(line_of(wall), x, y)
        fault = None
        if not wall.bearing:
            fault = f"it stands on partition {wall.name}, which is no bearing wall"
        elif not wall_stands_at(wall, u):
            fault = f"it stands over the gap in wall {wall.name}"
        elif np.hypot(point[0] - x, point[1] - y) > _FAR:
            fault = f"wall {wall.name} does not reach it"
        return FootPlace(point, BRACE_FEET, owner=wall_owner(wall), fault=fault)
    if on is FootOn.BEAM:
        beam = next(b for b in brief.beams if b.name == name)
        x, y = draft.lines.floor_x.settle(x), draft.lines.floor_y.settle(y)
        point, _ = nearest_on(line_of(beam), x, y)
        key, fault = beam_key(beam.name), None
        if not draft.has(key) or np.hypot(point[0] - x, point[1] - y) > _FAR:
            fault = f"beam {beam.name} does not reach under it"
        return FootPlace(point, BEAM_LAYER, carrier=key, fault=fault)
    post = next(p for p in brief.posts if p.name == name)
    return FootPlace((*post.at, 0.0), BEAM_LAYER, carrier=f"PO-{post.name}")


def add_stub_joists(draft: Draft) -> None:
    """Add stub joists from the feet of the end rafters to the first whole joist."""
    brief, joists = draft.brief, draft.brief.ceiling_joists
    if draft.hip is None or brief.hips is None or not brief.hips.stub_joists:
        return
    if joists is None:
        return
    length, width = brief.footprint.length, brief.footprint.width
    made = section(joists.size)
    standing = [
        float(x)
        for k, x in enumerate(draft.joist_stations)
        if draft.has(f"CJ-{k:02d}-1")
    ]
    if not standing:
        return
    for side, outer, inner in (
        ("W", 0.0, min(standing)),
        ("E", length, max(standing)),
    ):
        feet = [
            (p.member.station, p)
            for p in draft.members.values()
            if p.member.slope == side
            and p.member.role in (Role.RAFTER, Role.JACK_RAFTER)
        ]
        for station, piece in feet:
            foot = next(
                draft.points[n]
                for n in piece.stations.values()
                if draft.points[n][2] == 0.0
            )
            key = f"SJ-{side}-{station:02d}"
            added = draft.add(
                key,
                Role.STUB_JOIST,
                (outer, foot[1], 0.0),
                (inner, foot[1], 0.0),
                joists,
                end_layer="stub",
                up=(0.0, 0.0, 1.0),
                axial_only=True,
                slope=side,
                station=station,
                offset=(
                    0.0,
                    made.breadth * (1 if foot[1] < width / 2 else -1),
                    made.depth / 2,
                ),
            )
            if added:
                end = draft.node((inner, foot[1], 0.0), "stub")
                draft.support(end, SupportKind.STRAPPED, "H-STUBS", key)
