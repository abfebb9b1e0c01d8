"""One-sided elements and links as rows g = b.u that press where g > 0."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .element import Elements
from .frame import GROUND, TWO_SIDED, Bools, Floats, Frame, Ints

_STAY = 1e-12  # of the largest press: an unloaded contact stays as it is


@dataclass(frozen=True, eq=False)
class Contacts:
    """Rows of everything whose acting depends on the displacements.

    Attributes:
        element: (c,) element of each row, -1 for a link.
        link: (c,) link of each row, -1 for an element.
        node: (c, 2) nodes i and j, ``GROUND`` for none.
        coef: (c, 3) b at node i; at node j it is the opposite.
        stiffness: (c,) N/m.
        lock: (c,) 0 free to act or not, 1 always acts, -1 never (edited frames).
    """

    element: Ints
    link: Ints
    node: Ints
    coef: Floats
    stiffness: Floats
    lock: Ints

    def __len__(self) -> int:
        return len(self.stiffness)

    def press(self, u: Floats) -> Floats:
        """Return (ncols, c) m, how far each contact is pressed by (ncols, n, 6)."""
        here = u[:, self.node[:, 0], :3]
        there = u[:, self.node[:, 1], :3]
        there[:, self.node[:, 1] == GROUND] = 0.0
        return np.einsum("ack,ck->ac", here - there, self.coef)

    def next_state(self, state: Bools, press: Floats) -> Bools:
        """Return which contacts press next, (ncols, c); an unloaded one stays.

        Args:
            state: (c,) contacts that press now.
            press: (ncols, c) how far each is pressed in that state.
        """
        scale = np.abs(press).max(axis=1, keepdims=True, initial=0.0) * _STAY
        wanted: Bools = np.where(state, press >= -scale, press > scale)
        if self.lock.any():
            wanted = (wanted & (self.lock >= 0)) | (self.lock > 0)
        return wanted

    def state_of(self, elements: Bools, links: Bools) -> Bools:
        """Return the (ncomb, c) state of (ncomb, m) elements and (ncomb, k) links."""
        bar, pad = self.element >= 0, self.link >= 0
        state = np.tile(self.first_state(), (len(elements), 1))
        state[:, bar] &= elements[:, self.element[bar]]
        state[:, pad] &= links[:, self.link[pad]]
        return state

    def first_state(self) -> Bools:
        """Return (c,) every contact pressed that may."""
        return self.lock >= 0


def find_contacts(frame: Frame, e: Elements) -> Contacts:
    """Return the one-sided elements and links of a frame."""
    links = frame.links
    struts = np.flatnonzero(frame.one_sided != TWO_SIDED)
    pads = np.flatnonzero(links.one_sided != TWO_SIDED)
    return join(
        [element_rows(frame, e, struts), link_rows(frame, pads)],
        np.zeros(len(struts) + len(pads), np.int64),
    )


def element_rows(frame: Frame, e: Elements, which: Ints) -> Contacts:
    """Return rows of axial elements; a two-sided one counts as pushing."""
    sign = np.where(frame.one_sided[which] < 0, -1.0, 1.0)
    none = np.full(len(which), -1)
    return Contacts(
        which, none, frame.ends[which], sign[:, None] * e.x[which], e.axial[which], none
    )


def link_rows(frame: Frame, which: Ints) -> Contacts:
    """Return rows of links; a two-sided one counts as pushing."""
    links = frame.links
    sign = np.where(links.one_sided[which] < 0, 1.0, -1.0)
    node = np.stack([links.i[which], links.j[which]], axis=1)
    none = np.full(len(which), -1)
    coef = sign[:, None] * links.direction[which]
    return Contacts(none, which, node, coef, links.stiffness[which], none)


def join(rows: Sequence[Contacts], lock: Ints) -> Contacts:
    """Return rows one after the other, with new locks."""
    return Contacts(
        np.concatenate([r.element for r in rows]),
        np.concatenate([r.link for r in rows]),
        np.concatenate([r.node for r in rows]),
        np.concatenate([r.coef for r in rows]),
        np.concatenate([r.stiffness for r in rows]),
        lock,
    )
