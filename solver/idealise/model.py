"""The analysis model of a framing: one element per stretch between joints.

Receives framing, load path and member loads; adds no geometry and no load. Members
without a load path are left out, with their loads, and so is what is drawn only.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..analysis.frame import GROUND, PUSH_ONLY, TWO_SIDED, Frame, Links, LoadSet
from ..basis.materials import reference_values
from ..framing.load_path import LoadPath
from ..framing.model import Framing, Role, SupportKind
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
        if used[c.upper_node]
        and used[c.lower_node]
        and c.upper in row
        and c.lower in row
    )
    links, contact_links = _links(framing, contacts, ground_links, row)
    frame = Frame(
        xyz=framing.points,
        fixed=fixed,
        ends=ends,
        links=links,
        element_member=element_member,
        **_element_arrays(framing, keys, element_member),
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
    framing: Framing, keys: list[str], element_member: NDArray[np.int64]
) -> dict[str, NDArray]:
    """Return section, stiffness and release arrays of the elements."""
    per_key: dict[str, tuple[float, ...]] = {}
    for key in dict.fromkeys(keys):
        member = framing.members[key]
        section = member.section
        E = reference_values(member.species, member.grade, section).E
        per_key[key] = (
            section.area, section.I_strong, section.I_weak, section.torsion_constant,
            E, E * _SHEAR_RATIO, *member.up, member.axial_only, member.acts,
            member.planar,
        )  # fmt: skip
    table = np.array([per_key[key] for key in keys], dtype=float).reshape(-1, 12)
    planar, axial = table[:, 11].astype(bool), table[:, 9].astype(bool)
    first = np.ones(len(keys), dtype=bool)
    first[1:] = element_member[1:] != element_member[:-1]
    last = np.roll(first, -1)
    release = np.zeros((len(keys), 12), dtype=bool)
    release[:, 3] = True  # torsion: nothing in a roof twists a stick on purpose
    stiff = np.array([framing.members[key].stiff_ends for key in keys]).reshape(-1, 2)
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
    i, j, direction, one_sided, stiffness = [], [], [], [], []
    pairs, along = [], np.eye(3)
    propped = _propped_purlins(framing, row)
    for n in contacts:
        contact = framing.contacts[n]
        lift = contact.may_lift and (
            framing.members[contact.lower].role is not Role.PURLIN
            or contact.lower in propped
        )
        pairs.append((len(i), len(i) + 1))
        nails = CONTACT_STIFFNESS if contact.held else NAIL_STIFFNESS
        for axis, side, stiff in (
            (2, PUSH_ONLY if lift else TWO_SIDED, CONTACT_STIFFNESS),
            (contact.across, TWO_SIDED, nails),
        ):
            i.append(contact.upper_node)
            j.append(contact.lower_node)
            direction.append(along[axis])
            one_sided.append(side)
            stiffness.append(stiff)
    for ground in ground_links:
        i.append(ground.node)
        j.append(GROUND)
        direction.append(np.array(ground.way))
        one_sided.append(TWO_SIDED if ground.direction == SLANT else PUSH_ONLY)
        stiffness.append(DRIFT_STIFFNESS if ground.is_soft else CONTACT_STIFFNESS)
    for n in contacts:
        contact = framing.contacts[n]
        on_purlin = framing.members[contact.lower].role is Role.PURLIN
        if on_purlin or framing.members[contact.upper].spreads:
            i.append(contact.upper_node)
            j.append(contact.lower_node)
            direction.append(along[2])
            one_sided.append(TWO_SIDED)
            stiffness.append(NAIL_STIFFNESS)
    links = Links(
        np.array(i, dtype=np.int64),
        np.array(j, dtype=np.int64),
        np.array(direction, dtype=float).reshape(-1, 3),
        np.array(stiffness, dtype=float),
        np.array(one_sided, dtype=np.int8),
    )
    return links, np.array(pairs, dtype=np.int64).reshape(-1, 2)


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
