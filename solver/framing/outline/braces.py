"""Braces and posts under hips, valleys and ridges of a drawn outline."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ...brief.model import Foot, FootOn
from ...errors import BriefError
from ...units import FOOT
from ..draft import MAIN, Draft
from ..hip_braces import raise_brace, reached
from ..model import Role
from ..struts import BRACE_FEET, FootPlace, stated_foot
from .lines import join
from .plan import OutlinePlan

Floats = NDArray[np.float64]
_FAR = 3 * FOOT  # a wall farther from plumb under a joint does not reach it


def add_braces(draft: Draft, plan: OutlinePlan) -> None:
    """Add the braces that the brief states, numbered up along each line.

    Raises:
        BriefError: a brace under a line that the roof does not have.
    """
    count: dict[str, int] = {}
    for part, brace in enumerate(draft.brief.hip_braces):
        key = str(brace.under)
        if key not in plan.lines:
            raise BriefError(
                f"hip_braces[{part}].under",
                brace.under,
                "one of " + ", ".join(sorted(plan.lines)),
            )
        if not draft.has(key):
            continue
        count[key] = count.get(key, 0) + 1
        _add(draft, plan, key, part, f"HB-{key}-{count[key]:02d}")


def _add(draft: Draft, plan: OutlinePlan, line: str, part: int, key: str) -> None:
    """Add one brace under a line of the plan."""
    brace, form = draft.brief.hip_braces[part], plan.form.lines[plan.lines[line]]
    raise_brace(
        draft, key, part, line, form.start + brace.at * (form.end - form.start),
        foot_of=lambda stated, top: _foot(draft, stated, top),
        head_of=lambda under, top: join(draft, under, top),
    )  # fmt: skip


def _foot(draft: Draft, stated: Foot, top: Floats) -> FootPlace:
    """Return the foot of a brace: plumb under its top, or on what is named."""
    x, y = stated.at or (float(top[0]), float(top[1]))
    if stated.on is FootOn.CEILING_JOIST:
        return _on_joist(draft, np.array([x, y, 0.0]))
    found = stated_foot(draft, stated, x, y, "X", None)
    return reached(stated, found, x, y)


def _on_joist(draft: Draft, place: Floats) -> FootPlace:
    """Return a foot on the joist nearest to a plan point."""
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
    if best is None:
        x, y, z = place.tolist()
        return FootPlace((x, y, z), BRACE_FEET, fault="no ceiling joist runs there")
    x, y, z = (float(v) for v in best[2])
    return FootPlace((x, y, z), MAIN, carrier=best[1])
