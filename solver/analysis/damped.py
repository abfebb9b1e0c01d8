"""The damped phase of the contact search: follow the energy down until it ends.

Used for the few combinations that plain steps do not settle; see `contact` for why it
stops. Where a state leaves something loose, the way down is the loose motion itself.
"""

from __future__ import annotations

import numpy as np

from ..errors import ContactError
from .assembly import System, gather, spread
from .base import Base
from .factor import SingularPivot, factorise
from .frame import Bools, Floats, Ints
from .layout import Layout
from .mechanism import null_modes

MAX_DAMPED = 200
LOW_RANK = 48  # changed contacts beyond which a new factorisation is cheaper
_SOFT = 1e-6  # stiffness left to an open contact where its state is loose
_BALANCED = 1e-10
_LOOSE = 1e-9


class LiftOffError(ContactError):
    """No contact state balances a combination.

    Attributes:
        combination: its index.
        elements, links: one-sided elements and links that do not act.
        nodes: nodes that move away without end.
        motion: (n, 6) how they move.
    """

    def __init__(
        self, message: str, combination: int, open_: tuple[Ints, Ints], motion: Floats
    ):
        super().__init__(message)
        self.combination = combination
        self.elements, self.links = open_
        self.motion = motion
        self.nodes = _movers(motion)


def minimise(
    system: System, layout: Layout, f: Floats, combination: int
) -> tuple[Base, Bools, Floats, int]:
    """Minimise the energy of one combination by Newton with exact line search.

    Args:
        system: the frame's equations.
        layout: plan of its elimination.
        f: (n_free,) loads.
        combination: its index, for the message.

    Returns:
        A factorised state, the final state near it, (n_free,) displacements and the
        steps taken.

    Raises:
        LiftOffError: something lifts off and nothing holds it.
    """
    search = _Search(system, layout, f, combination)
    for step in range(1, MAX_DAMPED + 1):
        rest = search.rest()
        if float(np.abs(rest).max()) <= _BALANCED * search.scale:
            return *search.settle(), step
        search.follow(search.direction(rest))
    raise _lift_off(system, combination, search.state, search.motion(search.u))


class _Search:
    """Where the damped phase of one combination stands."""

    def __init__(self, system: System, layout: Layout, f: Floats, combination: int):
        self.system, self.layout, self.combination = system, layout, combination
        self.f = f[:, None]
        self.scale = float(np.abs(f).max())
        self.state = system.contacts.first_state()
        self.base = Base(system, layout, self.state)
        self.u = self.base.factor.solve(self.f)

    def motion(self, u: Floats) -> Floats:
        """Return (n, 6) of (n_free, 1) displacements."""
        return spread(self.layout, self.system, u)[0]

    def rest(self) -> Floats:
        """Update the state to the displacements; return what load is not balanced."""
        full = spread(self.layout, self.system, self.u)
        contacts = self.system.contacts
        self.state = contacts.next_state(self.state, contacts.press(full))[0]
        inner = self.system.inner_force(full, self.state[None])
        return self.f - gather(self.layout, inner)

    def solve(self, rest: Floats) -> Floats:
        """Solve in the present state, from the last base where it is near."""
        if int((self.state != self.base.state).sum()) > LOW_RANK:
            self.base = Base(self.system, self.layout, self.state)
        try:
            return self.base.solve(rest, self.state)
        except SingularPivot:  # too much for a change; loose or not, its own will tell
            self.base = Base(self.system, self.layout, self.state)
            return self.base.factor.solve(rest)

    def direction(self, rest: Floats) -> Floats:
        """Return the Newton direction, or the loose motion that the load drives."""
        try:
            return self.solve(rest)
        except SingularPivot:
            modes = null_modes(self.system, self.layout, self.state)
        work = modes.T @ rest
        if (np.abs(work) > _LOOSE * (np.abs(modes).T @ np.abs(rest))).any():
            return modes @ work
        weight = np.where(self.state, 1.0, _SOFT)
        return factorise(self.layout, self.system.values(weight)).solve(rest)

    def follow(self, direction: Floats) -> None:
        """Go to the least energy along a direction."""
        length = _line_minimum(
            self.system, self.layout, self.f[:, 0], self.u, direction
        )
        if length is None:
            motion = self.motion(direction)
            raise _lift_off(self.system, self.combination, self.state, motion)
        self.u = self.u + length * direction

    def settle(self) -> tuple[Base, Bools, Floats]:
        """Return a state that balances, refused where something is loose in it."""
        try:
            u = self.solve(self.f)[:, 0]
        except SingularPivot as error:
            modes = null_modes(self.system, self.layout, self.state)
            motion = spread(self.layout, self.system, modes).sum(axis=0)
            raise _lift_off(
                self.system, self.combination, self.state, motion
            ) from error
        return self.base, self.state, u


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


def _movers(motion: Floats) -> Ints:
    """Return the nodes that an (n, 6) motion shifts most."""
    size = np.abs(motion[:, :3]).max(axis=1)
    return np.flatnonzero(size > 0.05 * size.max(initial=0.0))


def _lift_off(
    system: System, combination: int, state: Bools, motion: Floats
) -> LiftOffError:
    """Return the error that names what is open and what then moves."""
    elements, links = system.split_active(state[None])
    open_ = np.flatnonzero(~elements[0]), np.flatnonzero(~links[0])
    message = (
        f"No contact state balances combination {combination}: elements "
        f"{_some(open_[0])} and links {_some(open_[1])} do not act, and then nothing "
        f"holds nodes {_some(_movers(motion))}. Fasten what lifts, or add a support."
    )
    return LiftOffError(message, combination, open_, motion)


def _some(numbers: Ints) -> str:
    """Return a readable list of indices, cut where it is long."""
    text = ", ".join(str(i) for i in numbers[:12].tolist())
    return f"[{text}{', ...' if len(numbers) > 12 else ''}]"
