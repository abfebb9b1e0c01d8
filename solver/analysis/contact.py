"""One-sided elements and links: which of them act, found by a method that ends.

The displacements of a frame with one-sided springs minimise a convex energy

    W(u) = 1/2 u.K0.u - f.u + sum over contacts of 1/2 k max(0, b.u)^2,

which is quadratic within each *state* (the set of contacts that press) and has a
continuous gradient. A Newton step solves the frame in the present state; its result
says which contacts press next. Contacts may leave and come back.

Why it ends. *Plain steps*: where a state leaves something loose, fewer contacts are let
go at once. A state that appears a second time is a cycle; a combination that cycles, or
takes more than ``MAX_PLAIN`` steps, leaves the plain phase, which is therefore bounded.
*Damped steps*: each Newton direction is followed to the exact minimum of W along it, so
W falls at every step, and because the finitely many Hessians are positive definite the
iterates converge to the one minimiser u*. Near u* only states whose closed region holds
u* occur; in each of them the full Newton step lands on u* itself, since the gradient of
that state's quadratic vanishes there. So the damped phase stops after finitely many
steps too. Where a Hessian is singular the way down is the loose motion itself, to the
point where a contact stops it. ``MAX_DAMPED`` bounds the phase in any case, and beyond
it, or where W falls without end (something lifts off and nothing holds it), a
`LiftOffError` names the open contacts: numbers of an unfinished state never leave.

Source: for the damped phase, the finite convergence of Newton's method with exact line
search on convex piecewise quadratic functions (Li and Swetits; Sun), shown above for
this case.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from .assembly import System
from .base import Base
from .damped import LOW_RANK, MAX_DAMPED, LiftOffError, minimise
from .factor import SingularPivot
from .frame import Bools, Floats, Ints
from .layout import Layout

__all__ = ["MAX_DAMPED", "MAX_PLAIN", "LiftOffError", "Solved", "solve_contact"]

MAX_PLAIN = 40


@dataclass(eq=False)
class Solved:
    """One combination in its contact state.

    Attributes:
        base: a factorised state near it.
        state: (c,) contacts that press.
        u: (n_free,) displacements.
        passes: solves it took.
    """

    base: Base
    state: Bools
    u: Floats
    passes: int


def solve_contact(
    system: System,
    layout: Layout,
    f: Floats,
    start: Bools,
    known: Sequence[Base] = (),
) -> list[Solved]:
    """Find displacements and contact state of every combination.

    Args:
        system: the frame's equations.
        layout: plan of its elimination.
        f: (n_free, ncomb) N and N m.
        start: (ncomb, c) states to begin with; the answer does not depend on it.
        known: factorised states of this system and layout.

    Returns:
        One `Solved` for each combination.

    Raises:
        SingularPivot: the frame is loose even with every contact pressed.
        LiftOffError: a combination has no state.
    """
    plain = PlainSearch(system, layout, f, start)
    done = plain.run(known)
    for c in plain.stuck:
        base, state, u, steps = minimise(system, layout, f[:, c], c)
        done[c] = Solved(base, state, u, int(plain.passes[c]) + steps)
    return [done[c] for c in range(f.shape[1])]


class PlainSearch:
    """Newton steps without damping, combinations of one state together."""

    def __init__(self, system: System, layout: Layout, f: Floats, start: Bools):
        self.system, self.layout, self.f = system, layout, f
        self.state = start.copy()
        ncomb = f.shape[1]
        self.seen: list[set[bytes]] = [set() for _ in range(ncomb)]
        self.passes = np.zeros(ncomb, int)
        first = system.contacts.first_state()
        self.firm = np.tile(first, (ncomb, 1))  # the last state that was not loose
        self.force = np.zeros(self.state.shape)  # in that state
        self.released = np.ones(ncomb)  # part of the contacts in tension let go
        self.done: dict[int, Solved] = {}
        self.stuck: list[int] = []

    def run(self, known: Sequence[Base] = ()) -> dict[int, Solved]:
        """Return the combinations that settle; the rest is in ``stuck``."""
        pending = list(range(self.f.shape[1]))
        for base in known:
            near = [c for c in pending if self._changes(base, c) <= LOW_RANK]
            if near:
                pending = [c for c in pending if c not in near]
                pending += self.from_base(base, near)
        while pending:
            base_state = self._most_common(pending)
            try:
                base = Base(self.system, self.layout, base_state)
            except SingularPivot:
                if (base_state == self.system.contacts.first_state()).all():
                    raise
                same = [c for c in pending if (self.state[c] == base_state).all()]
                others = [c for c in pending if c not in same]
                pending = others + [c for c in same if self._retreat(c)]
                continue
            pending = self.from_base(base, pending)
        return self.done

    def _retreat(self, c: int) -> bool:
        """Go back from a loose state and let go fewer of the contacts in tension.

        Returns:
            False where the combination is left to the damped phase.
        """
        self.seen[c].add(self.state[c].tobytes())
        self.passes[c] += 1
        self.released[c] /= 2
        force, firm = self.force[c], self.firm[c]
        tension = np.flatnonzero(firm & (force < 0))
        worst = tension[np.argsort(force[tension])]
        state = firm | (force > 0)
        state[worst[: max(1, int(self.released[c] * len(worst)))]] = False
        return self._go_on(c, state)

    def _go_on(self, c: int, state: Bools) -> bool:
        """Take a state to try next; False where it cycles or took too long."""
        if state.tobytes() in self.seen[c] or self.passes[c] >= MAX_PLAIN:
            self.stuck.append(c)
            return False
        self.state[c] = state
        return True

    def _most_common(self, pending: list[int]) -> Bools:
        """Return the state that most combinations are in, the first of equals."""
        count = Counter(self.state[c].tobytes() for c in pending)
        best = max(pending, key=lambda c: count[self.state[c].tobytes()])
        return self.state[best].copy()

    def from_base(self, base: Base, pending: list[int]) -> list[int]:
        """Step combinations by changes to one base; return those that need another."""
        here = [c for c in pending if self._changes(base, c) <= LOW_RANK]
        later = [c for c in pending if c not in here]
        u, press = base.start(self.f[:, here], self._changed(base, here))
        column = {c: k for k, c in enumerate(here)}
        while here:
            far = [c for c in here if self._changes(base, c) > LOW_RANK]
            later += far
            here = [c for c in here if c not in far]
            base.prepare(self._changed(base, here))
            going: list[int] = []
            for same in self._by_state(here):
                at = [column[c] for c in same]
                going += self._step(base, same, u[:, at], press[at])
            here = going
        return later

    def _changes(self, base: Base, c: int) -> int:
        """Return in how many contacts a combination differs from a base."""
        return int((self.state[c] != base.state).sum())

    def _changed(self, base: Base, here: list[int]) -> Ints:
        """Return the contacts in which any of the combinations differs from a base."""
        return np.flatnonzero((self.state[here] != base.state).any(axis=0))

    def _by_state(self, here: list[int]) -> Iterable[list[int]]:
        """Return the combinations in lists of one state each."""
        lists: dict[bytes, list[int]] = {}
        for c in here:
            lists.setdefault(self.state[c].tobytes(), []).append(c)
        return lists.values()

    def _step(self, base: Base, same: list[int], u: Floats, press: Floats) -> list[int]:
        """Take one step for combinations in one state; return those that go on."""
        state = self.state[same[0]].copy()
        try:
            base, moved, pressed = self._moved(base, same, state, u, press)
        except SingularPivot:
            return [c for c in same if self._retreat(c)]
        stiffness = self.system.contacts.stiffness
        going: list[int] = []
        for k, new in enumerate(self.system.contacts.next_state(state, pressed)):
            c = same[k]
            self.seen[c].add(state.tobytes())
            self.passes[c] += 1
            if (new == state).all():
                self.done[c] = Solved(base, state, moved[:, k], int(self.passes[c]))
                continue
            self.firm[c], self.force[c] = state, pressed[k] * stiffness
            self.released[c] = 1.0
            if self._go_on(c, new):
                going.append(c)
        return going

    def _moved(
        self, base: Base, same: list[int], state: Bools, u: Floats, press: Floats
    ) -> tuple[Base, Floats, Floats]:
        """Return displacements and presses in a state, and the base they come from.

        Where a change to the base loses too much, the state is factorised by itself:
        whether it is loose must not depend on rounding.
        """
        try:
            return base, *base.move(u, state, press)
        except SingularPivot:
            own = Base(self.system, self.layout, state)
        u = own.factor.solve(self.f[:, same])
        return own, u, own.press(u)
