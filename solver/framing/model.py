"""What framing yields: members on their joint lines, contacts, supports, loose ends.

Geometry and the statement of what meets what; no stiffness, no load, no verdict.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from ..basis.sections import Section
from ..brief.stock import Foot
from ..form import RoofForm
from .outline.plan import OutlinePlan

if TYPE_CHECKING:
    from .bare import Bare

Point = tuple[float, float, float]


class Role(StrEnum):
    """What a member is, in the trade's words."""

    RAFTER = "rafter"
    JACK_RAFTER = "jack_rafter"
    HIP_RAFTER = "hip_rafter"
    VALLEY_RAFTER = "valley_rafter"
    RIDGE_BOARD = "ridge_board"
    RIDGE_BEAM = "ridge_beam"
    PURLIN = "purlin"
    STRUT = "strut"
    CEILING_JOIST = "ceiling_joist"
    COLLAR_TIE = "collar_tie"
    RAFTER_TIE = "rafter_tie"
    BEAM = "beam"
    POST = "post"
    PLATE = "plate"
    STUB_JOIST = "stub_joist"
    WEB = "web"
    HEADER = "header"
    JACK_STUD = "jack_stud"
    CURB = "curb"
    KNEE_STUD = "knee_stud"
    LEDGER = "ledger"


class SupportKind(StrEnum):
    """What a support holds, and which way."""

    BEARING = "bearing"  # vertical, may lift off
    SEAT = "seat"  # vertical, nailed down: an uplift is reported
    SIDEWAYS = "sideways"  # across the ridge
    FOOT = "foot"  # vertical and sideways: a strut or post foot
    STRAPPED = "strapped"  # along the ridge, by straps over the ceiling joists


@dataclass(frozen=True, kw_only=True)
class Member:
    """A straight piece of lumber on its joint line.

    Attributes:
        key: stable name, e.g. ``CJ-05-1``.
        role: what it is.
        nodes: indices of the points along it, from start to end, at least two.
        section: dressed section with plies.
        species, grade: rows of the lumber tables.
        up: unit vector of the depth direction.
        axial_only: ends pinned and no bending counted (struts, ties, posts).
        acts: +1 pushes only, -1 pulls only, 0 both.
        planar: bends only in the plane of axis and ``up`` (held sideways).
        stiff_ends: whether start and end are joined so that they turn with the joint.
        slope: ``"S"`` or ``"N"`` for members of one slope, ``"W"`` or ``"E"`` for
            those of a hip end; over a drawn outline the name of plane or side.
        station: number of its station along the ridge (rafters, joists, ties).
        offset: from the joint line to the middle of the drawn piece, m.
        counted: False for pieces that are drawn but carry nothing by design.
        clear: True for a beam among the joists that the ceiling does not touch.
        spreads: True for a beam that bears on joists alone.
        group: name of the brief's entry that it comes from (for a strut, its purlin).
        part: number of a strut's group in the brief; added struts count on.
        foot: what the brief states of a strut's foot, or the place it found.
        held: whether a strut has a lateral brace at mid-length besides what its group
            states.
    """

    key: str
    role: Role
    nodes: tuple[int, ...]
    section: Section
    species: str
    grade: str
    up: Point
    axial_only: bool = False
    acts: int = 0
    planar: bool = True
    stiff_ends: tuple[bool, bool] = (False, False)
    slope: str | None = None
    station: int | None = None
    offset: Point = (0.0, 0.0, 0.0)
    counted: bool = True
    clear: bool = False
    spreads: bool = False
    group: str | None = None
    part: int | None = None
    foot: Foot | None = None
    held: bool = False

    def on_nodes(self, nodes: tuple[int, ...]) -> Member:
        """Return this member on other nodes; every member passes here once.

        The same as `dataclasses.replace`, ten times quicker.
        """
        other = object.__new__(Member)
        other.__dict__.update(self.__dict__, nodes=nodes)
        return other


@dataclass(frozen=True, kw_only=True)
class Contact:
    """One member resting on another: pushes vertically, held sideways by nails.

    Attributes:
        upper, lower: member keys.
        upper_node, lower_node: indices of the two points (same place).
        may_lift: True where nothing holds the upper member down.
        across: axis along which nails hold the upper member, 0 or 1.
        held: False where what they hold that way is next to nothing.
        way: unit plan vector across the lower member instead of that axis; nails then
            hold the upper member along the lower one as well.
    """

    upper: str
    lower: str
    upper_node: int
    lower_node: int
    may_lift: bool = True
    across: int = 1
    held: bool = True
    way: tuple[float, float] | None = None


@dataclass(frozen=True, kw_only=True)
class Support:
    """A node held by the ground through a wall, a footing or a stated point.

    Attributes:
        node: index of the point.
        kind: what is held.
        owner: ``W-<wall>``, ``F-<post>`` or ``X-<n>`` for a stated point.
        member: key of the member that stands there.
    """

    node: int
    kind: SupportKind
    owner: str
    member: str


@dataclass(frozen=True, kw_only=True)
class LooseEnd:
    """An end that stands on nothing.

    Attributes:
        member: key of the member.
        point: where.
        reason: why, in plain words, without a full stop.
    """

    member: str
    point: Point
    reason: str


@dataclass(frozen=True, eq=False, kw_only=True)
class Framing:
    """The framed roof.

    Attributes:
        points: (n, 3) m, the joint points.
        members: by key, in the order of analysis.
        contacts, supports, loose_ends: see their classes.
        rafter_stations, joist_stations: positions along the ridge (or across, for
            joists that run along it), m.
        dropped_overrides: keys of overrides that no member has.
        change_notes: key of an override or of an added strut to why it, or a part of
            it, was dropped.
        change_holders: key of an override to the key of the member that has it.
        removed: keys of members that overrides took out.
        form: planes and lines of a hip roof; None over a gable.
        free_along: nodes that nothing but framing holds along the ridge; all others
            are braced that way by sheathing or ceiling.
        braced_across: nodes of the end rafters that sheathing braces across the ridge.
        plan: of a drawn outline; None over a rectangle.
        bare: what stood before the struts, for the next framing; None where nothing
            is kept.
    """

    points: NDArray[np.float64]
    members: Mapping[str, Member]
    contacts: tuple[Contact, ...]
    supports: tuple[Support, ...]
    loose_ends: tuple[LooseEnd, ...]
    rafter_stations: NDArray[np.float64]
    joist_stations: NDArray[np.float64]
    dropped_overrides: tuple[str, ...] = ()
    change_notes: Mapping[str, str] = field(default_factory=dict)
    change_holders: Mapping[str, str] = field(default_factory=dict)
    removed: tuple[str, ...] = field(default=())
    form: RoofForm | None = None
    free_along: frozenset[int] = frozenset()
    braced_across: frozenset[int] = frozenset()
    plan: OutlinePlan | None = None
    bare: Bare | None = None

    def ends(self, key: str) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Return the two end points of a member's joint line, m."""
        nodes = self.members[key].nodes
        return self.points[nodes[0]], self.points[nodes[-1]]

    def length(self, key: str) -> float:
        """Return the length of a member's joint line, m."""
        start, end = self.ends(key)
        return math.dist(start, end)

    @cached_property
    def by_node(self) -> Mapping[int, tuple[str, ...]]:
        """The members on each node, in order."""
        found: dict[int, tuple[str, ...]] = {}
        for key, member in self.members.items():
            own = (key,)
            for node in member.nodes:
                found[node] = found[node] + own if node in found else own
        return found

    @cached_property
    def _by_role(self) -> Mapping[Role, list[Member]]:
        """The members of each role, in order."""
        found: dict[Role, list[Member]] = {}
        for member in self.members.values():
            found.setdefault(member.role, []).append(member)
        return found

    @cached_property
    def owner_at(self) -> Mapping[int, str]:
        """The first support owner of each node that the ground holds."""
        found: dict[int, str] = {}
        for support in self.supports:
            found.setdefault(support.node, support.owner)
        return found

    def of_role(self, *roles: Role) -> list[Member]:
        """Return the members of some roles, in order."""
        if len(roles) == 1:
            return list(self._by_role.get(roles[0], ()))
        return [m for m in self.members.values() if m.role in roles]
