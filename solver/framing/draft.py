"""A framing being built: nodes, members that still collect joints, supports.

The only mutable thing of the framing stage; modules of members add to it in turn.
"""

from __future__ import annotations

import math
from bisect import bisect_left, insort
from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np

from ..basis.sections import section
from ..brief.model import Brief, JoistDirection, Override, Stock
from ..brief.outline import is_outline
from ..form import RoofForm
from .changes import Changes, with_pinned_purlins
from .hip_layout import HipLayout, end_marks, hip_layout, hip_marks, is_hip
from .model import Contact, Framing, LooseEnd, Member, Point, Support, SupportKind
from .outline.plan import OutlinePlan, plan_of
from .plan import in_one_place, joist_marks, stations
from .settle import JointLines, Lines, settle

MAIN = "main"
_GRID = 1e-6
_UNCHANGED = Override(member="")


@dataclass
class DraftMember:
    """A member whose joints are still being added.

    Attributes:
        member: with its first two nodes.
        start, end: (3,) m.
        stations: m from the start to the node there; ``put`` adds one.
    """

    member: Member
    start: np.ndarray
    end: np.ndarray
    stations: dict[float, int]
    _places: list[float] = field(init=False)
    _first: Point = field(init=False)  # the start again: distances want no array

    def __post_init__(self) -> None:
        self._places = sorted(self.stations)
        self._first = tuple(self.start.tolist())

    def copied(self) -> DraftMember:
        """Return a copy that joints can be added to."""
        other = object.__new__(DraftMember)
        other.__dict__.update(
            self.__dict__, stations=dict(self.stations), _places=list(self._places)
        )
        return other

    def station_of(self, point: Point) -> float:
        """Return how far a point lies from the start, m."""
        return math.dist(point, self._first)

    def put(self, station: float, node: int) -> None:
        """Add a joint."""
        if station not in self.stations:
            insort(self._places, station)
        self.stations[station] = node

    def nearest(self, station: float) -> float:
        """Return the place of the joint nearest to a place."""
        places = self._places
        at = bisect_left(places, station)
        if at == len(places):
            return places[-1]
        before, after = places[max(0, at - 1)], places[at]
        return before if station - before <= after - station else after

    def finished(self) -> Member:
        """Return the member on all its nodes, in order."""
        return self.member.on_nodes(tuple(self.stations[s] for s in self._places))


@dataclass
class Draft:
    """Nodes and members of a framing being built."""

    brief: Brief
    points: list[Point] = field(default_factory=list)
    members: dict[str, DraftMember] = field(default_factory=dict)
    contacts: list[Contact] = field(default_factory=list)
    supports: list[Support] = field(default_factory=list)
    loose_ends: list[LooseEnd] = field(default_factory=list)
    rafter_stations: np.ndarray = field(init=False)
    joist_stations: np.ndarray = field(init=False)
    lines: JointLines = field(init=False)
    hip: HipLayout | None = field(init=False, default=None)
    plan: OutlinePlan | None = field(init=False, default=None)
    free_along: frozenset[int] = frozenset()
    braced_across: frozenset[int] = frozenset()
    removed: list[str] = field(default_factory=list)
    changes: Changes = field(init=False)
    _index: dict[tuple[str, int, int, int], int] = field(default_factory=dict)
    _held: set[tuple[int, SupportKind]] = field(default_factory=set)
    _resting: set[int] = field(default_factory=set)  # upper nodes of the contacts

    def __post_init__(self) -> None:
        size, joists = self.brief.footprint, self.brief.ceiling_joists
        self.changes = Changes(self.brief.overrides)
        self.brief = with_pinned_purlins(self.brief, self.changes)
        if is_outline(self.brief):
            self._lay_outline()
            return
        self.rafter_stations = stations(size.length, self.brief.rafters.spacing)
        ends = np.zeros(0)
        if is_hip(self.brief):
            self.rafter_stations = hip_marks(self.brief, self.rafter_stations)
            ends = end_marks(self.brief, self.rafter_stations)
        self.joist_stations = joist_marks(self.brief, self.rafter_stations, ends)
        across = joists is not None and joists.direction is JoistDirection.ACROSS
        self.brief, self.lines = settle(
            self.brief, self.rafter_stations, self.joist_stations, across, ends
        )
        if is_hip(self.brief):
            self.hip = hip_layout(self.brief, self.rafter_stations)

    def _lay_outline(self) -> None:
        """Lay a drawn outline out: its marks belong to its planes, not to one ridge."""
        self.joist_stations = np.zeros(0)
        self.rafter_stations = np.zeros(0)
        self.brief, self.lines = settle(self.brief, (), (), True)
        self.plan = plan_of(self.brief)
        self.rafter_stations = max(self.plan.marks, key=len)

    def take_built(self, other: Draft) -> None:
        """Take over what another draft of the same brief has built, as a copy."""
        for name in ("points", "contacts", "supports", "loose_ends", "removed"):
            setattr(self, name, list(getattr(other, name)))
        self.members = {key: piece.copied() for key, piece in other.members.items()}
        self._index, self._held = dict(other._index), set(other._held)
        self._resting = set(other._resting)
        self.lines.plan = {
            side: Lines(list(lines.known)) for side, lines in other.lines.plan.items()
        }
        self.changes.holder = dict(other.changes.holder)
        self.changes.why = other.changes.why | self.changes.why

    def node(self, point: Iterable[float], layer: str = MAIN) -> int:
        """Return the node at a point of a layer, made when it is new."""
        x, y, z = spot = _plain(point)
        key = (layer, round(x / _GRID), round(y / _GRID), round(z / _GRID))
        node = self._index.setdefault(key, len(self.points))
        if node == len(self.points):
            self.points.append(spot)
        return node

    def add(
        self,
        key: str,
        role: object,
        start: Iterable[float],
        end: Iterable[float],
        stock: Stock,
        *,
        layer: str = MAIN,
        end_layer: str | None = None,
        plies: int | None = None,
        row_line: tuple[Iterable[float], Iterable[float]] | None = None,
        **rest: object,
    ) -> bool:
        """Add a member between two points; return False if an override removes it.

        Args:
            key: see Member.
            role: see Member.
            start: first point of its joint line.
            end: last point of it.
            stock: size, species, grade and plies.
            layer: layer of its nodes.
            end_layer: layer of its end node, where it is another.
            plies: instead of the stock's.
            row_line: line that marks its place in its row, where it is not its own.
            rest: further fields of Member.
        """
        override = self.changes.of(key, *(row_line or (start, end))) or _UNCHANGED
        if override.removed:
            self.removed.append(key)
            return False
        a, b = self.node(start, layer), self.node(end, end_layer or layer)
        first, last = self.points[a], self.points[b]
        p, q = np.array(first), np.array(last)
        member = Member(
            key=key,
            role=role,  # type: ignore[arg-type]
            nodes=(a, b),
            section=section(
                override.size or stock.size, override.plies or plies or stock.plies
            ),
            species=override.species or stock.species,
            grade=override.grade or stock.grade,
            **rest,  # type: ignore[arg-type]
        )
        length = math.dist(first, last)
        self.members[key] = DraftMember(member, p, q, {0.0: a, length: b})
        return True

    def has(self, key: str) -> bool:
        """Return whether a member of this key stands."""
        return key in self.members

    def attach(self, key: str, point: Iterable[float], layer: str = MAIN) -> int:
        """Return a node on a member at a point of its joint line, adding it there."""
        draft = self.members[key]
        p = _plain(point)
        station = draft.station_of(p)
        known = draft.nearest(station)
        if abs(known - station) < 10 * _GRID:
            return draft.stations[known]
        node = self.node(p, layer)
        draft.put(station, node)
        return node

    def joint_near(self, key: str, point: Iterable[float]) -> np.ndarray:
        """Return the joint within an inch of a point on a member, or the point."""
        draft, p = self.members[key], _plain(point)
        station = draft.station_of(p)
        near = draft.nearest(station)
        if in_one_place(near, station):
            p = self.points[draft.stations[near]]
        return np.array(p)

    def end_on(self, key: str, node: int) -> None:
        """Let a member end on a node that stands at its end."""
        stations = self.members[key].stations
        stations[max(stations)] = node

    def contact(
        self,
        upper: str,
        lower: str,
        upper_node: int,
        lower_node: int,
        may_lift: bool = True,
        across: int = 1,
        held: bool = True,
        way: tuple[float, float] | None = None,
    ) -> None:
        """State that one member rests on another."""
        if upper_node != lower_node:
            self._resting.add(upper_node)
            self.contacts.append(
                Contact(
                    upper=upper,
                    lower=lower,
                    upper_node=upper_node,
                    lower_node=lower_node,
                    may_lift=may_lift,
                    across=across,
                    held=held,
                    way=way,
                )
            )

    def rests(self, node: int) -> bool:
        """Return whether a contact carries a node."""
        return node in self._resting

    def support(self, node: int, kind: SupportKind, owner: str, member: str) -> None:
        """State that the ground holds a node, once for each kind."""
        if (node, kind) in self._held:
            return
        self._held.add((node, kind))
        self.supports.append(Support(node=node, kind=kind, owner=owner, member=member))

    def loose(self, member: str, point: Iterable[float], reason: str) -> None:
        """State that an end of a member stands on nothing."""
        x, y, z = (float(v) for v in point)
        self.loose_ends.append(LooseEnd(member=member, point=(x, y, z), reason=reason))

    def finish(self) -> Framing:
        """Return the framing with every member's joints in order."""
        self.changes.finish()
        members = {key: draft.finished() for key, draft in self.members.items()}
        return Framing(
            points=np.array(self.points, dtype=float).reshape(-1, 3),
            members=members,
            contacts=tuple(self.contacts),
            supports=tuple(self.supports),
            loose_ends=tuple(self.loose_ends),
            rafter_stations=self.rafter_stations,
            joist_stations=self.joist_stations,
            dropped_overrides=self.changes.dropped,
            change_notes=dict(self.changes.why),
            change_holders=dict(self.changes.holder),
            removed=tuple(self.removed),
            form=self._form,
            free_along=self.free_along,
            braced_across=self.braced_across,
            plan=self.plan,
        )

    @property
    def _form(self) -> RoofForm | None:
        """The form of a roof of more planes than a gable's two."""
        if self.plan is not None:
            return self.plan.form
        return None if self.hip is None else self.hip.form


def _plain(point: Iterable[float]) -> Point:
    """Return a point as three plain numbers."""
    if isinstance(point, np.ndarray):
        return tuple(point.tolist())
    return tuple(map(float, point))
