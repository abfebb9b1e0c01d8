"""Solving a frame: from loads and factors to forces that balance them.

Every result carries the residual of its equilibrium and is refused where that is not
small; a mechanism or a contact state that cannot be found is an error.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from . import element
from .assembly import System, gather, spread
from .base import Base
from .builder import make_layout
from .contact import Solved, solve_contact
from .factor import SingularPivot
from .frame import (
    Bools,
    Floats,
    Frame,
    Ints,
    LoadSet,
    check_frame,
    check_loads,
    same_frame,
)
from .layout import Layout, layout_key
from .mechanism import (
    idle_rotations,
    null_modes,
    spin_freedoms,
    unstable,
)
from .refusal import inexact, loaded_idle, refuse_loose_nodes
from .stations import EndState, Stations, zero_shear

RESIDUAL_GOAL = 1e-11
# Joints an inch or two apart on a long hip leave a few parts in 1e8; what is loose
# leaves far more.
RESIDUAL_LIMIT = 1e-7
MOST_REFINEMENTS = 8
_LARGE_BLOCK = 4_000_000  # numbers; just below the most the allocator learns from


@dataclass(frozen=True, eq=False)
class FrameResult:
    """Displacements and forces of every combination.

    Attributes:
        frame: what was solved.
        loads: its load cases.
        factors: (ncomb, ncase) factor of each case in each combination.
        combination_names: (ncomb,) names.
        displacement: (ncomb, n, 6) m and rad.
        element_active: (ncomb, m) False for a one-sided element that does not act.
        link_active: (ncomb, k) likewise for links.
        passes: (ncomb,) solves that the contact state took.
        link_force: (ncomb, k) N, compression positive.
        reaction: (ncomb, n, 6) N and N m at held freedoms, on the frame.
        applied: (ncomb, n, 6) N and N m, all loads brought to the nodes.
        residual: (ncomb,) largest imbalance at a free node over the largest force.
        dropped: (d,) flat freedoms (6 node + k) that nothing resists or loads.
        layout: plan of the elimination, for the next solve of the same topology.
        system: the frame's equations.
        solved: per combination, its factorised contact state.
        job: its loads on the elements and at the nodes.
        end_state: what the stations are computed from.
    """

    frame: Frame
    loads: LoadSet
    factors: Floats
    combination_names: tuple[str, ...]
    displacement: Floats
    element_active: Bools
    link_active: Bools
    passes: Ints
    link_force: Floats
    reaction: Floats
    applied: Floats
    residual: Floats
    dropped: Ints
    layout: Layout
    system: System
    solved: tuple[Solved, ...]
    job: Job
    end_state: EndState

    @property
    def weakest_pivot(self) -> tuple[float, int]:
        """The least pivot ratio and its flat freedom, see `factor`."""
        factors = {id(s.base.factor): s.base.factor for s in self.solved}
        return min(factor.weakest for factor in factors.values())

    @cached_property
    def end_force_global(self) -> Floats:
        """(ncomb, m, 2, 6) N and N m, what the nodes exert on the element ends."""
        s = self.end_state
        ends = np.empty((6, 2, *s.basic.shape[1:]))
        for k, part in enumerate(element.end_forces(s.elements, s.basic, s.load)):
            ends[k] = part
        return ends.transpose(2, 3, 1, 0)

    def stations(self, ns: int = 9, peaks: bool = False) -> Stations:
        """Return forces and shape at ns equal stations along every element.

        Args:
            ns: number of stations, 2 or more.
            peaks: also at the point of zero strong shear of every combination, which
                makes K = ns + ncomb.
        """
        even = np.linspace(0.0, 1.0, ns)
        return Stations(self.end_state, even, peaks)

    def peak_moments(self) -> tuple[Floats, Floats]:
        """Return the exact inner extreme of the strong moment.

        Returns:
            (ncomb, m) m from end i, where the strong shear is zero (an end where it is
            zero nowhere), and (ncomb, m) N m, the moment there.
        """
        xi, s = zero_shear(self.end_state), self.end_state
        wl2 = s.local_load[2] * s.elements.L**2
        moment = s.basic[1] * (1 - xi) + s.basic[2] * xi - wl2 * xi * (1 - xi) / 2
        return xi * s.elements.L, moment

    def imbalance(self) -> Floats:
        """Return (ncomb, 6) N and N m: loads + reactions + ground links, about 0,0,0.

        All are zero but for rounding.
        """
        links, xyz = self.frame.links, self.frame.xyz
        total = self.applied + self.reaction
        ground = links.j < 0
        push = self.link_force[:, ground, None] * links.direction[ground]
        for c in range(len(total)):
            np.add.at(total[c, :, :3], links.i[ground], push[c])
        x, y, z = xyz.T
        fx, fy, fz = total[..., 0], total[..., 1], total[..., 2]
        turn = np.stack([y * fz - z * fy, z * fx - x * fz, x * fy - y * fx], axis=-1)
        moment = total[..., 3:] + turn
        return np.concatenate([total[..., :3].sum(axis=1), moment.sum(axis=1)], axis=1)


def solve(
    frame: Frame,
    loads: LoadSet,
    factors: Floats,
    combination_names: Sequence[str] | None = None,
    layout: Layout | None = None,
    start: FrameResult | None = None,
    acting: tuple[Bools, Bools] | None = None,
) -> FrameResult:
    """Solve a frame for combinations of its load cases.

    Args:
        frame: what to solve.
        loads: load cases.
        factors: (ncomb, ncase) factor of each case in each combination.
        combination_names: (ncomb,) names; numbered where None.
        layout: plan of an earlier result, that of ``start`` where None; used where the
            topology is the same.
        start: an earlier result. Its contact states are tried first, and where the
            frame is the same its factorisation serves again. What comes out does not
            depend on it.
        acting: (ncomb, m) elements and (ncomb, k) links whose states are tried first,
            instead of those of ``start``.

    Raises:
        FrameError: an array that does not fit or holds an impossible value.
        UnstableFrameError: the frame is a mechanism, or so nearly one that rounding
            decides its displacements.
        LiftOffError: no contact state balances a combination.
    """
    keep_pages()
    factors = np.ascontiguousarray(factors, dtype=float)
    check_frame(frame)
    check_loads(frame, loads, factors)
    if combination_names is None:
        combination_names = [str(c) for c in range(len(factors))]
    names = tuple(combination_names)
    if start is not None and _is_again(start, frame):
        job = Job(start.system, loads, factors, names)
        known = list({id(s.base): s.base for s in start.solved}.values())
        first = job.first_state(start, acting)
        result = job.run(start.layout, first, known)
        if isinstance(result, FrameResult):
            return result
    job = Job(System(frame), loads, factors, names)
    first = job.first_state(start, acting)
    if layout is None and start is not None:
        layout = start.layout
    natural = job.system.natural_freedoms()
    if layout is not None and layout.fits(layout_key(frame, natural)):
        try:
            result = job.run(layout, first)
            if isinstance(result, FrameResult):
                return result
        except SingularPivot:
            pass  # what was idle when the layout was made may not be idle now
    return job.run_afresh(natural, first)


def _is_again(start: FrameResult, frame: Frame) -> bool:
    """Return True where only the loads differ from an earlier result's."""
    edited = start.system.contacts.lock.any()
    return not edited and same_frame(start.frame, frame)


def keep_pages() -> None:
    """Teach the allocator to keep freed memory instead of returning it at once.

    The GNU allocator raises its threshold for returning pages when a large block is
    freed; fresh pages cost more than the arithmetic of a small roof. The block is never
    touched, so this costs microseconds. Elsewhere it does nothing.
    """
    np.empty(_LARGE_BLOCK)


class Job:
    """One frame with its combinations, ready to be solved on a layout."""

    def __init__(
        self, system: System, loads: LoadSet, factors: Floats, names: tuple[str, ...]
    ):
        self.loads, self.factors, self.names = loads, factors, names
        self.system = system
        e = self.system.elements
        self.load = np.matmul(factors, loads.element_load.transpose(2, 0, 1))
        self.local = element.local_loads(e, self.load)
        self.held = element.fixed_end_forces(e, self.local)
        node_load = np.matmul(factors, loads.node_load.transpose(2, 0, 1))
        self.node_load = node_load.transpose(1, 2, 0)
        self.applied = self.node_load - self.system.node_sum(self.held, self.load)

    def edited(
        self, system: System, loads: LoadSet, removed: Ints, first_new: int
    ) -> Job:
        """Return the job of a frame with other axial elements, from this one.

        Args:
            system: the edited equations; new elements come last.
            loads: the edited loads.
            removed: (r,) axial elements taken out.
            first_new: the first new element.
        """
        other = copy(self)
        other.system, other.loads = system, loads
        e, ends = system.elements, system.frame.ends
        new = np.matmul(
            self.factors, loads.element_load[:, first_new:].transpose(2, 0, 1)
        )
        axes = e.axes[:, :, first_new:]
        local = np.stack([(new * axis[:, None]).sum(axis=0) for axis in axes])
        none = np.zeros((6, *new.shape[1:]))
        other.load = np.concatenate([self.load, new], axis=2)
        other.local = np.concatenate([self.local, local], axis=2)
        other.held = np.concatenate([self.held, none], axis=2)
        other.applied = self.applied.copy()
        fresh = np.arange(first_new, len(ends))
        for sign, which in ((-1.0, removed), (1.0, fresh)):
            for k in which.tolist():  # a pin-ended bar hands half to either end
                half = other.load[:, :, k].T * (0.5 * sign * e.L[k])
                other.applied[:, ends[k, 0], :3] += half
                other.applied[:, ends[k, 1], :3] += half
        other.load[:, :, removed] = 0.0
        other.local[:, :, removed] = 0.0
        return other

    def first_state(
        self, start: FrameResult | None, acting: tuple[Bools, Bools] | None = None
    ) -> Bools:
        """Return the (ncomb, c) contact states to begin with, see `solve`."""
        if acting is not None:
            return self.system.contacts.state_of(*acting)
        shape = len(self.names), len(self.system.contacts)
        if start is not None and len(start.solved) == shape[0]:
            state = np.array([s.state for s in start.solved], bool)
            if state.size == shape[0] * shape[1]:
                return state.reshape(shape)
        return np.tile(self.system.contacts.first_state(), (shape[0], 1))

    def run_afresh(self, natural: Bools, start: Bools) -> FrameResult:
        """Solve on a new layout, after dropping what turns idly; name mechanisms."""
        system = self.system
        refuse_loose_nodes(system, natural)
        idle = idle_rotations(system, natural)
        while True:
            layout = make_layout(system.frame, natural, natural & ~idle)
            try:
                result = self.run(layout, start)
            except SingularPivot as error:
                modes = null_modes(system, layout)
                f = gather(layout, self.applied)
                more = spin_freedoms(layout, modes, f)
                if more is None or not len(more):
                    raise unstable(system, layout, modes) from error
                idle.reshape(-1)[more] = True
                continue
            if isinstance(result, FrameResult):
                return result
            raise loaded_idle(result)

    def run(
        self, layout: Layout, start: Bools, known: Sequence[Base] = ()
    ) -> FrameResult | Bools:
        """Solve on a layout, or return (n, 6) dropped freedoms that bear load."""
        f = gather(layout, self.applied)
        return self.finish(layout, solve_contact(self.system, layout, f, start, known))

    def finish(self, layout: Layout, solved: list[Solved]) -> FrameResult | Bools:
        """Return the balanced forces, or (n, 6) dropped freedoms that bear load."""
        frame = self.system.frame
        unknown = np.stack([s.u for s in solved], axis=1)
        scale = np.abs(self.applied).max(axis=(1, 2))
        scale = np.where(scale > 0, scale, 1.0)
        dropped = ~(layout.free | frame.fixed)
        state = np.array([s.state for s in solved], bool).reshape(len(solved), -1)
        active = self.system.split_active(state)
        last = np.inf
        for _ in range(MOST_REFINEMENTS):
            found = self._recover(layout, unknown, active)
            rest = gather(layout, found.rest)
            residual = np.abs(rest).max(axis=0, initial=0.0) / scale
            if residual.max() <= RESIDUAL_GOAL or residual.max() > last / 4:
                break  # good, or as good as it gets
            last = residual.max()
            unknown = unknown - _correct(solved, rest)
        miss = np.abs(found.rest[:, dropped]) > RESIDUAL_LIMIT * scale[:, None]
        if miss.any():
            bears = np.zeros_like(dropped)
            bears[dropped] = miss.any(axis=0)
            return bears
        result = self._result(layout, solved, active, found, residual)
        if not residual.max() <= RESIDUAL_LIMIT:
            raise inexact(frame, residual.max(), result.weakest_pivot)
        return result

    def _recover(
        self, layout: Layout, unknown: Floats, active: tuple[Bools, Bools]
    ) -> _Recovered:
        """Return the forces of displacements and what they leave unbalanced."""
        system = self.system
        on_element, on_link = active
        u = spread(layout, system, unknown)
        u_i, u_j = system.at_ends(u)
        basic = element.basic_forces(system.elements, u_i, u_j, self.held)
        if not on_element.all():
            basic[0] *= on_element
        push = system.link_shortening(u) * system.frame.links.stiffness * on_link
        rest = system.node_sum(basic, self.load) - self.node_load
        system.add_links(rest, push)
        return _Recovered(u, u_i, u_j, basic, push, rest)

    def _result(
        self,
        layout: Layout,
        solved: list[Solved],
        active: tuple[Bools, Bools],
        found: _Recovered,
        residual: Floats,
    ) -> FrameResult:
        """Return the result of balanced forces."""
        frame, e = self.system.frame, self.system.elements
        reaction = np.zeros(found.rest.shape)
        reaction[:, frame.fixed] = found.rest[:, frame.fixed]
        slack = frame.release[:, 0], frame.release[:, 6]
        ends = found.u_i, found.u_j
        return FrameResult(
            frame=frame,
            loads=self.loads,
            factors=self.factors,
            combination_names=self.names,
            displacement=found.u,
            element_active=active[0],
            link_active=active[1],
            passes=np.array([s.passes for s in solved]),
            link_force=found.push,
            reaction=reaction,
            applied=self.applied,
            residual=residual,
            dropped=np.flatnonzero(~(layout.free | frame.fixed)),
            layout=layout,
            system=self.system,
            solved=tuple(solved),
            job=self,
            end_state=EndState(e, found.basic, self.local, self.load, *ends, *slack),
        )


@dataclass(frozen=True, eq=False)
class _Recovered:
    """What displacements bring about; ``rest`` is what is not balanced."""

    u: Floats
    u_i: Floats
    u_j: Floats
    basic: Floats
    push: Floats
    rest: Floats


def _correct(solved: list[Solved], rest: Floats) -> Floats:
    """Return the displacements that an imbalance (n_free, ncomb) calls for."""
    out = np.empty_like(rest)
    for base in {id(s.base): s.base for s in solved}.values():
        here = [c for c, s in enumerate(solved) if s.base is base]
        u = base.factor.solve(rest[:, here])
        press = base.press(u)
        alike: dict[bytes, list[int]] = {}
        for k, c in enumerate(here):
            alike.setdefault(solved[c].state.tobytes(), []).append(k)
        for same in alike.values():
            state, of = solved[here[same[0]]].state, [here[k] for k in same]
            out[:, of] = base.move(u[:, same], state, press[same])[0]
    return out
