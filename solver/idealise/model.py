"""The analysis model of a framing: one element per stretch between joints.

Receives framing, load path and member loads; adds no geometry and no load. Members
without a load path are left out, with their loads, and so is what is drawn only.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..analysis.frame import GROUND, PUSH_ONLY, TWO_SIDED, Frame, Links, LoadSet
from ..basis.flitch import stiffness_on_edge
from ..basis.materials import reference_values
from ..basis.sections import Section
from ..framing.load_path import LoadPath
from ..framing.model import Contact, Framing, Role, SupportKind
from ..framing.outline.plan import Hold as PlanHold
from ..loads.cases import CASES
from ..loads.member_loads import MemberLoads
from .sideways import along_holds, sideways_holds

CONTACT_STIFFNESS = 1e9  # N/m: stiff beside any joist, soft enough for the arithmetic
DRIFT_STIFFNESS = 1e3  # N/m: keeps a house from drifting, too soft to take thrust
NAIL_STIFFNESS = 500.0  # N/m: keeps a purlin in place whose struts are all slack
SLANT = 3  # a level direction that is neither x nor y
_SQUARE = 1e-9  # rad off x or y
_SHEAR_RATIO = 1 / 16  # G/E of solid wood; Wood Handbook table 5-1 gives about this


@dataclass(frozen=True)
class GroundRow:
    """One force that the ground gives.

    Attributes:
        owner: support owner, e.g. ``W-spine``.
        node: where.
        direction: 0, 1, 2 for x, y, z; 3 for ``way``.
        link: index of the link to ground, or -1 for a held freedom.
        member: key of the member that stands there.
        way: unit vector of the force.
        is_soft: it gives; see ``DRIFT_STIFFNESS``.
    """

    owner: str
    node: int
    direction: int
    link: int
    member: str
    way: tuple[float, float, float] = (0.0, 0.0, 1.0)
    is_soft: bool = False


@dataclass(frozen=True, eq=False, kw_only=True)
class Model:
    """A frame with the way back to members, joints and supports.

    Attributes:
        frame, loads: what the engine takes.
        members: (n,) keys, in the order of ``frame.element_member``.
        stretch: (m,) row of MemberLoads of each element.
        start: (m,) m, station of each element's i end along its member.
        ground: every force that the ground can give.
        contact_links: for each contact, its vertical and its sideways link.
        contacts: indices into ``framing.contacts`` of the contacts that count.
        place: (n,) point of the framing that each node stands at.
    """

    frame: Frame
    loads: LoadSet
    members: tuple[str, ...]
    stretch: NDArray[np.int64]
    start: NDArray[np.float64]
    ground: tuple[GroundRow, ...]
    contacts: tuple[int, ...]
    contact_links: NDArray[np.int64]
    place: NDArray[np.int64]

    def rows_of(self, key: str) -> slice:
        """Return the elements of a member."""
        row = self._row[key]
        return slice(self._first[row], self._first[row + 1])

    @cached_property
    def _row(self) -> dict[str, int]:
        """Row of each member."""
        return {key: n for n, key in enumerate(self.members)}

    @cached_property
    def _first(self) -> list[int]:
        """First element of each member, and one past the last of all."""
        rows = np.arange(len(self.members) + 1)
        return np.searchsorted(self.frame.element_member, rows).tolist()


def build_model(framing: Framing, path: LoadPath, loads: MemberLoads) -> Model:
    """Return the analysis model of all members that have a load path."""
    keep = [
        n
        for n, key in enumerate(loads.member)
        if key not in path.faults and framing.members[key].counted
    ]
    if _plates_are_idle(framing, path):
        keep = [
            n for n in keep if framing.members[loads.member[n]].role is not Role.PLATE
        ]
    stretch = np.array(keep, dtype=np.int64)
    keys = [loads.member[n] for n in keep]
    members = tuple(dict.fromkeys(keys))
    row = {key: n for n, key in enumerate(members)}
    ends = loads.nodes[stretch].reshape(-1, 2)
    element_member = np.array([row[key] for key in keys], dtype=np.int64)
    lengths = np.linalg.norm(
        framing.points[ends[:, 1]] - framing.points[ends[:, 0]], axis=1
    )
    used = np.zeros(len(framing.points), dtype=bool)
    used[ends.ravel()] = True
    fixed, ground, ground_links = _supports(framing, path, used)
    contacts = tuple(
        n
        for n, c in enumerate(framing.contacts)
        if _counted_at(framing, c.upper, c.upper_node, row)
        and _counted_at(framing, c.lower, c.lower_node, row)
    )
    links, contact_links = _links(framing, contacts, ground_links, row)
    frame = Frame(
        xyz=framing.points,
        fixed=fixed,
        ends=ends,
        links=links,
        element_member=element_member,
        **_element_arrays(framing, members, element_member),
    )
    return Model(
        frame=frame,
        loads=_load_set(frame, ends, loads.load[:, stretch]),
        members=members,
        stretch=stretch,
        start=_starts(element_member, lengths),
        ground=(
            *ground,
            *(
                replace(row, link=2 * len(contacts) + n)
                for n, row in enumerate(ground_links)
            ),
        ),
        contacts=contacts,
        contact_links=contact_links,
        place=np.arange(len(framing.points)),
    )


def _counted_at(
    framing: Framing, key: str, node: int, row: dict[str, int]
) -> tuple[str, ...]:
    """Return the members at a joint that are analysed and of the kind of one of them.

    Of two joists that end on one beam, or two purlins that meet under a hip, either is
    noted at the contact; the other may be what is left of it.
    """
    role = framing.members[key].role
    return tuple(
        other
        for other in framing.by_node[node]
        if other in row and framing.members[other].role is role
    )


def with_loads(model: Model, loads: MemberLoads) -> Model:
    """Return the model of the same framing and load path under other loads."""
    frame = model.frame
    ends = model.place[frame.ends]  # a heel that gives has the weight at its plate
    return replace(model, loads=_load_set(frame, ends, loads.load[:, model.stretch]))


def _plates_are_idle(framing: Framing, path: LoadPath) -> bool:
    """Return whether plates have no thrust to hand along: each rafter has its tie.

    Under a hip roof they always have: they tie the corners.
    """
    return framing.form is None and all(
        path.tied[rafter.station]
        for rafter in framing.of_role(Role.RAFTER)
        if rafter.key not in path.faults
    )


def _starts(element_member: NDArray[np.int64], lengths: NDArray) -> NDArray:
    """Return the station along its member where each element begins, m."""
    if not len(lengths):
        return lengths
    total = np.concatenate([[0.0], np.cumsum(lengths)[:-1]])
    first = np.searchsorted(element_member, element_member)
    return total - total[first]


def _element_arrays(
    framing: Framing, members: tuple[str, ...], element_member: NDArray[np.int64]
) -> dict[str, NDArray]:
    """Return section, stiffness and release arrays of the elements."""
    found = [framing.members[key] for key in members]
    kinds: dict[tuple[Section, str, str], tuple[float, ...]] = {}
    rows = []
    for member in found:
        kind = (member.section, member.species, member.grade)
        if kind not in kinds:
            kinds[kind] = _stiffness(*kind)
        flags = member.axial_only, member.acts, member.planar, *member.stiff_ends
        rows.append((*kinds[kind], *member.up, *flags))
    table = np.array(rows, dtype=float).reshape(-1, 14)[element_member]
    planar, axial = table[:, 11].astype(bool), table[:, 9].astype(bool)
    first = np.ones(len(table), dtype=bool)
    first[1:] = element_member[1:] != element_member[:-1]
    last = np.roll(first, -1)
    release = np.zeros((len(table), 12), dtype=bool)
    release[:, 3] = True  # torsion: nothing in a roof twists a stick on purpose
    stiff = table[:, 12:].astype(bool)
    release[first & ~stiff[:, 0], 4] = release[last & ~stiff[:, 1], 10] = True
    release[planar, 5] = release[planar, 11] = True
    release[first, 5] = release[last, 11] = True
    release[axial] = False
    return {
        "A": table[:, 0], "I_strong": table[:, 1], "I_weak": table[:, 2],
        "J": table[:, 3], "E": table[:, 4], "G": table[:, 5], "up": table[:, 6:9],
        "axial_only": axial, "one_sided": table[:, 10].astype(np.int8),
        "release": release,
    }  # fmt: skip


def _stiffness(section: Section, species: str, grade: str) -> tuple[float, ...]:
    """Return A, I strong and weak, J, E and G of a kind of stick."""
    E = reference_values(species, grade, section).E
    on_edge = stiffness_on_edge(E, section) / E
    return (
        section.area, on_edge, section.I_weak, section.torsion_constant,
        E, E * _SHEAR_RATIO,
    )  # fmt: skip


def _supports(
    framing: Framing, path: LoadPath, used: NDArray[np.bool_]
) -> tuple[NDArray[np.bool_], list[GroundRow], list[GroundRow]]:
    """Return held freedoms, their ground rows, and rows that may lift off.

    Along the ridge every node is held under a gable: sheathing and ceiling brace the
    members that way, and no gravity load path runs along it. Where framing runs along
    the ridge nothing but framing holds it (see ``Framing.free_along``).
    """
    fixed = np.zeros((len(framing.points), 6), dtype=bool)
    fixed[:, 0] = framing.plan is None
    fixed[list(framing.free_along), 0] = False
    fixed[list(framing.braced_across), 1] = True
    rows: list[GroundRow] = []
    links: list[GroundRow] = []

    def hold(node: int, axis: int, owner: str, member: str) -> None:
        if not fixed[node, axis]:
            fixed[node, axis] = True
            rows.append(GroundRow(owner, node, axis, -1, member))

    for support in framing.supports:
        if not used[support.node]:
            continue
        kind, node = support.kind, support.node
        if kind is SupportKind.BEARING:
            links.append(GroundRow(support.owner, node, 2, 0, support.member))
            continue
        if kind in (SupportKind.SEAT, SupportKind.FOOT):
            hold(node, 2, support.owner, support.member)
        if kind in (SupportKind.SIDEWAYS, SupportKind.FOOT):
            hold(node, 1, support.owner, support.member)
            if framing.plan is not None or node in framing.free_along:
                hold(node, 0, support.owner, support.member)
        if kind is SupportKind.STRAPPED:
            for axis in (0, 1, 2):  # the joist that it is nailed to holds it up
                hold(node, axis, support.owner, support.member)
    if framing.plan is not None:
        for plan_hold in framing.plan.holds:
            if used[plan_hold.node]:
                _hold_level(plan_hold, hold, links)
        return fixed, rows, links
    for held in along_holds(framing, used):
        hold(held.node, 0, held.owner, held.member)
    for held in sideways_holds(framing, path, used):
        hold(held.node, 1, held.owner, held.member)
    return fixed, rows, links


def _hold_level(
    held: PlanHold,
    hold: Callable[[int, int, str, str], None],
    links: list[GroundRow],
) -> None:
    """Hold a node of a drawn outline along a plan direction."""
    for axis in (0, 1):
        if not held.is_soft and abs(held.way[1 - axis]) < _SQUARE:
            hold(held.node, axis, held.owner, held.member)
            return
    links.append(
        GroundRow(
            held.owner, held.node, SLANT, 0, held.member, (*held.way, 0.0), held.is_soft
        )
    )


def _links(
    framing: Framing,
    contacts: tuple[int, ...],
    ground_links: list[GroundRow],
    row: dict[str, int],
) -> tuple[Links, NDArray[np.int64]]:
    """Return contact links (vertical, sideways), links to ground, then nails.

    The nails that keep a purlin from falling off its rafters are counted at next to
    nothing (a pound for each quarter inch), so that a purlin without weight whose
    struts are all slack stays where it is; so are those of a spreader on its joists.
    """
    propped = _propped_purlins(framing, row)
    found = [framing.contacts[n] for n in contacts]
    nodes = _ints((c.upper_node, c.lower_node) for c in found).reshape(-1, 2)
    on_purlin = [framing.members[c.lower].role is Role.PURLIN for c in found]
    lifts = [
        c.may_lift and (not purlin or c.lower in propped)
        for c, purlin in zip(found, on_purlin, strict=True)
    ]
    nailed = [
        n
        for n, (c, purlin) in enumerate(zip(found, on_purlin, strict=True))
        if purlin or framing.members[c.upper].spreads
    ]
    own, ground = _contact_pairs(found, nodes, lifts), _ground_links(ground_links)
    nails = Links(
        *nodes[nailed].T,
        direction=np.tile(np.eye(3)[2], (len(nailed), 1)),
        stiffness=np.full(len(nailed), NAIL_STIFFNESS),
        one_sided=np.full(len(nailed), TWO_SIDED),
    )
    parts = (own, ground, nails, _along_links(found, nodes))
    names = ("i", "j", "direction", "stiffness", "one_sided")
    links = Links(*(np.concatenate([getattr(p, n) for p in parts]) for n in names))
    return links, np.arange(2 * len(found)).reshape(-1, 2)


def _contact_pairs(
    found: list[Contact], nodes: NDArray[np.int64], lifts: list[bool]
) -> Links:
    """Return for each contact its vertical link, then its sideways one."""
    k = len(found)
    axis = np.full((k, 2), 2)
    axis[:, 1] = [c.across for c in found]
    sides = np.full((k, 2), TWO_SIDED)
    sides[:, 0] = np.where(lifts, PUSH_ONLY, TWO_SIDED)
    stiffness = np.full((k, 2), CONTACT_STIFFNESS)
    stiffness[[not c.held for c in found], 1] = NAIL_STIFFNESS
    pairs = np.repeat(nodes, 2, axis=0)
    ways = np.eye(3)[axis.ravel()]
    for n, contact in enumerate(found):
        if contact.way is not None:
            ways[2 * n + 1] = (*contact.way, 0.0)
    return Links(*pairs.T, ways, stiffness.ravel(), sides.ravel())


def _along_links(found: list[Contact], nodes: NDArray[np.int64]) -> Links:
    """Return the nails that hold along the lower member, where a contact says so."""
    held = [n for n, contact in enumerate(found) if contact.way is not None]
    ways = np.array([found[n].way for n in held], dtype=float).reshape(-1, 2)
    along = np.stack([-ways[:, 1], ways[:, 0], np.zeros(len(held))], axis=1)
    return Links(
        *nodes[held].T,
        direction=along,
        stiffness=np.full(len(held), CONTACT_STIFFNESS),
        one_sided=np.full(len(held), TWO_SIDED),
    )


def _ground_links(rows: list[GroundRow]) -> Links:
    """Return links to the ground."""
    level = np.array([row.direction == SLANT for row in rows], dtype=bool)
    soft = np.array([row.is_soft for row in rows], dtype=bool)
    return Links(
        i=_ints(row.node for row in rows),
        j=np.full(len(rows), GROUND),
        direction=np.array([row.way for row in rows], dtype=float).reshape(-1, 3),
        stiffness=np.where(soft, DRIFT_STIFFNESS, CONTACT_STIFFNESS),
        one_sided=np.where(level, TWO_SIDED, PUSH_ONLY),
    )


def _ints(values: Iterable[object]) -> NDArray[np.int64]:
    """Return whole numbers as an array."""
    return np.array(list(values), dtype=np.int64)


def _propped_purlins(framing: Framing, row: dict[str, int]) -> set[str]:
    """Return the purlins that at least two struts or webs hold up from below.

    A purlin with fewer would fall, so its nails to the rafters are counted.
    """
    count: dict[str, int] = {}
    for strut in framing.of_role(Role.STRUT, Role.WEB):
        if strut.key in row and strut.group is not None:
            count[f"P-{strut.group}"] = count.get(f"P-{strut.group}", 0) + 1
    return {key for key, n in count.items() if n >= 2}


def _load_set(frame: Frame, ends: NDArray[np.int64], load: NDArray) -> LoadSet:
    """Return loads with the weight of pin-ended pieces on their ends, half on each.

    Args:
        frame: of the model.
        ends: (m, 2) nodes that take the halves.
        load: (ncase, m, 3) N/m.
    """
    node_load = np.zeros((len(load), frame.n_nodes, 6))
    axial = np.flatnonzero(frame.axial_only)
    along = frame.xyz[frame.ends[axial, 1]] - frame.xyz[frame.ends[axial, 0]]
    halves = load[:, axial] * (np.linalg.norm(along, axis=1) / 2)[None, :, None]
    for end in (0, 1):
        nodes = ends[axial, end]
        for case in np.flatnonzero(halves.any(axis=(1, 2))).tolist():
            np.add.at(node_load[case, :, :3], nodes, halves[case])
    load = load.copy()
    load[:, axial] = 0.0
    return LoadSet(tuple(c.value for c in CASES), load, node_load)
