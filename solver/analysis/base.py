"""One factorised contact state, and all states a few contacts away from it.

A state that differs from the factorised one by a few contacts is reached by a low-rank
change (Woodbury's identity) instead of a new factorisation.
"""

from __future__ import annotations

from copy import copy

import numpy as np

from .assembly import System
from .contact_rows import Contacts
from .factor import Factor, SingularPivot, factorise
from .frame import GROUND, Bools, Floats, Ints
from .layout import Layout

# A change that costs more digits than this wants a factorisation of its own, whose
# pivots decide whether the state is loose. Roofs lose 1e-6 at most, loose states all.
LOSSY_CHANGE = 1e-8


class Base:
    """A factorised contact state, and every state a few contacts away from it."""

    def __init__(self, system: System, layout: Layout, state: Bools):
        self.system, self.layout = system, layout
        self.state = state
        self.factor: Factor = factorise(layout, system.values(state))
        self._rows = _Rows(system.contacts, layout)
        self._place: dict[int, int] = {}
        self._columns = np.zeros((len(layout.dof), 0))
        self._press = np.zeros((len(state), 0))

    def extended(self, system: System, state: Bools) -> Base:
        """Return the same factorisation for a frame with more contact rows.

        Args:
            system: the edited frame, whose stiffness in ``state`` is that of this base;
                its first rows are those of this base.
            state: (c,) state of its rows.
        """
        other = copy(self)
        other.system, other.state = system, state
        other._rows = _Rows(system.contacts, self.layout)
        other._place = dict(self._place)
        other._press = other._rows.press(self._columns)
        return other

    def press(self, u: Floats) -> Floats:
        """Return (ncols, c) m, how far (n_free, ncols) press each contact."""
        return self._rows.press(u).T

    def start(self, f: Floats, changed: Ints) -> tuple[Floats, Floats]:
        """Solve in the base state, and for contacts that will change, in one go.

        Args:
            f: (n_free, ncols) right-hand sides.
            changed: contacts in which states to come differ from the base.

        Returns:
            (n_free, ncols) displacements and (ncols, c) presses.
        """
        new = self._new(changed)
        columns = self._rows.columns(new)
        x = self.factor.solve(np.concatenate([f, columns], axis=1))
        press = self.press(x)
        ncols = f.shape[1]
        self._keep(new, x[:, ncols:], press[ncols:])
        return x[:, :ncols], press[:ncols]

    def prepare(self, changed: Ints) -> None:
        """Solve for the contacts that states to come change, where not done yet."""
        new = self._new(changed)
        if new:
            x = self.factor.solve(self._rows.columns(new))
            self._keep(new, x, self.press(x))

    def _new(self, changed: Ints) -> list[int]:
        """Return the contacts that have no column yet."""
        return [c for c in changed.tolist() if c not in self._place]

    def _keep(self, new: list[int], x: Floats, press: Floats) -> None:
        """Keep solved columns."""
        for c in new:
            self._place[c] = len(self._place)
        self._columns = np.concatenate([self._columns, x], axis=1)
        self._press = np.concatenate([self._press, press.T], axis=1)

    def move(
        self, u: Floats, state: Bools, press: Floats | None = None
    ) -> tuple[Floats, Floats]:
        """Move from the base state to another.

        Args:
            u: (n_free, ncols) displacements in the base state.
            state: (c,) contacts that press.
            press: (ncols, c) presses of u, found here where None.

        Returns:
            (n_free, ncols) displacements and (ncols, c) presses in that state.

        Raises:
            SingularPivot: the frame is loose in that state, or so nearly that the state
                must be factorised by itself to tell.
        """
        changed = np.flatnonzero(state != self.state)
        if press is None:
            press = self.press(u)
        if not len(changed):
            return u, press
        self.prepare(changed)
        at = np.array([self._place[c] for c in changed.tolist()], np.int64)
        root = np.sqrt(self.system.contacts.stiffness[changed])
        sign = np.where(state[changed], 1.0, -1.0)
        small = root[:, None] * self._press[np.ix_(changed, at)] * root
        small[np.arange(len(changed)), np.arange(len(changed))] += sign
        try:
            inverse = np.linalg.inv(small)
        except np.linalg.LinAlgError as error:
            raise SingularPivot from error
        if np.abs(inverse).max() * LOSSY_CHANGE > 1:
            raise SingularPivot
        amount = root[:, None] * (inverse @ (root[:, None] * press[:, changed].T))
        moved = u - self._columns[:, at] @ amount
        return moved, press - (self._press[:, at] @ amount).T

    def solve(self, f: Floats, state: Bools) -> Floats:
        """Return K(state)^-1 f for (n_free, ncols) right-hand sides."""
        return self.move(self.factor.solve(f), state)[0]


class _Rows:
    """Where the rows b of some contacts meet the unknowns of a layout."""

    def __init__(self, contacts: Contacts, layout: Layout):
        near, far = contacts.node.T
        place = layout.unknown.reshape(-1, 6)[:, :3]
        self.count, self.n_free = len(contacts), len(layout.dof)
        self.at = np.concatenate([place[near], place[far]], axis=1)
        self.at[far == GROUND, 3:] = -1
        self.coef = np.concatenate([contacts.coef, -contacts.coef], axis=1)
        self.coef[self.at < 0] = 0.0

    def press(self, u: Floats) -> Floats:
        """Return (c, ncols) m, how far (n_free, ncols) press each contact."""
        out = np.zeros((self.count, u.shape[1]))
        if self.n_free:
            for k in range(6):
                out += self.coef[:, k, None] * u[self.at[:, k]]
        return out

    def columns(self, which: list[int]) -> Floats:
        """Return (n_free, len(which)) the rows b of some contacts, as columns."""
        out = np.zeros((self.n_free, len(which)))
        step = np.arange(len(which))
        for k in range(6):
            at, coef = self.at[which, k], self.coef[which, k]
            known = at >= 0
            out[at[known], step[known]] += coef[known]
        return out
