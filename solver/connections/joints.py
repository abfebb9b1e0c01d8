"""Every nailed joint of a roof, found from what meets what.

Receives brief, framing and solved forces; adds the joints in the order of their kinds.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..basis.irc.ties import (
    HEEL_JOINT,
    JOIST_LAP,
    LEAST_HEEL_NAILS,
    LEAST_TOP_NAILS,
    TOP_NAILS,
)
from ..basis.materials import reference_values
from ..basis.sections import section
from ..brief.model import Brief
from ..errors import ScopeError
from ..framing.common_rafters import PLATE, rafter_key
from ..framing.model import Framing, Member, Role, SupportKind
from ..framing.struts import all_struts, is_hip_brace, strut_group
from ..idealise.model import Model
from ..loads.combine import Combinations
from .forces import MemberForces
from .model import Joint, JointKind
from .nail_values import NailValues, face_nails, toe_nails
from .tops import hip_heels, plate_corners, top_joints

Floats = NDArray[np.float64]
_TIES = (Role.CEILING_JOIST, Role.RAFTER_TIE)
_NOTHING = 0.5  # N: less than this is arithmetic
_PLUMB = "It stands plumb: these nails only keep it in place."
_FRICTION = "Friction under the load is not counted on."


def find_joints(
    brief: Brief,
    framing: Framing,
    model: Model,
    result: FrameResult,
    combos: Combinations,
) -> tuple[Joint, ...]:
    """Return the nailed joints of all analysed members.

    Args:
        brief: of the roof.
        framing: of the roof.
        model: of the roof.
        result: its forces.
        combos: names and load duration factors of the combinations.
    """
    finder = _Finder(brief, framing, model, result, combos)
    return (
        *finder.heels(),
        *finder.laps(),
        *finder.strut_ends(),
        *finder.tie_ends(),
        *finder.plate_seats(),
        *finder.contact_seats(),
        *finder.ridge(),
        *finder.tops(),
    )


def states_nails(brief: Brief) -> bool:
    """Return whether a brief says how many nails any of its joints has."""
    heel, rafters = brief.heel_joint, brief.rafters
    ties = [t.end_nails for t in (brief.collar_ties, brief.rafter_ties) if t]
    braces = (*all_struts(brief), *brief.hip_braces)
    struts = [n for s in braces for n in (s.foot_nails, s.top_nails)]
    counts = (heel.count, heel.lap_count, rafters.plate_nails, rafters.purlin_nails)
    counts = (*counts, rafters.top_nails, *ties, *struts)
    return any(count is not None for count in counts)


class _Finder:
    """Walks the members of the analysis and yields their joints."""

    def __init__(
        self,
        brief: Brief,
        framing: Framing,
        model: Model,
        result: FrameResult,
        combos: Combinations,
    ):
        self.brief, self.framing, self.model = brief, framing, model
        self.result, self.combos = result, combos
        self.force = MemberForces(framing, model, result)
        self.feet = self._feet()

    def _feet(self) -> dict[int, str]:
        """Return the seat node of each analysed rafter to its key."""
        seats = {s.node for s in self.framing.supports if s.kind is SupportKind.SEAT}
        return {
            node: rafter.key
            for rafter in self.framing.of_role(Role.RAFTER, Role.JACK_RAFTER)
            if rafter.key in self.force.row
            for node in rafter.nodes
            if node in seats
        }

    def _ties_at(self, node: int) -> list[tuple[str, Floats]]:
        """Return ties that end on a node, with their force on it."""
        found = []
        for key in self.framing.by_node.get(node, ()):
            member = self.framing.members[key]
            if member.role in _TIES and key in self.force.row:
                if node == member.nodes[0]:
                    found.append((key, self.force.at_start(key)))
                elif node == member.nodes[-1]:
                    found.append((key, self.force.at_end(key)))
        return found

    def heels(self) -> Iterator[Joint]:
        """Yield the joint of each rafter foot with the tie beside it."""
        for node, rafter in self.feet.items():
            for tie, pull in self._ties_at(node):
                foot = self.framing.members[rafter]
                is_joist = self.framing.members[tie].role is Role.CEILING_JOIST
                ties = self.brief.rafter_ties
                stated = self.brief.heel_joint.count
                if not is_joist and ties is not None:
                    stated = stated if ties.end_nails is None else ties.end_nails
                yield self._joint(
                    f"HEEL-{foot.slope}-{foot.station:02d}",
                    JointKind.HEEL,
                    (rafter, tie),
                    node,
                    self._along(tie, pull),
                    self._face(tie, rafter),
                    stated=stated,
                    least=LEAST_HEEL_NAILS,
                    rule=HEEL_JOINT,
                )

    def _along(self, tie: str, pull: Floats) -> Floats:
        """Return the size of a tie's force across the ridge, or along a joist."""
        if self.framing.plan is None:
            return np.abs(pull[:, 1])
        start, end = self.framing.ends(tie)
        return np.abs(pull @ ((end - start) / np.linalg.norm(end - start)))

    def _outward(self, wall: str, force: Floats) -> Floats:
        """Return the size of a force square to an outer wall."""
        if self.framing.plan is None:
            return np.abs(force[:, 0 if wall in ("W-WEST", "W-EAST") else 1])
        for edge in self.framing.plan.edges:
            if wall == f"W-{edge.name}":
                return np.abs(force[:, :2] @ edge.outward)
        return np.hypot(force[:, 0], force[:, 1])  # a corner

    def laps(self) -> Iterator[Joint]:
        """Yield the lap of each two joists that meet over an interior line."""
        for joist in self.framing.of_role(Role.CEILING_JOIST):
            line, bay = joist.key.rsplit("-", 1)
            other = f"{line}-{int(bay) + 1}"
            if joist.key not in self.force.row or other not in self.force.row:
                continue
            start, end = self.framing.ends(joist.key)
            along = (end - start) / np.linalg.norm(end - start)
            pulls = np.stack([self.force.at_end(joist.key), self.force.at_start(other)])
            yield self._joint(
                f"LAP-{line.removeprefix('CJ-')}-{bay}",
                JointKind.LAP,
                (joist.key, other),
                joist.nodes[-1],
                np.abs(pulls @ along).max(axis=0),
                self._face(joist.key, other),
                stated=self.brief.heel_joint.lap_count,
                least=LEAST_HEEL_NAILS,
                rule=JOIST_LAP,
            )

    def strut_ends(self) -> Iterator[Joint]:
        """Yield foot and top of each strut; the push sideways is on the nails."""
        for strut in self.framing.of_role(Role.STRUT):
            if strut.key not in self.force.row:
                continue
            group = strut_group(self.brief, strut)
            over = str(strut.group) if is_hip_brace(strut) else f"P-{strut.group}"
            for kind, node, push, other, stated in (
                (JointKind.STRUT_FOOT, strut.nodes[0], self.force.at_start(strut.key),
                 self._under(strut), group.foot_nails),
                (JointKind.STRUT_TOP, strut.nodes[-1], self.force.at_end(strut.key),
                 over, group.top_nails),
            ):  # fmt: skip
                sideways = np.hypot(push[:, 0], push[:, 1])
                plumb = bool(sideways.max() < _NOTHING)
                yield self._joint(
                    f"{'FOOT' if kind is JointKind.STRUT_FOOT else 'TOP'}-{strut.key}",
                    kind,
                    (strut.key, other),
                    node,
                    np.zeros_like(sideways) if plumb else sideways,
                    self._toe(group.toe_nail, strut.key, other),
                    stated=stated,
                    note=_PLUMB if plumb else _FRICTION,
                )

    def _under(self, strut: Member) -> str:
        """Return what a strut stands on: a member's key or a support's owner."""
        node = strut.nodes[0]
        for support in self.framing.supports:
            if support.node == node and support.kind is SupportKind.FOOT:
                return support.owner
        for key in self.framing.by_node[node]:
            if self.framing.members[key].role not in (Role.STRUT, Role.PLATE):
                return key
        return ""

    def tie_ends(self) -> Iterator[Joint]:
        """Yield both ends of each collar tie and of each tie above the plate."""
        stated = {
            Role.COLLAR_TIE: self.brief.collar_ties,
            Role.RAFTER_TIE: self.brief.rafter_ties,
        }
        for tie in self.framing.of_role(*stated):
            if tie.key not in self.force.row or tie.nodes[0] in self.feet:
                continue
            ties = stated[tie.role]
            for side, node, pull in (
                ("S", tie.nodes[0], self.force.at_start(tie.key)),
                ("N", tie.nodes[-1], self.force.at_end(tie.key)),
            ):
                rafter = self._tied_rafter(tie, side, node)
                yield self._joint(
                    f"END-{tie.key}-{side}",
                    JointKind.TIE_END,
                    (tie.key, rafter),
                    node,
                    self._along(tie.key, pull),
                    self._face(tie.key, rafter),
                    stated=None if ties is None else ties.end_nails,
                )

    def _tied_rafter(self, tie: Member, side: str, node: int) -> str:
        """Return the rafter that an end of a tie is nailed to."""
        if tie.station is not None:
            return rafter_key(side, tie.station)
        here = (self.framing.members[key] for key in self.framing.by_node[node])
        return next(m.key for m in here if m.role is Role.RAFTER)

    def plate_seats(self) -> Iterator[Joint]:
        """Yield the seat of each rafter or lone joist that lifts or pushes its plate.

        What a tie at the same place holds does not go through the plate.
        """
        for support in self.framing.supports:
            node, wall = support.node, support.owner
            if support.kind is not SupportKind.SEAT:
                continue
            rafter = self.feet.get(node)
            ties = self._ties_at(node)
            key = rafter or (ties[0][0] if ties else "")
            if not key:
                continue
            own = self.force.at(rafter, node) if rafter else self.force.none
            across = own + sum((pull for _, pull in ties), self.force.none)
            yield from self._if_needed(
                f"PLATE-{key}",
                JointKind.PLATE,
                (key, wall),
                node,
                self._outward(wall, across),
                np.maximum(own[:, 2], 0.0),
                self._toe(self.brief.rafters.toe_nail, key, wall),
                stated=self.brief.rafters.plate_nails if rafter else None,
            )

    def contact_seats(self) -> Iterator[Joint]:
        """Yield the seats on purlins and beams that slide or hang."""
        pairs = self.model.contact_links
        for n, (vertical, sideways) in zip(self.model.contacts, pairs, strict=True):
            contact = self.framing.contacts[n]
            push = self.result.link_force[:, vertical]
            slide = np.abs(self.result.link_force[:, sideways])
            upper = self._counted(contact.upper, contact.upper_node)
            lower = self._counted(contact.lower, contact.lower_node)
            on_purlin = self.framing.members[lower].role is Role.PURLIN
            yield from self._if_needed(
                f"SEAT-{upper}-{lower}",
                JointKind.SEAT,
                (upper, lower),
                contact.upper_node,
                slide,
                np.maximum(-push, 0.0),
                self._toe(self.brief.rafters.toe_nail, upper, lower),
                stated=self.brief.rafters.purlin_nails if on_purlin else None,
            )

    def _counted(self, key: str, node: int) -> str:
        """Return a member, or where it is not analysed another at the same joint."""
        known = [k for k in self.framing.by_node[node] if k in self.force.row]
        return key if key in known else known[0]

    def ridge(self) -> Iterator[Joint]:
        """Yield the joint of each pair at a ridge board: shear, and pull apart."""
        if "RIDGE" not in self.framing.members or "RIDGE" in self.force.row:
            return
        for rafter in self.framing.of_role(Role.RAFTER):
            north = rafter_key("N", rafter.station or 0)
            known = {rafter.key, north} <= set(self.force.row)
            if rafter.slope != "S" or not known:
                continue
            push = self.force.at_end(rafter.key)
            yield from self._if_needed(
                f"RIDGE-{rafter.station:02d}",
                JointKind.RIDGE,
                (rafter.key, "RIDGE"),
                rafter.nodes[-1],
                np.abs(push[:, 2]),
                np.maximum(-push[:, 1], 0.0),
                self._toe(self.brief.rafters.toe_nail, rafter.key, "RIDGE"),
                stated=self.brief.rafters.top_nails,
                least=LEAST_TOP_NAILS,
                rule=TOP_NAILS,
            )

    def tops(self) -> Iterator[Joint]:
        """Yield what ends on a hip, a valley or a ridge, and the seats of hips."""
        known = self.brief, self.framing, self.force, self._if_needed
        yield from top_joints(*known, self._toe)
        yield from hip_heels(*known, self._toe)
        yield from plate_corners(self.framing, self.force, self._if_needed, self._face)

    def _if_needed(
        self,
        key: str,
        kind: JointKind,
        members: tuple[str, str],
        node: int,
        lateral: Floats,
        withdrawal: Floats,
        each: NailValues | None,
        **rest: object,
    ) -> Iterator[Joint]:
        """Yield a joint whose nails have anything to do."""
        if max(lateral.max(), withdrawal.max()) > _NOTHING:
            yield self._joint(
                key, kind, members, node, lateral, each, withdrawal, **rest
            )

    def _joint(
        self,
        key: str,
        kind: JointKind,
        members: tuple[str, str],
        node: int,
        lateral: Floats,
        each: NailValues | None,
        withdrawal: Floats | None = None,
        **rest: object,
    ) -> Joint:
        """Return one joint."""
        x, y, z = (float(v) for v in self.framing.points[node])
        return Joint(
            key=key,
            kind=kind,
            members=members,
            point=(x, y, z),
            lateral=lateral,
            withdrawal=np.zeros_like(lateral) if withdrawal is None else withdrawal,
            each=each,
            combinations=self.combos.names,
            **rest,  # type: ignore[arg-type]
        )

    def _face(self, side: str, main: str) -> NailValues | None:
        """Return the heel nail through the thinner member, else through the other."""
        pieces = sorted([self._piece(side), self._piece(main)])
        for head, point in (pieces, pieces[::-1]):
            try:
                return face_nails(
                    self.brief.heel_joint.nail, head, point, self.combos.C_D
                )
            except ScopeError:
                continue
        return None

    def _toe(self, name: str, side: str, main: str) -> NailValues | None:
        """Return a toe-nail through the end of one member into another."""
        depth = self._piece(main)[0]
        if main in self.framing.members:
            member = self.framing.members[main]
            depth = member.section.depth
            if member.role is Role.RIDGE_BOARD:
                depth = member.section.total_breadth
        try:
            return toe_nails(
                name, self._piece(side)[1], (depth, self._piece(main)[1]),
                self.combos.C_D,
            )  # fmt: skip
        except ScopeError:
            return None

    def _piece(self, key: str) -> tuple[float, float]:
        """Return breadth of a ply and specific gravity; a wall is its plates."""
        member = self.framing.members.get(key)
        if member is None:
            made = section(PLATE.size, PLATE.plies)
            return made.total_breadth, _gravity(PLATE.species, PLATE.grade, made)
        made = member.section
        return made.breadth, _gravity(member.species, member.grade, made)


def _gravity(species: str, grade: str, made: object) -> float:
    """Return the specific gravity of a piece."""
    return reference_values(species, grade, made).G  # type: ignore[arg-type]
