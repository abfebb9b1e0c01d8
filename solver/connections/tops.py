"""Where sloping members end on a hip, a valley or the ridge, and where hips stand.

A member that presses on the face of the one that carries it needs no nail for that; the
nails hold what slides along the face and what pulls away from it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
from numpy.typing import NDArray

from ..basis.irc.ties import LEAST_TOP_NAILS, TOP_NAILS
from ..brief.model import Brief
from ..framing.model import Framing, Member, Role
from .forces import MemberForces
from .model import Joint, JointKind
from .nail_values import NailValues

Floats = NDArray[np.float64]
Make = Callable[..., Iterator[Joint]]
Toe = Callable[[str, str, str], NailValues | None]
Face = Callable[[str, str], NailValues | None]
# What carries the end of another, the first of these where several meet.
_CARRIERS = (
    Role.RIDGE_BEAM,
    Role.RIDGE_BOARD,
    Role.CURB,
    Role.LEDGER,
    Role.VALLEY_RAFTER,
    Role.HIP_RAFTER,
)
_SLOPING = (
    Role.RAFTER,
    Role.JACK_RAFTER,
    Role.HIP_RAFTER,
    Role.VALLEY_RAFTER,
)
_KINDS = {
    Role.RIDGE_BOARD: JointKind.RIDGE,
    Role.RIDGE_BEAM: JointKind.RIDGE,
    Role.CURB: JointKind.CURB,
    Role.LEDGER: JointKind.LEDGER,
    Role.HIP_RAFTER: JointKind.HIP,
    Role.VALLEY_RAFTER: JointKind.VALLEY,
}
_PRESSED = "What presses on the face of the other needs no nail and is not counted."
_HANGER = "A beam that hangs rafters on its face is often given hangers instead."


def top_joints(
    brief: Brief, framing: Framing, force: MemberForces, make: Make, toe: Toe
) -> Iterator[Joint]:
    """Yield the ends of rafters, jacks, hips and valleys on what carries them.

    Args:
        brief: of the roof.
        framing: of the roof.
        force: of its members.
        make: makes a joint that has anything to do.
        toe: value of a toe-nail by its name and the two members.
    """
    name = brief.rafters.toe_nail
    for key in list(force.row):
        member = framing.members[key]
        if member.role not in _SLOPING:
            continue
        for last in (False, True):
            node = member.nodes[-1 if last else 0]
            carrier = _carrier(framing, force, member, node)
            if carrier is None:
                continue
            push = force.at_end(key) if last else force.at_start(key)
            slide, pull = on_a_face(push, _away(framing, member, carrier, last))
            beam = carrier.role is Role.RIDGE_BEAM
            yield from make(
                f"ON-{key}-{carrier.key}",
                _KINDS[carrier.role],
                (key, carrier.key),
                node,
                slide,
                pull,
                toe(name, key, carrier.key),
                stated=brief.rafters.top_nails,
                least=LEAST_TOP_NAILS,
                rule=TOP_NAILS,
                note=f"{_PRESSED} {_HANGER}" if beam else _PRESSED,
            )


def hip_heels(
    brief: Brief, framing: Framing, force: MemberForces, make: Make, toe: Toe
) -> Iterator[Joint]:
    """Yield the seat of each hip or valley on the plates, and the plates' own lap.

    At a corner nothing ties the hip but the plates: the nails of its seat hand them
    all of its push, each its own part.
    """
    for support in framing.supports:
        key = support.member
        role = framing.members[key].role if key in framing.members else None
        if role not in (Role.HIP_RAFTER, Role.VALLEY_RAFTER) or key not in force.row:
            continue
        own = force.at(key, support.node)
        yield from make(
            f"PLATE-{key}",
            JointKind.PLATE,
            (key, support.owner),
            support.node,
            np.hypot(own[:, 0], own[:, 1]),
            np.maximum(own[:, 2], 0.0),
            toe(brief.rafters.toe_nail, key, support.owner),
            stated=brief.rafters.plate_nails,
        )


def plate_corners(
    framing: Framing, force: MemberForces, make: Make, face: Face
) -> Iterator[Joint]:
    """Yield the lap of each two plates that meet at a corner, with the greater pull.

    A hip that is nailed to one of the two hands the other its part through the lap.
    """
    ends: dict[int, list[tuple[str, Floats]]] = {}
    for plate in framing.of_role(Role.PLATE):
        if plate.key in force.row:
            for last, node in ((False, plate.nodes[0]), (True, plate.nodes[-1])):
                push = force.at_end(plate.key) if last else force.at_start(plate.key)
                start, end = framing.ends(plate.key)
                along = (end - start) / np.linalg.norm(end - start)
                pull = push @ (-along if last else along)
                ends.setdefault(node, []).append((plate.key, np.maximum(pull, 0.0)))
    for node, found in ends.items():
        if len(found) == 2:
            (one, pull), (other, second) = found
            yield from make(
                f"CORNER-{one}-{other}",
                JointKind.CORNER,
                (one, other),
                node,
                np.maximum(pull, second),
                np.zeros_like(pull),
                face(one, other),
            )


def on_a_face(push: Floats, away: Floats) -> tuple[Floats, Floats]:
    """Return what slides along a face and what pulls away from it, (c,) N.

    Args:
        push: (c, 3) N, force of the member on the joint.
        away: (3,) unit vector square to the face, toward the member.
    """
    square = push @ away
    slide = np.linalg.norm(push - square[:, None] * away, axis=1)
    return slide, np.maximum(square, 0.0)


def _carrier(
    framing: Framing, force: MemberForces, member: Member, node: int
) -> Member | None:
    """Return what carries the end of a member at a node, None for none."""
    met = [framing.members[key] for key in framing.by_node[node] if key in force.row]
    order = _CARRIERS.index
    rank = order(member.role) if member.role in _CARRIERS else len(_CARRIERS)
    found = [m for m in met if m.role in _CARRIERS and order(m.role) < rank]
    return min(found, key=lambda m: order(m.role), default=None)


def _away(framing: Framing, member: Member, carrier: Member, last: bool) -> Floats:
    """Return the level unit vector square to the carrier's face, toward the member.

    A member in line with what carries it ends on its end grain: its own direction.
    """
    start, end = framing.ends(member.key)
    own = (start - end if last else end - start)[:2]
    low, high = framing.ends(carrier.key)
    along = (high - low)[:2] / np.linalg.norm((high - low)[:2])
    square = own - (own @ along) * along
    if np.linalg.norm(square) < 0.1 * np.linalg.norm(own):
        square = own
    return np.append(square / np.linalg.norm(square), 0.0)
