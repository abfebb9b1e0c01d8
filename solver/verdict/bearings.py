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
    return found.plan()


class _Finder:
    """Collects places row by row and finishes them in arrays."""

    def __init__(self, framing: Framing, model: Model):
        self.framing, self.model = framing, model
        self.row = {key: n for n, key in enumerate(model.members)}
        self.push = self._node_push()
        self.keys: list[str] = []
        self.nodes: list[int] = []
        self.sources: list[list[int]] = []
        self.signs: list[float] = []
        self.length: list[float] = []
        self.breadth: list[float] = []

    def _node_push(self) -> dict[tuple[int, int], list[int]]:
        """Return (node, member row) to the sources of the push on the node."""
        frame, m = self.model.frame, self.model.frame.n_elements
        out: dict[tuple[int, int], list[int]] = {}
        at = self.model.place[frame.ends].tolist()
        for element, row in enumerate(frame.element_member.tolist()):
            for end, node in enumerate(at[element]):
                out.setdefault((node, row), []).append(end * m + element)
        return out

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
        self.keys.append(key)
        self.nodes.append(node)
        self.sources.append(sources)
        self.signs.append(sign)
        self.length.append(length)
        own = self.framing.members[key].section.total_breadth
        self.breadth.append(min(breadth, own))

    def supports(self) -> None:
        """Add what stands on walls, plates and points."""
        for support in self.framing.supports:
            if support.kind in (SupportKind.SIDEWAYS, SupportKind.STRAPPED):
                continue
            for key in self._bending_at(support.node):
                down = self.push.get((support.node, self.row[key]))
                if down is not None:
                    self._add(key, support.node, down, BEARING_ON_WOOD, math.inf)

    def contacts(self) -> None:
        """Add what crosses one on another, each as wide as the other is."""
        first = 2 * self.model.frame.n_elements
        links = self.model.contact_links[:, 0].tolist()
        for n, link in zip(self.model.contacts, links, strict=True):
            contact = self.framing.contacts[n]
            upper = self.framing.members[contact.upper]
            lower = self.framing.members[contact.lower]
            wide, narrow = lower.section.total_breadth, upper.section.total_breadth
            if lower.axial_only:  # the end of a post, which its upper crushes on
                sides = self._sides(contact.upper, lower)
                self._add(contact.upper, contact.upper_node, [first + link], *sides)
                continue
            for key in self._bending_at(contact.upper_node):
                share = self.push.get((contact.upper_node, self.row[key]))
                if share is not None:
                    self._add(key, contact.upper_node, share, wide, math.inf)
            self._add(
                contact.lower, contact.lower_node, [first + link], narrow, math.inf
            )

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
            foot, top, own = strut.nodes[0], strut.nodes[-1], self.row[strut.key]
            for key in self._bending_at(foot):
                self._add(key, foot, self.push[foot, own], b, d)
            for key in self._bending_at(top):
                self._add(key, top, self.push[top, own], d, b, -1.0)

    def jack_studs(self) -> None:
        """Add what stands on jack studs."""
        for jacks in self.framing.of_role(Role.JACK_STUD):
            if jacks.key not in self.row:
                continue
            top, made, own = jacks.nodes[0], jacks.section, self.row[jacks.key]
            for key in self._bending_at(top):
                wide, deep = made.total_breadth, made.depth
                self._add(key, top, self.push[top, own], wide, deep, -1.0)

    def plan(self) -> BearingPlan:
        """Return the places as arrays."""
        members, points = self.framing.members, self.framing.points
        ends = [(members[k].nodes[0], members[k].nodes[-1]) for k in self.keys]
        start, end = points[np.array(ends, dtype=np.int64).reshape(-1, 2).T]
        here = points[np.array(self.nodes, dtype=np.int64)]
        whole = np.linalg.norm(end - start, axis=1)
        place = np.linalg.norm(here - start, axis=1)
        rise = np.abs(end[:, 2] - start[:, 2]) / whole
        count = np.array([len(s) for s in self.sources], dtype=np.int64)
        return BearingPlan(
            member=np.array([self.row[k] for k in self.keys], dtype=np.int64),
            station=place,
            length=np.array(self.length, dtype=float),
            breadth=np.array(self.breadth, dtype=float),
            end_distance=np.minimum(place, whole - place),
            angle=np.pi / 2 - np.arcsin(np.minimum(1.0, rise)),
            source=np.array([s for own in self.sources for s in own], dtype=np.int64),
            sign=np.repeat(np.array(self.signs, dtype=float), count),
            first=np.cumsum(count) - count,
        )
