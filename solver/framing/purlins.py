"""Purlin lines under the rafters."""

from __future__ import annotations

import math

from ..basis.sections import section
from ..brief.braces import purlin_plan, purlin_reach
from ..brief.model import Brief, Orientation, Purlin, Slope
from .common_rafters import rafter_rise, roof_point, slope_up
from .draft import Draft
from .hips import rafter_at
from .model import Role
from .plan import TOUCH

PURLIN_LAYER = "purlin"


def purlin_key(name: str) -> str:
    """Return the key of a purlin line."""
    return f"P-{name}"


def purlin_side(purlin: Purlin) -> str:
    """Return ``S`` or ``N``, the slope of a purlin line."""
    return "S" if purlin.slope is Slope.SOUTH else "N"


def purlin_drop(brief: Brief, purlin: Purlin) -> float:
    """Return how far below its joint line the middle of a purlin is drawn, plumb."""
    angle = math.atan(brief.roof.pitch)
    rafter = section(brief.rafters.size).depth / 2 / math.cos(angle)
    own = section(purlin.size)
    if purlin.orientation is Orientation.SQUARE:
        half = own.depth / 2 / math.cos(angle)
    else:  # its upper edge touches the rafters with one corner
        half = own.depth / 2 + own.breadth * purlin.plies / 2 * math.tan(angle)
    return rafter_rise(brief) - rafter - half


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
            roof_point(brief, side, low, plan),
            roof_point(brief, side, high, plan),
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
        for k, x in enumerate(draft.rafter_stations):
            rafter = rafter_at(draft, side, k)
            if rafter is None or not low - 1e-6 <= x <= high + 1e-6:
                continue
            point = roof_point(brief, side, x, plan)
            if draft.members[rafter].end[2] - point[2] > TOUCH * brief.roof.pitch:
                draft.contact(
                    rafter,
                    key,
                    draft.attach(rafter, point),
                    draft.attach(key, point, PURLIN_LAYER),
                )
