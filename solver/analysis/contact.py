"""One-sided elements and links: which of them act, found by a method that ends.

The displacements of a frame with one-sided springs minimise a convex energy

    W(u) = 1/2 u.K0.u - f.u + sum over contacts of 1/2 k max(0, b.u)^2,

which is quadratic within each *state* (the set of contacts that press) and has a
continuous gradient. A Newton step solves the frame in the present state; its result
says which contacts press next. Contacts may leave and come back.

Why it ends. *Plain steps*: a state that appears a second time is a cycle; a combination
that cycles, or takes more than ``MAX_PLAIN`` steps, leaves the plain phase, which is
therefore bounded. *Damped steps*: each Newton direction is followed to the exact
minimum of W along it, so W falls at every step, and because the finitely many Hessians
are positive definite the iterates converge to the one minimiser u*. Near u* only
states whose closed region holds u* occur; in each of them the full Newton step lands
on u* itself, since the gradient of that state's quadratic vanishes there. So the damped
phase stops after finitely many steps too. ``MAX_DAMPED`` bounds it in any case, and
beyond it, or where W falls without end (something lifts off and nothing holds it), a
`LiftOffError` names the open contacts: numbers of an unfinished state never leave.

Source: for the damped phase, the finite convergence of Newton's method with exact line
search on convex piecewise quadratic functions (Li and Swetits; Sun), shown above for
this case.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..errors import ContactError
from .assembly import System
from .factor import Factor, SingularPivot, factorise
from .frame import Bools, Floats, Ints
from .layout import Layout

MAX_PLAIN = 40
MAX_DAMPED = 200
LOW_RANK = 48  # changed contacts beyond which a new factorisation is cheaper
SINGULAR_CHANGE = 1e-11
_STAY = 1e-12  # of the largest press: an unloaded contact stays as it is
_SOFT = 1e-6  # stiffness left to an open contact where its state is loose


class LiftOffError(ContactError):
    """No contact state balances a combination.

    Attributes:
        combination: its index.
        elements, links: one-sided elements and links that do not act.
        nodes: nodes that move away without end.
        motion: (n, 6) how they move.
    """

    def __init__(self, message: str, combination: int, open_: tuple[Ints, Ints],
                 motion: Floats):  # fmt: skip
        super().__init__(message)
        self.combination = combination
        self.elements, self.links = open_
        self.motion = motion
        size = np.abs(motion[:, :3]).max(axis=1)
        self.nodes = np.flatnonzero(size > 0.05 * size.max()) if size.max() else size


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


def spread(layout: Layout, system: System, u: Floats) -> Floats:
    """Return (n_free, ncols) unknowns as (ncols, n, 6) displacements."""
    out = np.zeros((u.shape[1], 6 * system.frame.n_nodes))
    out[:, layout.dof] = u.T
    return out.reshape(u.shape[1], -1, 6)


def gather(layout: Layout, nodal: Floats) -> Floats:
    """Return (ncols, n, 6) nodal values at the unknowns, (n_free, ncols)."""
    return nodal.reshape(len(nodal), -1)[:, layout.dof].T


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
    system: System, layout: Layout, f: Floats, start: Bools
) -> list[Solved]:
    """Find displacements and contact state of every combination.

    Args:
        system: the frame's equations.
        layout: plan of its elimination.
        f: (n_free, ncomb) N and N m.
        start: (ncomb, c) states to begin with; the answer does not depend on it.

    Returns:
        One `Solved` for each combination.

    Raises:
        SingularPivot: the frame is loose even with every contact pressed.
        LiftOffError: a combination has no state.
    """
    plain = _PlainSearch(system, layout, f, start)
    done = plain.run()
    for column, state in plain.stuck:
        done[column] = _damped(system, layout, f[:, column], column, state)
    return [done[c] for c in range(f.shape[1])]


class _PlainSearch:
    """Newton steps without damping, combinations of one state together."""

    def __init__(self, system: System, layout: Layout, f: Floats, start: Bools):
        self.system, self.layout, self.f = system, layout, f
        self.state = start.copy()
        ncomb = f.shape[1]
        self.seen: list[set[bytes]] = [set() for _ in range(ncomb)]
        self.passes = np.zeros(ncomb, int)
        self.done: dict[int, Solved] = {}
        self.stuck: list[tuple[int, Bools]] = []

    def run(self) -> dict[int, Solved]:
        """Return the combinations that settle; the rest is in ``stuck``."""
        pending = list(range(self.f.shape[1]))
        while pending:
            base_state = _most_common(self.state[pending])
            try:
                base = Base(self.system, self.layout, base_state)
            except SingularPivot:
                if base_state.all():
                    raise
                same = [c for c in pending if (self.state[c] == base_state).all()]
                self._give_up(same)
                pending = [c for c in pending if c not in same]
                continue
            pending = self._from_base(base, pending)
        return self.done

    def _from_base(self, base: Base, pending: list[int]) -> list[int]:
        """Step combinations by changes to one base; return those that need another."""
        here = [c for c in pending if (self.state[c] != base.state).sum() <= LOW_RANK]
        later = [c for c in pending if c not in here]
        u = dict(zip(here, base.factor.solve(self.f[:, here]).T, strict=True))
        if not len(base.state):
            for c in here:
                self.done[c] = Solved(base, base.state, u[c], 1)
            return later
        columns = np.stack([u[c] for c in here], axis=1)
        press = dict(zip(here, base.press(columns), strict=True))
        while here:
            ready, others = self._same_state(here)
            if (self.state[ready[0]] != base.state).sum() > LOW_RANK:
                later += ready
            else:
                others += self._step(base, ready, u, press)
            here = others
        return later

    def _same_state(self, here: list[int]) -> tuple[list[int], list[int]]:
        """Return combinations in the state of the first one, and the others."""
        same = (self.state[here] == self.state[here[0]]).all(axis=1)
        ready = [c for c, s in zip(here, same, strict=True) if s]
        return ready, [c for c, s in zip(here, same, strict=True) if not s]

    def _step(
        self,
        base: Base,
        ready: list[int],
        u: dict[int, Floats],
        press: dict[int, Floats],
    ) -> list[int]:
        """Take one step for combinations in one state; return those that go on."""
        state = self.state[ready[0]].copy()
        before = np.stack([press[c] for c in ready])
        try:
            pressed = base.press_in(state, before)
        except SingularPivot:
            self._give_up(ready)
            return []
        going = []
        wanted = _next_state(state, pressed)
        for c, new in zip(ready, wanted, strict=True):
            self.seen[c].add(state.tobytes())
            self.passes[c] += 1
            if (new == state).all():
                moved = base.move(u[c][:, None], state, press[c][None])[:, 0]
                self.done[c] = Solved(base, state, moved, int(self.passes[c]))
            elif new.tobytes() in self.seen[c] or self.passes[c] >= MAX_PLAIN:
                self._give_up([c])
            else:
                self.state[c] = new
                going.append(c)
        return going

    def _give_up(self, columns: list[int]) -> None:
        """Leave combinations to the damped phase."""
        self.stuck += [(c, self.state[c].copy()) for c in columns]


def _most_common(states: Bools) -> Bools:
    """Return the row that occurs most often, the first of equals."""
    _, first, count = np.unique(states, axis=0, return_index=True, return_counts=True)
    best = first[count == count.max()].min()
    return states[best].copy()


def _next_state(state: Bools, press: Floats) -> Bools:
    """Return which contacts press next; one with no load stays as it is."""
    scale = np.abs(press).max(axis=1, keepdims=True) * _STAY
    return np.where(state, press >= -scale, press > scale)


def _damped(
    system: System, layout: Layout, f: Floats, column: int, state: Bools
) -> Solved:
    """Minimise the energy of one combination by Newton with exact line search."""
    contacts = system.contacts
    state = np.ones_like(state)
    u = Base(system, layout, state).factor.solve(f[:, None])
    scale = float(np.abs(f).max())
    for step in range(MAX_DAMPED):
        full = spread(layout, system, u)
        press = contacts.press(full)[0]
        state = _next_state(state, press[None])[0]
        inner = system.inner_force(full, state[None])
        rest = f[:, None] - gather(layout, inner)
        if float(np.abs(rest).max()) <= 1e-10 * scale:
            return _settle(system, layout, f, column, state, step + 1)
        direction = _direction(system, layout, state, rest)
        length = _line_minimum(system, layout, f, u, direction)
        if length is None:
            motion = spread(layout, system, direction)[0]
            raise _lift_off(system, column, state, motion)
        u = u + length * direction
    raise _lift_off(system, column, state, spread(layout, system, u)[0])


def _direction(system: System, layout: Layout, state: Bools, rest: Floats) -> Floats:
    """Return the Newton direction, with open contacts softened where loose."""
    try:
        return factorise(layout, system.values(state)).solve(rest)
    except SingularPivot:
        weight = np.where(state, 1.0, _SOFT)
        return factorise(layout, system.values(weight)).solve(rest)


def _line_minimum(
    system: System, layout: Layout, f: Floats, u: Floats, d: Floats
) -> float | None:
    """Return the length along d that minimises the energy, None where it has no end.

    The derivative along d is piecewise linear and never falls; it bends where a
    contact opens or closes.
    """
    contacts = system.contacts
    both = spread(layout, system, np.concatenate([u, d], axis=1))
    none = np.zeros((2, len(contacts)), bool)
    Ku, Kd = gather(layout, system.inner_force(both, none)).T
    g, rate = contacts.press(both)
    d = d[:, 0]
    value, slope = float(d @ (Ku - f)), float(d @ Kd)
    with np.errstate(divide="ignore", invalid="ignore"):
        cross = -g / rate
    pressing = (g > 0) | ((g == 0) & (rate > 0))
    value += float((contacts.stiffness * rate * g)[pressing].sum())
    bend = contacts.stiffness * rate**2
    slope += float(bend[pressing].sum())
    largest = slope + float(bend[~pressing].sum())
    events = np.flatnonzero(np.isfinite(cross) & (cross > 0))
    here = 0.0
    for c in events[np.argsort(cross[events])].tolist():
        step = float(cross[c]) - here
        if slope > 0 and value + slope * step >= 0:
            return here - value / slope
        value, here = value + slope * step, float(cross[c])
        slope += -float(bend[c]) if pressing[c] else float(bend[c])
    if slope <= 1e-9 * largest:
        return None
    return here - value / slope


def _settle(
    system: System, layout: Layout, f: Floats, column: int, state: Bools, passes: int
) -> Solved:
    """Return a state that balances, refused where something is loose in it."""
    try:
        base = Base(system, layout, state)
    except SingularPivot as error:
        weight = np.where(state, 1.0, _SOFT)
        soft = factorise(layout, system.values(weight)).solve(f[:, None])
        motion = spread(layout, system, soft)[0]
        raise _lift_off(system, column, state, motion) from error
    return Solved(base, state, base.factor.solve(f[:, None])[:, 0], passes)


def _lift_off(
    system: System, column: int, state: Bools, motion: Floats
) -> LiftOffError:
    """Return the error that names what is open and what then moves."""
    elements, links = system.split_active(state[None])
    open_ = np.flatnonzero(~elements[0]), np.flatnonzero(~links[0])
    size = np.abs(motion[:, :3]).max(axis=1)
    nodes = np.argsort(-size)[:6]
    nodes = nodes[size[nodes] > 0.05 * size.max()].tolist()
    message = (
        f"No contact state balances combination {column}: elements "
        f"{_some(open_[0])} and links {_some(open_[1])} do not act, and then nothing "
        f"holds nodes {nodes}. Fasten what lifts, or add a support."
    )
    return LiftOffError(message, column, open_, motion)


def _some(numbers: Ints) -> str:
    """Return a readable list of indices, cut where it is long."""
    text = ", ".join(str(i) for i in numbers[:12].tolist())
    return f"[{text}{', ...' if len(numbers) > 12 else ''}]"
