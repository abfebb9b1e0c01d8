"""Purlin lines under the rafters."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ..basis.sections import section
from ..brief.braces import purlin_plan, purlin_reach, slope_pitch
from ..brief.model import Brief, Orientation, Purlin, Slope
from .common_rafters import HIP_ENDS, roof_point, slope_up
from .draft import Draft
from .hips import rafter_at
from .model import Framing, Role
from .plan import in_one_place

PURLIN_LAYER = "purlin"
Floats = NDArray[np.float64]
_NEAR = 1e-5  # m
_SIDES = {Slope.SOUTH: "S", Slope.NORTH: "N", Slope.WEST: "W", Slope.EAST: "E"}


def purlin_key(name: str) -> str:
    """Return the key of a purlin line."""
    return f"P-{name}"


def purlin_side(purlin: Purlin) -> str:
    """Return the letter of the slope of a purlin line."""
    return _SIDES[purlin.slope]


def purlin_axis(side: str) -> int:
    """Return 0 where purlins of a slope run along the ridge, 1 where across it."""
    return 1 if side in HIP_ENDS else 0


def along_purlin(framing: Framing, key: str, point: Floats) -> float:
    """Return how far along a purlin line a point lies from its start, m."""
    start, end = framing.ends(key)
    way = end - start
    return float((point - start) @ way / np.linalg.norm(way))


def purlin_drop(brief: Brief, purlin: Purlin) -> float:
    """Return how far below its joint line the middle of a purlin is drawn, plumb."""
    pitch = slope_pitch(brief, purlin)
    angle = math.atan(pitch)
    own = section(purlin.size)
    if purlin.orientation is Orientation.SQUARE:
        half = own.depth / 2 / math.cos(angle)
    else:  # its upper edge touches the rafters with one corner
        half = own.depth / 2 + own.breadth * purlin.plies / 2 * math.tan(angle)
    rafters = section(brief.rafters.size).depth  # their upper edges lie in one plane
    top = rafters * math.hypot(1.0, brief.roof.pitch) - brief.rafters.seat_depth
    return top - rafters / math.cos(angle) - half


def add_purlins(draft: Draft) -> None:
    """Add the purlin lines; every rafter that they pass rests on them."""
    brief = draft.brief
    for purlin in brief.purlins:
        side, key = purlin_side(purlin), purlin_key(purlin.name)
        plan = purlin_plan(brief, purlin)
        low, high = purlin_reach(brief, purlin)
        square = purlin.orientation is Orientation.SQUARE
        added = draft.add(
            key,
            Role.PURLIN,
            _met(draft, roof_point(brief, side, low, plan)),
            _met(draft, roof_point(brief, side, high, plan)),
            purlin,
            layer=PURLIN_LAYER,
            up=slope_up(brief, side) if square else (0.0, 0.0, 1.0),
            planar=False,
            slope=side,
            offset=(0.0, 0.0, purlin_drop(brief, purlin)),
            group=purlin.name,
        )
        if not added:
            continue
        hip = draft.hip
        marks = draft.rafter_stations if hip is None else hip.marks[side]
        for k, x in enumerate(marks.tolist()):
            rafter = rafter_at(draft, side, k)
            if rafter is None or not low - 1e-6 <= x <= high + 1e-6:
                continue
            gap = min(x - low, high - x)
            if hip is not None and gap > 1e-6 and in_one_place(gap, 0.0):
                continue  # the hip holds its top, less than an inch from here
            point = roof_point(brief, side, x, plan)
            rise = float(draft.members[rafter].end[2] - point[2])
            beyond = rise / slope_pitch(brief, purlin)  # on plan, of the rafter
            if beyond > 0.0 and not in_one_place(beyond, 0.0):
                draft.contact(
                    rafter,
                    key,
                    draft.attach(rafter, point),
                    draft.attach(key, point, PURLIN_LAYER),
                    across=1 - purlin_axis(side),
                )
    _meet_at_hips(draft)


def _met(draft: Draft, point: np.ndarray) -> np.ndarray:
    """Return the end of a purlin line of another slope that is near, or the point."""
    for piece in draft.members.values():
        if piece.member.role is Role.PURLIN:
            for end in (piece.start, piece.end):
                if in_one_place(float(np.linalg.norm(end - point)), 0.0):
                    return end
    return point


def _meet_at_hips(draft: Draft) -> None:
    """Let a hip rest in the corner where two purlin lines meet under it.

    They are mitred there and share the joint; nails hold the hip on it, but what they
    hold sideways is counted at next to nothing. A line that ends alone at a hip stops
    short of it.
    """
    ends: dict[int, list[str]] = {}
    for key, piece in draft.members.items():
        if piece.member.role is Role.PURLIN:
            for node in (
                piece.stations[min(piece.stations)],
                piece.stations[max(piece.stations)],
            ):
                ends.setdefault(node, []).append(key)
    hips = [k for k, p in draft.members.items() if p.member.role is Role.HIP_RAFTER]
    for node, keys in ends.items():
        point = np.array(draft.points[node])
        for hip in hips if len(keys) > 1 else ():
            if _lies_on(draft, hip, point):
                upper = draft.attach(hip, point)
                draft.contact(hip, keys[0], upper, node, held=False)


def _lies_on(draft: Draft, key: str, point: np.ndarray) -> bool:
    """Return whether a point lies on the joint line of a member."""
    piece = draft.members[key]
    way = piece.end - piece.start
    part = float((point - piece.start) @ way / (way @ way))
    away = np.linalg.norm(piece.start + part * way - point)
    return 0.0 < part < 1.0 and bool(away < _NEAR)
