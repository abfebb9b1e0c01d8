"""The drawn webs of site-built trusses: where they stand and how they are cut."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..basis.sections import section
from ..brief.model import Brief
from .model import Framing, Member, Role

Floats = NDArray[np.float64]
_LAP = 0.75  # of a rafter's depth that a strut's top laps over its side, drawn


def web_line(brief: Brief, framing: Framing, web: Member) -> tuple[Floats, Floats]:
    """Return the drawn line of a web: from the top of its joist to what it holds.

    A strut springs from the face of the king post, its lower edge at the joist.
    """
    foot, top = (p.copy() for p in framing.ends(web.key))
    aside = np.array(web.offset)
    foot[2] = _joist_top(framing, web)
    if web.slope is None:
        top[2] = _under_ridge(brief, framing, float(top[2]))
        return foot + aside, top + aside
    if web.group is not None:
        purlin = framing.members[f"P-{web.group}"]
        top[2] += purlin.offset[2] - purlin.section.depth / 2
    half = web.section.depth / 2
    foot[1] += half * (-1.0 if web.slope == "S" else 1.0)  # the face of the king post
    lean = float(np.hypot(*(top - foot)[1:]) / abs(top[1] - foot[1]))
    foot[2] += half * lean
    return foot + aside, top + aside


def web_cuts(
    brief: Brief, framing: Framing, web: Member, start: Floats, end: Floats
) -> tuple[tuple[Floats, Floats], tuple[Floats, Floats]]:
    """Return the cutting planes of a web's ends, each a point and a normal."""
    level, plumb = np.array([0.0, 0.0, 1.0]), np.array([0.0, 1.0, 0.0])
    if web.slope is None:
        return (start, level), (end, level)
    if web.group is not None:
        return (start, plumb), (end, level)
    up = np.array(framing.members[f"R-{web.slope}-{web.station:02d}"].up)
    seat = brief.rafters.seat_depth * up[2]
    reach = _LAP * section(brief.rafters.size).depth - seat
    return (start, plumb), (end + up * reach, up)


def _joist_top(framing: Framing, web: Member) -> float:
    """Return the height of the face that a web stands on, m."""
    for key in framing.by_node[web.nodes[0]]:
        member = framing.members[key]
        if member.role is Role.CEILING_JOIST:
            return member.offset[2] + member.section.depth / 2
    return 0.0


def _under_ridge(brief: Brief, framing: Framing, peak: float) -> float:
    """Return the height of the underside of the ridge piece, m."""
    ridge = framing.members.get("RIDGE")
    if ridge is None:
        return peak - brief.rafters.seat_depth
    return peak + ridge.offset[2] - ridge.section.depth / 2
