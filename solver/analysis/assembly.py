"""From a frame to its equations: freedoms, stiffness values, loads, inner forces.

A `System` holds what one frame (one set of sections and coordinates) needs for any
number of combinations and contact states. It does not solve.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from . import element
from .element import Elements
from .frame import GROUND, TWO_SIDED, Bools, Floats, Frame, Ints
from .layout import Layout

_NO_STIFFNESS = 1e-14  # of the stiffest freedom of the same kind at the node


@dataclass(frozen=True, eq=False)
class Contacts:
    """All one-sided elements and links, as rows g = b.u that press where g > 0.

    Attributes:
        element: (ce,) one-sided elements; they come first.
        link: (cl,) one-sided links.
        node: (c, 2) nodes i and j, ``GROUND`` for none.
        coef: (c, 3) b at node i; at node j it is the opposite.
        stiffness: (c,) N/m.
    """

    element: Ints
    link: Ints
    node: Ints
    coef: Floats
    stiffness: Floats

    def __len__(self) -> int:
        return len(self.stiffness)

    def press(self, u: Floats) -> Floats:
        """Return (ncols, c) m, how far each contact is pressed by (ncols, n, 6)."""
        here = u[:, self.node[:, 0], :3]
        there = u[:, self.node[:, 1], :3]
        there[:, self.node[:, 1] == GROUND] = 0.0
        return np.einsum("ack,ck->ac", here - there, self.coef)


def find_contacts(frame: Frame, e: Elements) -> Contacts:
    """Return the one-sided elements and links of a frame."""
    links = frame.links
    struts = np.flatnonzero(frame.one_sided != TWO_SIDED)
    pads = np.flatnonzero(links.one_sided != TWO_SIDED)
    sign = frame.one_sided[struts].astype(float)
    turn = -links.one_sided[pads].astype(float)
    coef = [sign[:, None] * e.x[struts], turn[:, None] * links.direction[pads]]
    node = [frame.ends[struts], np.stack([links.i[pads], links.j[pads]], axis=1)]
    stiffness = [e.axial[struts], links.stiffness[pads]]
    return Contacts(
        struts, pads, np.concatenate(node), np.concatenate(coef),
        np.concatenate(stiffness),
    )  # fmt: skip


class System:
    """The equations of one frame.

    Attributes:
        frame: the frame.
        elements: geometry and basic stiffness.
        contacts: one-sided elements and links.
    """

    def __init__(self, frame: Frame):
        self.frame = frame
        self.elements = element.element_arrays(frame)
        self.contacts = find_contacts(frame, self.elements)
        self.pool = element.stiffness_pool(self.elements)
        links = frame.links
        d = links.direction
        tie = links.stiffness[:, None, None] * d[:, :, None] * d[:, None, :]
        self._link_pool = np.stack([tie, -tie])

    def values(self, weight: Floats | Bools) -> Floats:
        """Return the flat pool of stiffness blocks with each contact weighed.

        Args:
            weight: (c,) 1 for a contact that presses, 0 for one that does not.
        """
        contacts = self.contacts
        struts, pads = contacts.element, contacts.link
        pool, link_pool = self.pool, self._link_pool
        if len(struts) and not weight[: len(struts)].all():
            pool = pool.copy()
            pool[:2, struts] *= weight[: len(struts), None, None]
        if len(pads) and not weight[len(struts) :].all():
            link_pool = link_pool.copy()
            link_pool[:, pads] *= weight[len(struts) :, None, None]
        return np.concatenate([pool.ravel(), link_pool.ravel()])

    @cached_property
    def diagonal(self) -> Floats:
        """(n, 6) diagonal of the stiffness with every contact pressed."""
        frame, at = self.frame, np.arange(3)
        bends = ~frame.axial_only
        out = np.zeros((frame.n_nodes, 6))
        for end, row in enumerate((element.RII, element.RJJ)):
            own = self.pool[[element.TT, row]][:, :, at, at]
            own[1] *= bends[:, None]
            for k in range(6):
                out[:, k] += np.bincount(
                    frame.ends[:, end], own[k // 3, :, k % 3], minlength=frame.n_nodes
                )
        tie = self._link_pool[0][:, at, at]
        np.add.at(out[:, :3], frame.links.i, tie)
        held = frame.links.j != GROUND
        np.add.at(out[:, :3], frame.links.j[held], tie[held])
        return out

    def natural_freedoms(self) -> Bools:
        """Return (n, 6) freedoms that are not held and that anything resists."""
        kinds = self.diagonal.reshape(-1, 2, 3)
        least = _NO_STIFFNESS * kinds.max(axis=2, keepdims=True)
        resisted = (kinds > least).reshape(-1, 6)
        return resisted & ~self.frame.fixed

    def at_ends(self, u: Floats) -> tuple[Floats, Floats]:
        """Return (6, ncomb, m) displacements at both ends of the (ncomb, n, 6)."""
        first = np.ascontiguousarray(u.transpose(2, 0, 1))
        i, j = self.frame.ends.T
        return np.take(first, i, axis=2), np.take(first, j, axis=2)

    def node_sum(self, ends: Floats) -> Floats:
        """Return (ncomb, n, 6) sums of (2, 6, ncomb, m) over the ends at each node."""
        n, ncomb = self.frame.n_nodes, ends.shape[2]
        start = n * np.arange(6 * ncomb)[:, None]
        index = start + self.frame.ends.T[:, None, :]
        total = np.bincount(index.ravel(), ends.ravel(), minlength=6 * ncomb * n)
        return total.reshape(6, ncomb, n).transpose(1, 2, 0)

    def link_shortening(self, u: Floats) -> Floats:
        """Return (ncomb, k) m by which each link is shortened."""
        links = self.frame.links
        if not len(links):
            return np.zeros((len(u), 0))
        other = u[:, links.j, :3]
        other[:, links.j == GROUND] = 0.0
        return np.einsum("ckd,kd->ck", other - u[:, links.i, :3], links.direction)

    def add_links(self, total: Floats, force: Floats) -> None:
        """Take the forces of (ncomb, k) links on the nodes from (ncomb, n, 6)."""
        links, frame = self.frame.links, self.frame
        if not len(links):
            return
        held = links.j != GROUND
        node = np.concatenate([links.i, links.j[held]])
        index = node + frame.n_nodes * np.arange(len(force))[:, None]
        size = len(force) * frame.n_nodes
        for k in range(3):
            push = force * links.direction[:, k]
            both = np.concatenate([push, -push[:, held]], axis=1)
            on_nodes = np.bincount(index.ravel(), both.ravel(), minlength=size)
            total[:, :, k] -= on_nodes.reshape(len(force), -1)

    def split_active(self, active: Bools) -> tuple[Bools, Bools]:
        """Turn (ncomb, c) contact states into flags (ncomb, m) and (ncomb, k)."""
        contacts, count = self.contacts, len(self.contacts.element)
        elements = np.ones((len(active), self.frame.n_elements), bool)
        links = np.ones((len(active), len(self.frame.links)), bool)
        elements[:, contacts.element] = active[:, :count]
        links[:, contacts.link] = active[:, count:]
        return elements, links

    def inner_force(self, u: Floats, active: Bools) -> Floats:
        """Return (ncomb, n, 6) K u in the given (ncomb, c) contact states."""
        elements, links = self.split_active(active)
        basic = element.basic_forces(self.elements, *self.at_ends(u))
        basic[0] *= elements
        total = self.node_sum(element.end_forces(self.elements, basic))
        push = self.link_shortening(u) * self.frame.links.stiffness * links
        self.add_links(total, push)
        return total


def spread(layout: Layout, system: System, u: Floats) -> Floats:
    """Return (n_free, ncols) unknowns as (ncols, n, 6) displacements.

    In memory the components come first, as `element` likes them.
    """
    n, ncols = system.frame.n_nodes, u.shape[1]
    out = np.zeros((6 * n, ncols))
    out[layout.dof] = u
    first = np.ascontiguousarray(out.reshape(n, 6, ncols).transpose(1, 2, 0))
    return first.transpose(1, 2, 0)


def gather(layout: Layout, nodal: Floats) -> Floats:
    """Return (ncols, n, 6) nodal values at the unknowns, (n_free, ncols)."""
    ncols, n = nodal.shape[:2]
    return nodal.transpose(1, 2, 0).reshape(6 * n, ncols)[layout.dof]
