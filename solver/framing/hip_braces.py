"""Braces and posts under hips and ridge ends, and stub joists at the hip ends."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from ..basis.sections import section
from ..brief.model import Foot, FootOn, HipBrace, HipPlace, JoistDirection
from ..units import FOOT
from .ceiling_joists import joist_side
from .draft import MAIN, Draft
from .feet import FootPlace, find_foot, set_brace, stated_foot
from .hip_layout import CORNERS, corner_of
from .hips import hip_key
from .model import Role, SupportKind

Floats = NDArray[np.float64]
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


def raise_brace(
    draft: Draft,
    key: str,
    part: int,
    line: str,
    top: Floats,
    *,
    foot_of: Callable[[Foot, Floats], FootPlace],
    head_of: Callable[[str, Floats], int],
    aside: Callable[[FootPlace], float] = lambda _foot: 0.0,
) -> None:
    """Add one brace with its joint under a hip, valley or ridge, and its foot.

    Args:
        draft: of the roof.
        key: of the brace.
        part: its place in the brief's list.
        line: key of what it holds.
        top: (3,) m, where it meets the line.
        foot_of: the foot of what the brief states under a top.
        head_of: makes the joint at the top and returns its number.
        aside: m, along the ridge, that it is drawn beside its joints.
    """
    brace = draft.brief.hip_braces[part]
    found, foot = find_foot(draft, key, brace.foot, top, (top, top), foot_of)
    head = head_of(line, top)
    set_brace(
        draft, key, brace, found, foot, head,
        end_layer=MAIN,
        up=(1.0, 0.0, 0.0),
        group=line,
        part=part,
        row_line=(top, top),
        offset=(aside(foot), 0.0, 0.0),
    )  # fmt: skip


def reached(stated: Foot, found: FootPlace, x: float, y: float) -> FootPlace:
    """Return a foot, at fault where the wall or beam it is on is too far off."""
    if stated.at is not None or found.fault is not None:
        return found
    off = np.hypot(found.point[0] - x, found.point[1] - y)
    if stated.on in (FootOn.WALL, FootOn.BEAM) and off > _FAR:
        why = f"{stated.on.value} {stated.name} does not reach it"
        return dataclasses.replace(found, fault=why)
    return found


def _add_brace(draft: Draft, key: str, part: int, corner: str, top: Floats) -> None:
    """Add one brace under a hip of a rectangle."""
    brace = draft.brief.hip_braces[part]
    raise_brace(
        draft, key, part, hip_key(corner), top,
        foot_of=lambda stated, at: _foot(draft, stated, float(at[0]), float(at[1])),
        head_of=draft.attach,
        aside=lambda foot: _beside_joists(draft, brace, foot),
    )  # fmt: skip


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
    return reached(stated, found, x, y)


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
