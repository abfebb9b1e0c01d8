"""Common rafters in pairs, and the plates they stand on."""

from __future__ import annotations

import math

import numpy as np

from ..basis.sections import section
from ..brief.model import BeamPlace, Brief, JoistDirection, OverWalls, Slope, Stock
from .draft import Draft
from .model import Role, SupportKind
from .plan import OBLIQUE, line_of
from .roof_snow import drift_edge

PLATE = Stock(size="2x4", species="Spruce-Pine-Fir", grade="No.2", plies=2)
HIP_ENDS = ("W", "E")
SIDES = (("S", Slope.SOUTH), ("N", Slope.NORTH))


def rafter_key(side: str, station: int) -> str:
    """Return the key of a common rafter."""
    return f"R-{side}-{station:02d}"


def roof_point(brief: Brief, side: str, x: float, from_plate: float) -> np.ndarray:
    """Return the point of a slope's joint plane at a plan distance from its plate.

    Args:
        brief: of a roof over a rectangle.
        side: ``S``, ``N`` or a hip end, ``W``, ``E``.
        x: m along the eave: from the west, under a hip end from the south.
        from_plate: m on plan.
    """
    size, away = brief.footprint, from_plate
    if side in HIP_ENDS:
        pitch = brief.roof.end_pitch or brief.roof.pitch
        return np.array([away if side == "W" else size.length - away, x, pitch * away])
    y = away if side == "S" else size.width - away
    return np.array([x, y, brief.roof.pitch * away])


def slope_up(brief: Brief, side: str) -> tuple[float, float, float]:
    """Return the unit vector square to a slope, pointing up and out."""
    if side in HIP_ENDS:
        angle = math.atan(brief.roof.end_pitch or brief.roof.pitch)
        out = -math.sin(angle) if side == "W" else math.sin(angle)
        return (out, 0.0, math.cos(angle))
    angle = math.atan(brief.roof.pitch)
    y = -math.sin(angle) if side == "S" else math.sin(angle)
    return (0.0, y, math.cos(angle))


def rafter_rise(brief: Brief) -> float:
    """Return how far the middle of a drawn rafter lies above its joint line, plumb."""
    angle = math.atan(brief.roof.pitch)
    depth = section(brief.rafters.size).depth
    return depth / 2 / math.cos(angle) - brief.rafters.seat_depth


def north_shift(brief: Brief) -> float:
    """Return how far north rafters are drawn beside their station, m.

    Where joists lap over an odd number of lines, the two rafters of a pair stand one
    thickness apart so that each lies against its own joist.
    """
    joists = brief.ceiling_joists
    if joists is None or joists.direction is not JoistDirection.ACROSS:
        return 0.0
    crossed = [
        *brief.walls,
        *(b for b in brief.beams if b.carries_joists and b.place is BeamPlace.UNDER),
    ]
    lines = {
        c.name if line_of(c).along == OBLIQUE else round(line_of(c).at, 3)
        for c in crossed
        if (c.joists or joists.over_walls) is OverWalls.LAPPED
        and (c in brief.beams or line_of(c).along != 1)
    }
    return section(brief.rafters.size).breadth if len(lines) % 2 else 0.0


def add_rafters(draft: Draft) -> None:
    """Add the rafters of both slopes, from tail to ridge, seated on the plates."""
    brief = draft.brief
    roof, size = brief.roof, brief.footprint
    run = size.width / 2
    rise = rafter_rise(brief)
    edge, shift = drift_edge(brief), {"S": 0.0, "N": north_shift(brief)}
    ups = {side: slope_up(brief, side) for side, _ in SIDES}
    for k, x in enumerate(draft.rafter_stations):
        for side, _ in SIDES:
            key = rafter_key(side, k)
            foot = roof_point(brief, side, x, 0.0)
            tail = roof_point(brief, side, x, -roof.overhang)
            ridge = roof_point(brief, side, x, run)
            added = draft.add(
                key,
                Role.RAFTER,
                tail if roof.overhang > 0 else foot,
                ridge,
                brief.rafters,
                up=ups[side],
                slope=side,
                station=k,
                offset=(shift[side], 0.0, rise),
            )
            if added:
                node = draft.attach(key, foot)
                owner = "W-SOUTH" if side == "S" else "W-NORTH"
                draft.support(node, SupportKind.SEAT, owner, key)
                if edge is not None:
                    place = draft.lines.plan[side].settle(edge)
                    draft.attach(key, roof_point(brief, side, x, place))


def add_plates(draft: Draft) -> None:
    """Add the top plates, with a joint at every rafter foot and joist end."""
    brief = draft.brief
    length, width = brief.footprint.length, brief.footprint.width
    lines = [("S", 1, 0.0), ("N", 1, width)]
    if draft.hip is not None:
        lines += [("W", 0, 0.0), ("E", 0, length)]
    for side, axis, at in lines:
        key = f"PL-{side}"
        ends = (0.0, length if axis == 1 else width)
        draft.add(
            key,
            Role.PLATE,
            *((u, at, 0.0) if axis == 1 else (at, u, 0.0) for u in ends),
            PLATE,
            up=(0.0, 1.0, 0.0) if axis == 1 else (1.0, 0.0, 0.0),
            slope=side,
            offset=(0.0, 0.0, -section("2x4").breadth),
        )
        if not draft.has(key):
            continue
        for support in list(draft.supports):
            place = draft.points[support.node]
            seat = support.kind is SupportKind.SEAT and place[2] == 0.0
            if seat and abs(place[axis] - at) < 1e-6:
                u = place[1 - axis]
                draft.attach(key, (u, at, 0.0) if axis == 1 else (at, u, 0.0))
        if draft.hip is not None and axis == 1:  # where its wall can hold it lengthwise
            node = draft.attach(key, draft.joint_near(key, (length / 2, at, 0.0)))
            owner = "W-SOUTH" if side == "S" else "W-NORTH"
            draft.support(node, SupportKind.SEAT, owner, key)
