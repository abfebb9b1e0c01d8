"""Stub joists over a drawn outline: kickers from feet that no joist ties.

Where the joists run beside a wall, the feet of its rafters have nothing but the plate.
A stub joist runs square in from each foot to the first joist that it meets, strapped
over the joists beyond (common practice, no source).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ...basis.sections import section
from ...units import FOOT
from ..draft import Draft
from ..model import Role, SupportKind
from ..plan import TOUCH
from .plan import OutlinePlan

Floats = NDArray[np.float64]
_FEET = (Role.RAFTER, Role.JACK_RAFTER)
_ACROSS = np.sin(np.radians(60))
_BESIDE = 1 * FOOT
_LONGEST = 8 * FOOT  # a joist farther in is none of that wall's
_END = "stub"
STUBS = "H-STUBS"


def add_stub_joists(draft: Draft, plan: OutlinePlan) -> None:
    """Add the stub joists that the brief asks for."""
    brief, joists = draft.brief, draft.brief.ceiling_joists
    if brief.hips is None or not brief.hips.stub_joists or joists is None:
        return
    seats = {s.node for s in draft.supports if s.kind is SupportKind.SEAT}
    tied = {
        node
        for piece in draft.members.values()
        if piece.member.role is Role.CEILING_JOIST
        for node in piece.stations.values()
    }
    made = section(joists.size)
    for piece in list(draft.members.values()):
        member = piece.member
        feet = [n for n in piece.stations.values() if n in seats]
        if member.role not in _FEET or not feet or feet[0] in tied:
            continue
        foot = np.array(draft.points[feet[0]])
        way = (piece.end - piece.start)[:2]
        way = way / np.hypot(*way)
        reach = _first_joist(draft, foot[:2], way)
        if reach is None or reach > _LONGEST or _at_valley(plan, foot[:2]):
            continue
        end = foot + np.array([*way, 0.0]) * reach
        key = f"SJ-{member.slope}-{member.station:02d}"
        added = draft.add(
            key,
            Role.STUB_JOIST,
            foot,
            end,
            joists,
            end_layer=_END,
            up=(0.0, 0.0, 1.0),
            axial_only=True,
            slope=member.slope,
            station=member.station,
            offset=(*(np.array([-way[1], way[0]]) * made.breadth), made.depth / 2),
        )
        if added:
            node = draft.node(end, _END)
            draft.support(node, SupportKind.STRAPPED, STUBS, key)


def _at_valley(plan: OutlinePlan, foot: Floats) -> bool:
    """Return whether a foot stands where a valley's tail takes the room."""
    starts = [line.start[:2] for line in plan.form.valleys]
    return any(float(np.hypot(*(start - foot))) < _BESIDE for start in starts)


def _first_joist(draft: Draft, foot: Floats, way: Floats) -> float | None:
    """Return how far in from a foot the first joist runs across its way, m, or None."""
    best: float | None = None
    for piece in draft.members.values():
        if piece.member.role is not Role.CEILING_JOIST:
            continue
        along, gap = (piece.end - piece.start)[:2], piece.start[:2] - foot
        length = float(np.hypot(*along))
        sine = float(way[0] * along[1] - way[1] * along[0]) / length
        if abs(sine) < _ACROSS:
            continue
        reach = float(gap[0] * along[1] - gap[1] * along[0]) / length / sine
        at = float(gap[0] * way[1] - gap[1] * way[0]) / sine
        inside = -TOUCH < at < length + TOUCH
        if inside and reach > TOUCH and (best is None or reach < best):
            best = reach
    return best
