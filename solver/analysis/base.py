"""One factorised contact state, and all states a few contacts away from it.

A state that differs from the factorised one by a few contacts is reached by a low-rank
change (Woodbury's identity) instead of a new factorisation.
"""

from __future__ import annotations

import numpy as np

from .assembly import System, gather, spread
from .factor import Factor, SingularPivot, factorise
from .frame import Bools, Floats, Ints
from .layout import Layout

SINGULAR_CHANGE = 1e-11


class Base:
    """A factorised contact state, and every state a few contacts away from it."""

    def __init__(self, system: System, layout: Layout, state: Bools):
        self.system, self.layout = system, layout
        self.state = state
        self.factor: Factor = factorise(layout, system.values(state))
        self._place: dict[int, int] = {}
        self._columns = np.zeros((len(layout.dof), 0))
        self._press = np.zeros((len(state), 0))

    def press(self, u: Floats) -> Floats:
        """Return (ncols, c) m, how far (n_free, ncols) press each contact."""
        return self.system.contacts.press(spread(self.layout, self.system, u))

    def _prepare(self, changed: Ints) -> Ints:
        """Return the columns of the changed contacts, solving for new ones."""
        new = [c for c in changed.tolist() if c not in self._place]
        if new:
            columns = self.factor.solve(contact_columns(self.system, self.layout, new))
            press = self.press(columns).T
            for c in new:
                self._place[c] = len(self._place)
            self._columns = np.concatenate([self._columns, columns], axis=1)
            self._press = np.concatenate([self._press, press], axis=1)
        return np.array([self._place[c] for c in changed.tolist()], np.int64)

    def reduce(self, state: Bools, press: Floats) -> tuple[Ints, Floats]:
        """Return the columns to subtract, and by how much, to move to another state.

        Args:
            state: (c,) contacts that press.
            press: (ncols, c) of the displacements in the base state.

        Raises:
            SingularPivot: the frame is loose in that state.
        """
        changed = np.flatnonzero(state != self.state)
        at = self._prepare(changed)
        root = np.sqrt(self.system.contacts.stiffness[changed])
        sign = np.where(state[changed], 1.0, -1.0)
        small = root[:, None] * self._press[np.ix_(changed, at)] * root
        small[np.arange(len(changed)), np.arange(len(changed))] += sign
        try:
            inverse = np.linalg.inv(small)
        except np.linalg.LinAlgError as error:
            raise SingularPivot from error
        if np.abs(inverse).max(initial=0.0) * SINGULAR_CHANGE > 1:
            raise SingularPivot
        amount = inverse @ (root[:, None] * press[:, changed].T)
        return at, root[:, None] * amount

    def press_in(self, state: Bools, press: Floats) -> Floats:
        """Return (ncols, c) presses in another state from those in the base state."""
        if np.array_equal(state, self.state):
            return press
        at, amount = self.reduce(state, press)
        return press - (self._press[:, at] @ amount).T

    def move(self, u: Floats, state: Bools, press: Floats | None = None) -> Floats:
        """Return (n_free, ncols) displacements in another state."""
        if np.array_equal(state, self.state):
            return u
        press = self.press(u) if press is None else press
        at, amount = self.reduce(state, press)
        return u - self._columns[:, at] @ amount

    def solve(self, f: Floats, state: Bools) -> Floats:
        """Return K(state)^-1 f for (n_free, ncols) right-hand sides."""
        return self.move(self.factor.solve(f), state)


def contact_columns(system: System, layout: Layout, which: list[int]) -> Floats:
    """Return (n_free, len(which)) the rows b of some contacts."""
    contacts = system.contacts
    out = np.zeros((len(which), system.frame.n_nodes, 6))
    step = np.arange(len(which))
    out[step, contacts.node[which, 0], :3] += contacts.coef[which]
    held = contacts.node[which, 1] >= 0
    far = contacts.node[which, 1]
    out[step[held], far[held], :3] -= contacts.coef[which][held]
    return gather(layout, out)
