"""Where rafters and joists are cut at the plates: birdsmouth and sloping joist end.

Geometry of the drawn pieces alone: a rafter sits on the plate by its birdsmouth, and a
joist beside it is cut to the slope where its corner would stand above the roof.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..basis.sections import section
from ..brief.model import Brief, JoistDirection
from ..brief.outline import flattest_at_plate, is_outline
from ..units import INCH
from .beams import CLEAR
from .common_rafters import PLATE
from .model import Framing, Member, Role, SupportKind

_HAIR = 1e-9  # m, rounding cuts nothing
_SEATED = (
    Role.RAFTER,
    Role.JACK_RAFTER,
    Role.HIP_RAFTER,
    Role.VALLEY_RAFTER,
)


@dataclass(frozen=True, kw_only=True)
class EndCut:
    """What is left of a member where it bears on an outer plate.

    Attributes:
        member: key.
        node: joint on the plate.
        remaining: m, square to the member's axis: at the corner of a birdsmouth, or of
            a joist over the inner face of the plate.
        beyond: m, how far a sloping cut goes on past that face; 0 for a birdsmouth.
        on_tension_side: True for a birdsmouth.
    """

    member: str
    node: int
    remaining: float
    beyond: float
    on_tension_side: bool


def end_cuts(brief: Brief, framing: Framing) -> list[EndCut]:
    """Return every cut at the plates that takes some of a member's depth."""
    found = []
    for support in framing.supports:
        if support.kind is SupportKind.FOOT:
            beam = framing.members[support.member]
            cut = _beam_end(brief, framing, beam, support.node)
            found += [] if cut is None else [cut]
        if support.kind is not SupportKind.SEAT:
            continue
        for key in framing.by_node.get(support.node, ()):
            member = framing.members[key]
            cut = None
            if member.role in _SEATED:
                cut = _birdsmouth(framing, member, support.node)
            elif member.role is Role.CEILING_JOIST:
                cut = _joist_end(brief, member, support.node)
            if cut is not None:
                found.append(cut)
    return found


def birdsmouth_depth(brief: Brief) -> float:
    """Return how deep the birdsmouth is, square to the rafter, m."""
    return brief.rafters.seat_depth * math.cos(math.atan(brief.roof.pitch))


def seat_below(framing: Framing, member: Member) -> float:
    """Return how far the underside of a drawn piece lies below its joint line, m.

    Plumb; on the plate that is the depth of its seat, as its own slope and depth and
    the height of its top make it: a hip is deeper than the rafters beside it, and its
    top lies as theirs. 0 where it lies above.
    """
    start, end = framing.ends(member.key)
    slope = float((end[2] - start[2]) / math.hypot(*(end - start)[:2]))
    deep = member.section.depth / 2 * math.hypot(1.0, slope) - member.offset[2]
    return max(deep, 0.0)


def _birdsmouth(framing: Framing, member: Member, node: int) -> EndCut | None:
    """Return the birdsmouth of a rafter, hip or valley, None where it has none."""
    start, end = framing.ends(member.key)
    run, length = math.hypot(*(end - start)[:2]), math.dist(end, start)
    depth = seat_below(framing, member) * run / length
    left = member.section.depth - depth
    if depth < _HAIR or left <= 0:
        return None
    return EndCut(
        member=member.key,
        node=node,
        remaining=left,
        beyond=0.0,
        on_tension_side=True,
    )


def _joist_end(brief: Brief, member: Member, node: int) -> EndCut | None:
    """Return the sloping cut of a joist's end, None where it keeps its depth.

    The roof's underside lies the plumb depth of a rafter less its seat above the
    plate line, and rises from there; the joist lies on the plate.
    """
    joists = brief.ceiling_joists
    if (
        joists is None
        or not joists.ends_cut
        or joists.direction is not JoistDirection.ACROSS
    ):
        return None
    return _sloping_cut(brief, member, node, 0.0)


def _beam_end(brief: Brief, framing: Framing, beam: Member, node: int) -> EndCut | None:
    """Return the sloping cut of a beam's end among the joists, None where it has none.

    It runs across the ridge, and its ends lie under the rafters as those of joists.
    """
    start, end = framing.ends(beam.key)
    across = abs(end[1] - start[1]) > abs(end[0] - start[0])
    y = float(framing.points[node][1])
    outer = min(abs(y), abs(brief.footprint.width - y)) < INCH
    if not (beam.clear and across and outer):
        return None
    return _sloping_cut(brief, beam, node, CLEAR)


def _sloping_cut(
    brief: Brief, member: Member, node: int, raised: float
) -> EndCut | None:
    """Return what the roof leaves of the end of a piece on the plate, if not all.

    Args:
        brief: of the roof.
        member: the piece.
        node: its joint on the plate.
        raised: m, its underside above the plate.
    """
    pitch = flattest_at_plate(brief) if is_outline(brief) else brief.roof.pitch
    plumb = section(brief.rafters.size).depth * math.hypot(1.0, pitch)
    inner = section(PLATE.size).depth / 2  # from the plate line to its inner face
    room = plumb - brief.rafters.seat_depth + inner * pitch - raised
    if room >= member.section.depth:
        return None
    return EndCut(
        member=member.key,
        node=node,
        remaining=room,
        beyond=(member.section.depth - room) / pitch,
        on_tension_side=False,
    )
