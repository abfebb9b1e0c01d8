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
        flat = 6 * frame.ends[:, :, None] + np.arange(6)
        self._end_dof = flat.reshape(frame.n_elements, 12)

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
        move = self.pool[element.TT][:, at, at]
        bends = ~frame.axial_only[:, None]
        turn_i = self.pool[element.RII][:, at, at] * bends
        turn_j = self.pool[element.RJJ][:, at, at] * bends
        own = np.concatenate([move, turn_i, move, turn_j], axis=1)
        out = np.bincount(
            self._end_dof.ravel(), own.ravel(), minlength=6 * frame.n_nodes
        ).reshape(-1, 6)
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

    def node_sum(self, ends: Floats) -> Floats:
        """Return (ncomb, n, 6) sums of (ncomb, m, 2, 6) over the ends at each node."""
        ncomb, size = len(ends), 6 * self.frame.n_nodes
        index = self._end_dof.ravel() + size * np.arange(ncomb)[:, None]
        total = np.bincount(index.ravel(), ends.ravel(), minlength=ncomb * size)
        return total.reshape(ncomb, -1, 6)

    def link_shortening(self, u: Floats) -> Floats:
        """Return (ncomb, k) m by which each link is shortened."""
        links = self.frame.links
        other = u[:, links.j, :3]
        other[:, links.j == GROUND] = 0.0
        return np.einsum("ckd,kd->ck", other - u[:, links.i, :3], links.direction)

    def link_sum(self, force: Floats) -> Floats:
        """Return (ncomb, n, 6) forces of (ncomb, k) link forces on the nodes."""
        links, frame = self.frame.links, self.frame
        out = np.zeros((len(force), frame.n_nodes, 6))
        if not len(links):
            return out
        push = force[:, :, None] * links.direction
        held = links.j != GROUND
        for k in range(3):
            for c in range(len(force)):
                total = np.bincount(links.i, push[c, :, k], minlength=frame.n_nodes)
                total -= np.bincount(
                    links.j[held], push[c, held, k], minlength=frame.n_nodes
                )
                out[c, :, k] = total
        return out

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
        ends = self.frame.ends
        basic = element.basic_forces(self.elements, u[:, ends[:, 0]], u[:, ends[:, 1]])
        basic[0] *= elements
        none = np.zeros((len(u), self.frame.n_elements, 3))
        total = self.node_sum(element.end_forces(self.elements, basic, none))
        push = self.link_shortening(u) * self.frame.links.stiffness * links
        return total - self.link_sum(push)


def spread(layout: Layout, system: System, u: Floats) -> Floats:
    """Return (n_free, ncols) unknowns as (ncols, n, 6) displacements."""
    out = np.zeros((u.shape[1], 6 * system.frame.n_nodes))
    out[:, layout.dof] = u.T
    return out.reshape(u.shape[1], -1, 6)


def gather(layout: Layout, nodal: Floats) -> Floats:
    """Return (ncols, n, 6) nodal values at the unknowns, (n_free, ncols)."""
    return nodal.reshape(len(nodal), -1)[:, layout.dof].T
