"""Where members press on each other across the grain, for the bearing check.

Seats on plates and walls are taken at the least length that the code lets stand; a
contact is as long as the piece that crosses it is wide. The framing alone tells where
what bears; the forces of a solved frame are then one gather.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..basis.irc.cutting import BEARING_ON_WOOD
from ..checks.bearing import BearingTable
from ..framing.model import Framing, Member, Role, SupportKind
from ..idealise.model import Model

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False, kw_only=True)
class BearingPlan:
    """Every place where a counted member bears across the grain, without its force.

    Attributes:
        member, station, length, breadth, end_distance, angle: (k,) as `BearingTable`.
        source: (s,) what presses: column of the vertical forces of all elements' i
            ends, then j ends, then of the forces of the links.
        sign: (s,) -1 where the force counts the other way.
        first: (k,) first source of each place.
    """

    member: Ints
    station: Floats
    length: Floats
    breadth: Floats
    end_distance: Floats
    angle: Floats
    source: Ints
    sign: Floats
    first: Ints

    def table(self, result: FrameResult) -> BearingTable:
        """Return the places with the forces of a solved frame."""
        down = result.end_force_global[:, :, :, 2]
        every = np.concatenate(
            [down[:, :, 0], down[:, :, 1], result.link_force], axis=1
        )
        force = np.zeros((len(every), 0))
        if len(self.member):
            pressed = every[:, self.source] * self.sign
            force = np.add.reduceat(pressed, self.first, axis=1)
        return BearingTable(
            member=self.member,
            station=self.station,
            force=force,
            length=self.length,
            breadth=self.breadth,
            end_distance=self.end_distance,
            angle=self.angle,
        )


def bearing_table(framing: Framing, model: Model, result: FrameResult) -> BearingTable:
    """Return every place where a counted member bears across the grain."""
    return bearing_plan(framing, model).table(result)


def bearing_plan(framing: Framing, model: Model) -> BearingPlan:
    """Return every such place of a framing, before its forces are known."""
    found = _Finder(framing, model)
    found.supports()
    found.contacts()
    found.struts()
    found.jack_studs()
    found.knee_studs()
    return found.plan()


class _Finder:
    """Collects places row by row and finishes them in arrays."""

    def __init__(self, framing: Framing, model: Model):
        self.framing, self.model = framing, model
        self.row = {key: n for n, key in enumerate(model.members)}
        rows = np.arange(len(model.members))
        self.first = np.searchsorted(model.frame.element_member, rows).tolist()
        self.places: list[tuple[str, int, list[int], float, float, float]] = []

    def _push(self, node: int, key: str) -> list[int]:
        """Return the sources of the push of a member on one of its nodes."""
        nodes, m = self.framing.members[key].nodes, self.model.frame.n_elements
        at = nodes.index(node)
        after = self.first[self.row[key]] + at  # the stretch that begins there
        before = [m + after - 1] if at > 0 else []
        return before + ([after] if at < len(nodes) - 1 else [])

    def _bending_at(self, node: int) -> list[str]:
        """Return the bending members of the analysis that have a node."""
        members = self.framing.members
        found = self.framing.by_node.get(node, ())
        return [k for k in found if k in self.row and not members[k].axial_only]

    def _add(
        self,
        key: str,
        node: int,
        sources: list[int],
        length: float,
        breadth: float,
        sign: float = 1.0,
    ) -> None:
        """Note one place."""
        self.places.append((key, node, sources, length, breadth, sign))

    def supports(self) -> None:
        """Add what stands on walls, plates and points."""
        for support in self.framing.supports:
            if support.kind in (SupportKind.SIDEWAYS, SupportKind.STRAPPED):
                continue
            for key in self._bending_at(support.node):
                down = self._push(support.node, key)
                self._add(key, support.node, down, BEARING_ON_WOOD, math.inf)

    def contacts(self) -> None:
        """Add what crosses one on another, each as wide as the other is.

        Where two pieces end on one joint, which of them is noted as what crosses must
        not matter: all their force is taken on the wider one, and each one's share on
        its own width.
        """
        first = 2 * self.model.frame.n_elements
        links = self.model.contact_links[:, 0].tolist()
        for n, link in zip(self.model.contacts, links, strict=True):
            contact = self.framing.contacts[n]
            post = self.framing.members[contact.lower]
            if post.axial_only:  # the end of a post, which its upper crushes on
                sides = self._sides(contact.upper, post)
                self._add(contact.upper, contact.upper_node, [first + link], *sides)
                continue
            own, node = contact.lower, contact.lower_node
            wide = self.framing.members[own].section.total_breadth
            pieces = []
            for key in self._bending_at(contact.upper_node):
                share = self._push(contact.upper_node, key)
                self._add(key, contact.upper_node, share, wide, math.inf)
                pieces.append((share, self._breadth(key)))
            widths = [breadth for _, breadth in pieces]
            narrow = max(widths, default=self._breadth(contact.upper))
            self._add(own, node, [first + link], narrow, math.inf)
            for share, breadth in pieces if len(pieces) > 1 else ():
                self._add(own, node, share, breadth, math.inf)

    def _breadth(self, key: str) -> float:
        """Return how wide a member is across its grain, all plies, m."""
        return self.framing.members[key].section.total_breadth

    def _sides(self, upper: str, post: Member) -> tuple[float, float]:
        """Return the sides of a post along and across what lies on it, m."""
        start, end = self.framing.ends(upper)
        along = abs(float((end - start) @ np.array(post.up)))
        made = post.section
        if along > np.linalg.norm(end - start) / 2:
            return made.depth, made.total_breadth
        return made.total_breadth, made.depth

    def struts(self) -> None:
        """Add what struts press on at either end."""
        for strut in self.framing.of_role(Role.STRUT):
            if strut.key not in self.row:
                continue
            b, d = strut.section.total_breadth, strut.section.depth
            foot, top = strut.nodes[0], strut.nodes[-1]
            for key in self._bending_at(foot):
                self._add(key, foot, self._push(foot, strut.key), b, d)
            above = self._bending_at(top)
            for key in above if len(above) == 1 else ():
                self._add(key, top, self._push(top, strut.key), d, b, -1.0)
            for key in above if len(above) > 1 else ():  # each lays down its own share
                self._add(key, top, self._push(top, key), d, b)

    def knee_studs(self) -> None:
        """Add what knee-wall studs press on: the joist below, the curb above."""
        for stud in self.framing.of_role(Role.KNEE_STUD):
            if stud.key not in self.row:
                continue
            b, d = stud.section.total_breadth, stud.section.depth
            top, foot = stud.nodes[0], stud.nodes[-1]
            for key in self._bending_at(foot):
                self._add(key, foot, self._push(foot, stud.key), d, b)
            for key in self._bending_at(top):
                if self.framing.members[key].role is Role.CURB:
                    self._add(key, top, self._push(top, stud.key), b, d, -1.0)

    def jack_studs(self) -> None:
        """Add what stands on jack studs."""
        for jacks in self.framing.of_role(Role.JACK_STUD):
            if jacks.key not in self.row:
                continue
            top, made = jacks.nodes[0], jacks.section
            for key in self._bending_at(top):
                wide, deep = made.total_breadth, made.depth
                self._add(key, top, self._push(top, jacks.key), wide, deep, -1.0)

    def plan(self) -> BearingPlan:
        """Return the places as arrays."""
        members, points = self.framing.members, self.framing.points
        keys, nodes, sources, length, breadth, sign = (
            zip(*self.places, strict=True) if self.places else ((),) * 6
        )
        found = [members[key] for key in keys]
        ends = [(member.nodes[0], member.nodes[-1]) for member in found]
        start, end = points[np.array(ends, dtype=np.int64).reshape(-1, 2).T]
        here = points[np.array(nodes, dtype=np.int64)]
        whole = np.linalg.norm(end - start, axis=1)
        place = np.linalg.norm(here - start, axis=1)
        rise = np.abs(end[:, 2] - start[:, 2]) / whole
        own = np.array([member.section.total_breadth for member in found], dtype=float)
        count = np.array([len(s) for s in sources], dtype=np.int64)
        return BearingPlan(
            member=np.array([self.row[key] for key in keys], dtype=np.int64),
            station=place,
            length=np.array(length, dtype=float),
            breadth=np.minimum(np.array(breadth, dtype=float), own),
            end_distance=np.minimum(place, whole - place),
            angle=np.pi / 2 - np.arcsin(np.minimum(1.0, rise)),
            source=np.array([s for every in sources for s in every], dtype=np.int64),
            sign=np.repeat(np.array(sign, dtype=float), count),
            first=np.cumsum(count) - count,
        )
