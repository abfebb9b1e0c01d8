"""End cuts of the pieces of a hip roof, so that they meet and do not cross.

Plumb cuts: jacks against the side of their hip (a cheek cut on the slope is a compound
cut), commons against the ridge board, king commons against the ridge end, hips square,
as far back from the ridge end as the kings beside them are thick. Geometry for the
drawing alone.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..basis.sections import section
from ..brief.model import Brief
from ..units import INCH
from .hip_layout import hip_stock
from .model import Framing, Member, Role

Floats = NDArray[np.float64]
Plane = tuple[Floats, Floats]  # a point and the normal

_CUT_HERE = (
    Role.RAFTER,
    Role.JACK_RAFTER,
    Role.HIP_RAFTER,
    Role.RIDGE_BOARD,
    Role.PLATE,
    Role.STUB_JOIST,
)


def is_cut_here(framing: Framing, member: Member) -> bool:
    """Return whether a member's cuts are those of a hip roof."""
    return framing.form is not None and member.role in _CUT_HERE


def hip_cuts(
    brief: Brief, framing: Framing, member: Member, start: Floats, end: Floats
) -> tuple[Plane, Plane]:
    """Return the two end cuts of a piece of a hip roof.

    Args:
        brief: says how thick its neighbours are.
        framing: of the roof.
        member: the piece.
        start: of its drawn middle line, m.
        end: of it.
    """
    way = end - start
    level = np.array([way[0], way[1], 0.0])
    level /= np.linalg.norm(level)
    if member.role is Role.HIP_RAFTER:
        half = hip_half(brief)
        tail = half * max(abs(level[0] / level[1]), abs(level[1] / level[0]))
        back = _hip_back(brief, framing, member, np.abs(level[:2]), half)
        return (start + level * tail, level), (end - level * back, level)
    if member.role is Role.JACK_RAFTER:
        return (start, level), _cheek(brief, framing, member, end, level)
    if member.role is Role.RAFTER:
        if member.slope in ("W", "E"):
            back = king_half(brief, framing, member.nodes[-1])
        else:
            back = section(brief.ridge.size, brief.ridge.plies).total_breadth / 2
        return (start, level), (end - level * back, level)
    if member.role is Role.RIDGE_BOARD:
        past = [king_half(brief, framing, member.nodes[n]) for n in (0, -1)]
        return (start - level * past[0], level), (end + level * past[1], level)
    if member.role is Role.PLATE:
        past = member.section.depth / 2 * (1 if member.slope in ("S", "N") else -1)
        return (start - level * past, level), (end + level * past, level)
    past = member.section.breadth / 2  # to the side of the first whole joist
    return (start - level * 1.75 * INCH, level), (end + level * past, level)


def hip_half(brief: Brief) -> float:
    """Return half the thickness of the hips, m."""
    stock = hip_stock(brief)
    return section(stock.size, stock.plies).total_breadth / 2


def king_half(brief: Brief, framing: Framing, peak: int) -> float:
    """Return half the thickness of side commons that meet at a ridge end, or 0."""
    for key in framing.by_node[peak]:
        member = framing.members[key]
        if member.role is Role.RAFTER and member.slope in ("S", "N"):
            return section(brief.rafters.size, brief.rafters.plies).total_breadth / 2
    return 0.0


def _hip_back(
    brief: Brief, framing: Framing, member: Member, level: Floats, half: float
) -> float:
    """Return how far short of the ridge end a hip is cut square, m on plan.

    Both its edges then touch the sides of the king commons, and none crosses them.
    """
    cos, sin = (float(v) for v in level)
    king = section(brief.rafters.size, brief.rafters.plies).total_breadth / 2
    beside = king_half(brief, framing, member.nodes[-1])
    ridge = section(brief.ridge.size, brief.ridge.plies).total_breadth / 2
    back = (max(king, ridge) + half * cos) / sin
    if beside:
        back = max(back, (beside + half * sin) / cos)
    return back


def _cheek(
    brief: Brief, framing: Framing, member: Member, end: Floats, level: Floats
) -> Plane:
    """Return the cut of a jack against the side of the hip that it ends on."""
    for key in framing.by_node[member.nodes[-1]]:
        if framing.members[key].role is Role.HIP_RAFTER:
            a, b = framing.ends(key)
            side = np.array([b[1] - a[1], a[0] - b[0], 0.0])
            side /= np.linalg.norm(side)
            toward = side if side @ level < 0 else -side
            return end + toward * hip_half(brief), toward
    return end, level
