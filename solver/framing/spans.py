"""Where each member is held, and the spans between.

Connectivity alone: a purlin or a web counts as a hold whether it is stiff or not,
which is why a rafter's whole length from plate to ridge is a span of its own as well.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from .model import Framing, Member, Role

SLOPING = (
    Role.RAFTER,
    Role.JACK_RAFTER,
    Role.HIP_RAFTER,
    Role.VALLEY_RAFTER,
)

_PROPS = (Role.STRUT, Role.WEB, Role.POST, Role.JACK_STUD, Role.KNEE_STUD)
RIDGES = (Role.RIDGE_BOARD, Role.RIDGE_BEAM)


@dataclass(frozen=True)
class Span:
    """A stretch of a member between two holds.

    Attributes:
        member: key.
        start, end: m from the member's start.
        whole: True for a rafter's length over its purlins, or a joist's past its webs.
    """

    member: str
    start: float
    end: float
    whole: bool = False

    @property
    def length(self) -> float:
        """Length, m."""
        return self.end - self.start


def spans(framing: Framing) -> dict[str, list[Span]]:
    """Return the spans of every member that bends, in order; the whole one last."""
    held: dict[str, set[int]] = {}
    ground = {support.node for support in framing.supports}
    for contact in framing.contacts:
        if framing.members[contact.lower].spreads:
            continue  # it hangs from the joist, which hangs from nothing else there
        held.setdefault(contact.upper, set()).add(contact.upper_node)
    props = {
        m.nodes[-1] if m.role in (Role.STRUT, Role.WEB) else m.nodes[0]
        for m in framing.of_role(*_PROPS)
    }
    hung = {m.nodes[0] for m in framing.of_role(Role.WEB)}
    points: list[list[float]] = framing.points.tolist()
    out = {}
    for key, member in framing.members.items():
        if member.axial_only or not member.counted:
            continue
        nodes = _holds(member, held.get(key, set()), ground, props)
        webs = hung and hung & set(member.nodes[1:-1])
        if member.role is Role.CEILING_JOIST:
            nodes |= webs
        first = points[member.nodes[0]]
        places = sorted(math.dist(points[node], first) for node in nodes)
        found = [Span(key, a, b) for a, b in pairwise(places) if b - a > 1e-6]
        if (member.role in SLOPING or webs) and len(found) > 1:
            found.append(Span(key, places[0], places[-1], whole=True))
        out[key] = found
    return out


def _holds(
    member: Member, upper: set[int], ground: set[int], props: set[int]
) -> set[int]:
    """Return the nodes that hold a member from below or at its ends."""
    own = set(member.nodes)
    holds = (own & ground) | (own & upper)
    if member.role in SLOPING:
        holds |= {member.nodes[-1]} | (own & props)
        if not own & ground:  # from a valley, or from a joint within the roof
            holds |= {member.nodes[0]}
    elif member.role is Role.CEILING_JOIST:
        holds |= {member.nodes[0], member.nodes[-1]}
    elif member.role in (*RIDGES, Role.CURB, Role.LEDGER):
        holds |= {member.nodes[0], member.nodes[-1]} | (own & props)
    elif member.role in (Role.PURLIN, Role.BEAM, Role.HEADER):
        holds |= own & props
    return holds
