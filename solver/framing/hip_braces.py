"""Braces and posts under hips and ridge ends, and stub joists at the hip ends."""

from __future__ import annotations

import dataclasses

import numpy as np

from ..basis.sections import section
from ..brief.model import Foot, FootOn, HipBrace, HipPlace, JoistDirection
from ..units import FOOT
from .ceiling_joists import joist_side
from .draft import MAIN, Draft
from .hip_layout import CORNERS, corner_of
from .hips import hip_key
from .landing import found_foot
from .model import Role, SupportKind
from .struts import FootPlace, stand, stated_foot

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
            top = draft.joint_near(hip_key(corner), top)
            _add_brace(draft, key, part, corner, top)


def _add_brace(draft: Draft, key: str, part: int, corner: str, top: np.ndarray) -> None:
    """Add one brace with its joint under the hip, and its foot."""
    brace, hip = draft.brief.hip_braces[part], hip_key(corner)
    change = draft.changes.of(key, top, top)
    stated = draft.changes.foot_of(draft.brief, change, brace.foot)
    found = found_foot(draft.brief, stated, top)
    foot = _foot(draft, found.foot, float(top[0]), float(top[1]))
    if found.why_not is not None:
        foot = dataclasses.replace(foot, fault=found.why_not)
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
        foot=found.foot,
        held=found.held,
        row_line=(top, top),
        offset=(_beside_joists(draft, brace, foot), 0.0, 0.0),
    )
    if not added:
        return
    draft.end_on(key, head)
    stand(draft, key, foot)


def _beside_joists(draft: Draft, brace: HipBrace, foot: FootPlace) -> float:
    """Return how far along the ridge a brace is drawn aside to pass a joist, m."""
    joists = draft.brief.ceiling_joists
    if joists is None or joists.direction is not JoistDirection.ACROSS:
        return 0.0
    if foot.carrier is not None and foot.layer == MAIN:  # it stands on a joist
        return 0.0
    x = foot.point[0]
    made, half = section(joists.size), section(brace.size).depth / 2
    for k, mark in enumerate(draft.joist_stations):
        side = joist_side(draft, mark)
        near = (mark - x) * side + made.breadth / 2
        if draft.has(f"CJ-{k:02d}-1") and -half - 2 * made.breadth < near < half:
            return side * (near - half)
    return 0.0


def _foot(draft: Draft, stated: Foot, x: float, y: float) -> FootPlace:
    """Return the foot of a brace: plumb under its top, or on what is named."""
    found = stated_foot(draft, stated, *(stated.at or (x, y)), "X", None)
    if stated.at is not None or found.fault is not None:
        return found
    named = {FootOn.WALL: "wall", FootOn.BEAM: "beam"}
    off = np.hypot(found.point[0] - x, found.point[1] - y)
    if stated.on in named and off > _FAR:
        why = f"{named[stated.on]} {stated.name} does not reach it"
        return dataclasses.replace(found, fault=why)
    return found


def add_stub_joists(draft: Draft) -> None:
    """Add stub joists from the feet of the end rafters to the first whole joist."""
    brief, joists = draft.brief, draft.brief.ceiling_joists
    if draft.hip is None or brief.hips is None or not brief.hips.stub_joists:
        return
    if joists is None or joists.direction is not JoistDirection.ACROSS:
        return  # joists along the ridge reach the end wall themselves
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
