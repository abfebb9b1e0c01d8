"""Where feet stand over a drawn outline: plumb, or on what is named."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ...brief.model import Foot, FootOn
from ..draft import MAIN, Draft
from ..feet import BRACE_FEET, FootPlace, stated_foot
from ..hip_braces import reached
from ..model import Role

Floats = NDArray[np.float64]


def outline_foot(draft: Draft, stated: Foot, x: float, y: float) -> FootPlace:
    """Return the place of a stated foot that is nearest to a plan point."""
    x, y = stated.at or (x, y)
    if stated.on is FootOn.CEILING_JOIST:
        return foot_on_nearest_joist(draft, x, y)
    return reached(stated, stated_foot(draft, stated, x, y, "X", None), x, y)


def foot_on_nearest_joist(draft: Draft, x: float, y: float) -> FootPlace:
    """Return a foot on the joist nearest to a plan point."""
    found = nearest_joist(draft, x, y)
    if found is None:
        return FootPlace((x, y, 0.0), BRACE_FEET, fault="no ceiling joist runs there")
    key, point = found
    x, y, z = (float(v) for v in draft.joint_near(key, point))
    return FootPlace((x, y, z), MAIN, carrier=key)


def nearest_joist(draft: Draft, x: float, y: float) -> tuple[str, Floats] | None:
    """Return the joist nearest to a plan point and its nearest place, (3,) m."""
    place = np.array([x, y, 0.0])
    best: tuple[float, str, Floats] | None = None
    for key, piece in draft.members.items():
        if piece.member.role is not Role.CEILING_JOIST:
            continue
        way = piece.end - piece.start
        part = float(np.clip((place - piece.start) @ way / (way @ way), 0.0, 1.0))
        point = piece.start + part * way
        away = float(np.linalg.norm(point - place))
        if best is None or away < best[0] - 1e-9:
            best = (away, key, point)
    return None if best is None else best[1:]
