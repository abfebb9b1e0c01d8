"""End cuts of the pieces over a drawn outline, so that they meet and do not cross.

Plumb cuts. A jack is cut along the side of the hip, valley or ridge that it ends on. At
a point where several lines meet, ridges come first, then commons, valleys, hips and
jacks, and each is cut square as far back as clears those before it. Plates are mitred.
Geometry for the drawing alone.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ...units import INCH
from ..model import Framing, Member, Role, SupportKind
from .plan import OutlinePlan
from .plates import plate_key

Floats = NDArray[np.float64]
Plane = tuple[Floats, Floats]  # a point and the normal

HEEL = 1.75 * INCH  # from the plate line to the outer end of a joist
_NEAR = INCH / 4
_ORDER = (
    Role.RIDGE_BEAM,
    Role.RIDGE_BOARD,
    Role.CURB,
    Role.LEDGER,
    Role.RAFTER,
    Role.VALLEY_RAFTER,
    Role.HIP_RAFTER,
    Role.JACK_RAFTER,
)
_LINES = (
    Role.RIDGE_BEAM,
    Role.RIDGE_BOARD,
    Role.CURB,
    Role.LEDGER,
    Role.VALLEY_RAFTER,
    Role.HIP_RAFTER,
)
_CUT_HERE = (*_ORDER, Role.PLATE, Role.CEILING_JOIST, Role.PURLIN)


def is_cut_here(framing: Framing, member: Member) -> bool:
    """Return whether a member's cuts are those of a drawn outline."""
    return framing.plan is not None and member.role in _CUT_HERE


def outline_cuts(
    framing: Framing, member: Member, start: Floats, end: Floats
) -> tuple[Plane, Plane]:
    """Return the two end cuts of a piece over a drawn outline.

    Args:
        framing: of the roof.
        member: the piece.
        start: of its drawn middle line, m.
        end: of it.
    """
    assert framing.plan is not None
    way = end - start
    level = np.array([way[0], way[1], 0.0])
    level /= np.linalg.norm(level)
    if member.role is Role.PLATE and not member.counted:  # on top of a high wall
        return (start, level), (end, level)
    if member.role is Role.PLATE:
        return _mitres(framing.plan, member, start, end, level)
    if member.role is Role.PURLIN:
        first, last = framing.ends(member.key)
        return (
            _under_line(framing, first, start, level, -1.0),
            _under_line(framing, last, end, level, 1.0),
        )
    if member.role is Role.CEILING_JOIST:
        seats = {s.node for s in framing.supports if s.kind is SupportKind.SEAT}
        lapped = _lap_ends(framing, member)
        past = [
            HEEL if node in seats else lap
            for node, lap in zip(
                (member.nodes[0], member.nodes[-1]), lapped, strict=True
            )
        ]
        return (start - level * past[0], level), (end + level * past[1], level)
    return (
        _cut(framing, member, member.nodes[0], start, level, -1.0),
        _cut(framing, member, member.nodes[-1], end, level, 1.0),
    )


def _mitres(
    plan: OutlinePlan, member: Member, start: Floats, end: Floats, level: Floats
) -> tuple[Plane, Plane]:
    """Return the cuts of a plate, each along the bisector of its corner."""
    n = next(k for k, e in enumerate(plan.edges) if plate_key(e.name) == member.key)
    before, after = plan.edges[n - 1].way, plan.edges[(n + 1) % len(plan.edges)].way
    out = []
    for point, other in ((start, before), (end, after)):
        normal = level + np.array([*other, 0.0])
        out.append((point, normal / np.linalg.norm(normal)))
    return out[0], out[1]


def _lap_ends(framing: Framing, joist: Member) -> tuple[float, float]:
    """Return how far a joist goes past its two ends to lap with the next one, m."""
    line, bay = joist.key.rsplit("-", 1)
    both = (f"{line}-{int(bay) - 1}", f"{line}-{int(bay) + 1}")
    one, other = (4 * INCH if key in framing.members else 0.0 for key in both)
    return one, other


def _half(member: Member) -> float:
    """Return half the thickness of a piece, m."""
    return member.section.total_breadth / 2


def _cut(
    framing: Framing,
    member: Member,
    node: int,
    point: Floats,
    level: Floats,
    sign: float,
) -> Plane:
    """Return the cut at one end; sign is -1 at the start and 1 at the end."""
    here = [
        framing.members[key]
        for key in framing.by_node[node]
        if key != member.key and framing.members[key].role in _ORDER
    ]
    through = [
        m for m in here if m.role in _LINES and node not in (m.nodes[0], m.nodes[-1])
    ]
    ledgers = [m for m in here if m.role is Role.LEDGER and sign > 0]
    if member.role not in _LINES and len(ledgers or through) == 1:
        return _cheek(framing, (ledgers or through)[0], point, level, sign)
    if member.role not in _LINES and not here:
        valley = _valley_tail(framing, member, node)
        if valley is not None:
            return _cheek(framing, valley, point, level, sign)
    back = 0.0
    mine = -sign * level[:2]  # away from the joint
    for other in here:
        if _rank(other, node) < _rank(member, node):
            back = max(back, _back(framing, other, node, mine, _half(member)))
    return point - sign * level * back, level


def _rank(member: Member, node: int) -> tuple[bool, int, str]:
    """Return the place of a piece in the order in which they are set at a joint.

    What runs through comes first.
    """
    ends = node in (member.nodes[0], member.nodes[-1])
    return ends, _ORDER.index(member.role), member.key


def _back(
    framing: Framing, other: Member, node: int, mine: Floats, half: float
) -> float:
    """Return how far from a joint a piece clears another one, m on plan."""
    ways = []
    points = framing.points[list(other.nodes)][:, :2]
    at = other.nodes.index(node)
    for end in (0, -1):
        way = points[end] - points[at]
        if np.hypot(*way) > _NEAR:
            ways.append(way / np.hypot(*way))
    back = 0.0
    for way in ways:
        cos = float(way @ mine)
        sin = abs(float(way[0] * mine[1] - way[1] * mine[0]))
        if sin < 1e-6:
            continue
        if cos >= 0:
            back = max(back, (_half(other) + half * cos) / sin)
        else:  # past the corner of its square end
            back = max(back, sin * min(_half(other), half / max(-cos, 1e-9)))
    return back


def _cheek(
    framing: Framing, line: Member, point: Floats, level: Floats, sign: float
) -> Plane:
    """Return the cut of a rafter along the side of the line that it ends on."""
    a, b = framing.ends(line.key)
    side = np.array([b[1] - a[1], a[0] - b[0], 0.0])
    side /= np.linalg.norm(side)
    normal = side if side @ level > 0 else -side
    toward = -sign * normal
    return point + toward * (
        _half(line) + float(toward @ np.array(line.offset))
    ), normal


def _under_line(
    framing: Framing, joint: Floats, point: Floats, level: Floats, sign: float
) -> Plane:
    """Return the cut of a purlin at the side of the hip or valley it ends under."""
    for line in framing.of_role(Role.HIP_RAFTER, Role.VALLEY_RAFTER):
        a, b = framing.ends(line.key)
        way, gap = (b - a)[:2], (joint - a)[:2]
        run = float(np.hypot(*way))
        aside = abs(float(way[0] * gap[1] - way[1] * gap[0])) / run
        if aside < INCH and -INCH < float(gap @ way) / run < run + INCH:
            return _cheek(framing, line, point, level, sign)
    return point, level


def _valley_tail(framing: Framing, member: Member, node: int) -> Member | None:
    """Return the valley that a rafter's tail ends on, or None."""
    place = framing.points[node]
    for valley in framing.of_role(Role.VALLEY_RAFTER):
        a, b = framing.ends(valley.key)
        way = (b - a)[:2] / np.hypot(*(b - a)[:2])
        gap = (place - a)[:2]
        aside = abs(float(way[0] * gap[1] - way[1] * gap[0]))
        on = -_NEAR < float(gap @ way) < float(np.hypot(*(b - a)[:2])) + _NEAR
        if aside < INCH and on and member.nodes[0] == node:
            return valley
    return None
