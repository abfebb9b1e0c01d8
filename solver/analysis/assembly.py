"""From a frame to its equations: freedoms, stiffness values, loads, inner forces.

A `System` holds what one frame (one set of sections and coordinates) needs for any
number of combinations and contact states. It does not solve.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np

from . import element
from .contact_rows import Contacts, find_contacts
from .element import Elements
from .frame import GROUND, Bools, Floats, Frame
from .layout import Layout

_NO_STIFFNESS = 1e-14  # of the stiffest freedom of the same kind at the node


class System:
    """The equations of one frame.

    Attributes:
        frame: the frame.
        elements: geometry and basic stiffness.
        contacts: one-sided elements and links.
    """

    def __init__(
        self,
        frame: Frame,
        contacts: Contacts | None = None,
        elements: Elements | None = None,
    ):
        self.frame = frame
        self.elements = elements or element.element_arrays(frame)
        self.contacts = contacts or find_contacts(frame, self.elements)

    @cached_property
    def _blocks(self) -> Floats:
        """Flat store of all stiffness blocks, every contact pressed."""
        m, links = self.frame.n_elements, self.frame.links
        out = np.empty(81 * m + 18 * len(links))
        element.stiffness_pool(self.elements, out[: 81 * m].reshape(9, m, 3, 3))
        d = links.direction
        tie = links.stiffness[:, None, None] * d[:, :, None] * d[:, None, :]
        pads = out[81 * m :].reshape(2, -1, 3, 3)
        pads[0] = tie
        np.negative(tie, out=pads[1])
        return out

    @property
    def pool(self) -> Floats:
        """(9, m, 3, 3) stiffness blocks of the elements, see `element`."""
        m = self.frame.n_elements
        return self._blocks[: 81 * m].reshape(9, m, 3, 3)

    @property
    def link_pool(self) -> Floats:
        """(2, k, 3, 3) stiffness blocks of the links, and the same negated."""
        return self._blocks[81 * self.frame.n_elements :].reshape(2, -1, 3, 3)

    def values(self, weight: Floats | Bools) -> Floats:
        """Return the flat store of stiffness blocks with each contact weighed.

        Args:
            weight: (c,) 1 for a contact that presses, 0 for one that does not.
        """
        if weight.all():
            return self._blocks
        contacts, m = self.contacts, self.frame.n_elements
        out = self._blocks.copy()
        bar, pad = contacts.element >= 0, contacts.link >= 0
        blocks = out[: 81 * m].reshape(9, m, 3, 3)
        blocks[:2, contacts.element[bar]] *= weight[bar, None, None]
        blocks = out[81 * m :].reshape(2, -1, 3, 3)
        blocks[:, contacts.link[pad]] *= weight[pad, None, None]
        return out

    @cached_property
    def diagonal(self) -> Floats:
        """(n, 6) diagonal of the stiffness with every contact pressed."""
        frame, at = self.frame, np.arange(3)
        bends = ~frame.axial_only
        on_element, on_link = self.split_active(self.contacts.first_state()[None])
        out = np.zeros((frame.n_nodes, 6))
        for end, row in enumerate((element.RII, element.RJJ)):
            own = self.pool[[element.TT, row]][:, :, at, at]
            own[0] *= on_element[0][:, None]
            own[1] *= bends[:, None]
            for k in range(6):
                out[:, k] += np.bincount(
                    frame.ends[:, end], own[k // 3, :, k % 3], minlength=frame.n_nodes
                )
        tie = self.link_pool[0][:, at, at] * on_link[0][:, None]
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

    def node_sum(self, basic: Floats, load: Floats | None = None) -> Floats:
        """Return (ncomb, n, 6) sums at each node of the end forces of the elements.

        Args:
            basic: (6, ncomb, m) basic forces.
            load: (3, ncomb, m) uniform loads, global, or None.
        """
        n, ncomb = self.frame.n_nodes, basic.shape[1]
        nodes = self.frame.ends.T.ravel()
        total = np.empty((6, ncomb, n))
        for k, ends in enumerate(element.end_forces(self.elements, basic, load)):
            for c in range(ncomb):
                total[k, c] = np.bincount(nodes, ends[:, c].ravel(), minlength=n)
        return total.transpose(1, 2, 0)

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
        contacts = self.contacts
        bar, pad = contacts.element >= 0, contacts.link >= 0
        elements = np.ones((len(active), self.frame.n_elements), bool)
        links = np.ones((len(active), len(self.frame.links)), bool)
        elements[:, contacts.element[bar]] = active[:, bar]
        links[:, contacts.link[pad]] = active[:, pad]
        return elements, links

    def inner_force(self, u: Floats, active: Bools) -> Floats:
        """Return (ncomb, n, 6) K u in the given (ncomb, c) contact states."""
        elements, links = self.split_active(active)
        basic = element.basic_forces(self.elements, *self.at_ends(u))
        basic[0] *= elements
        total = self.node_sum(basic)
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
