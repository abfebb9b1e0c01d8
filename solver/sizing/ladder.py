"""A roof solved under a ladder of attic loads, seen at its ceiling joists.

Forces between two rungs are drawn straight; the checks are those of the roof.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult, LiftOffError, LoadSet, UnstableFrameError
from ..analysis import solve as solve_frame
from ..basis.arrays import Floats
from ..basis.protocol import Basis, Check
from ..checks.bearing import BearingTable, check_bearing
from ..checks.deflection import check_deflection, span_sags
from ..checks.inputs import member_table
from ..checks.members import check_members
from ..checks.places import Places, worst_of_member
from ..checks.results import CheckResult, CheckRows
from ..connections import heel_stiffness
from ..framing.model import Role
from ..framing.spans import spans
from ..idealise import build_model, with_heel_slip
from ..loads import combinations, member_loads
from ..loads.cases import CASES, Case
from ..solve import Solution
from ..units import PSF
from ..verdict.bearings import bearing_table
from ..verdict.cuts import cut_places
from ..verdict.judge import lasting_weights, span_table
from ..verdict.rows import member_rows

Ints = NDArray[np.int64]
LADDER = (0.0, 10.0, 40.0, 160.0)  # psf
_STATIONS = 17
_FORCES = ("N", "V_strong", "M_strong", "M_weak")


class Asked(StrEnum):
    """Which checks are asked for."""

    STRENGTH = "strength"
    SAG = "sag"


@dataclass(frozen=True, eq=False)
class Rung:
    """What the joists feel at one attic load; all of it linear in the load.

    Attributes:
        N, V_strong, M_strong, M_weak: (ncomb, m, K), see `analysis.Stations`.
        displacement: (ncomb, m, K, 3) m.
        bearing: (ncomb, p) N at the joists' bearings.
        cuts: (ncomb, c) N of shear at their cut ends.
        x: (m, K) m from end i of each element.
    """

    N: Floats
    V_strong: Floats
    M_strong: Floats
    M_weak: Floats
    displacement: Floats
    bearing: Floats
    cuts: Floats
    x: Floats


class Ladder:
    """The joists of a roof at any attic load.

    Attributes:
        keys: of the joists.
        levels: Pa, solved, ascending.
        states: contact state at each.
    """

    def __init__(self, solution: Solution, basis: Basis):
        assert solution.model is not None
        brief, self.basis = solution.brief, basis
        self.brief = replace(brief, loads=replace(brief.loads, attic_live=PSF))
        self.framing = solution.framing
        loads = member_loads(self.brief, self.framing)
        self.combos = combinations(loads)
        model = build_model(self.framing, solution.path, loads)
        slip = heel_stiffness(brief)
        self.model = (
            model if slip is None else with_heel_slip(self.framing, model, slip)
        )
        members = self.model.members
        rows = [
            n
            for n, key in enumerate(members)
            if self.framing.members[key].role is Role.CEILING_JOIST
        ]
        self.keys = tuple(members[n] for n in rows)
        self._row = np.full(len(members), -1)
        self._row[rows] = np.arange(len(rows))
        own = self._row[self.model.frame.element_member]
        self._elements = np.flatnonzero(own >= 0)
        self._member = own[self._elements]
        held = spans(self.framing)
        whole = member_table(
            member_rows(self.brief, self.framing, members, held), basis
        )
        self._whole = whole, basis.strengths(whole, self.combos.C_D)
        self._table = member_table(
            member_rows(self.brief, self.framing, self.keys, held), basis
        )
        listed = tuple(s for key in self.keys for s in held.get(key, ()))
        at = {key: n for n, key in enumerate(self.keys)}
        self._spans = span_table(self.brief, self.framing, at, listed)
        self._lasting = lasting_weights(self.brief, self.combos)
        self.levels: list[float] = []
        self.states: list[bytes] = []
        self._rungs: list[Rung] = []
        self._stacks: dict[str, Floats] = {}
        self._known: dict[tuple[float, Asked], dict[Check, CheckRows]] = {}
        self._any: CheckResult | None = None
        self._last: FrameResult | None = None
        self._bearings: BearingTable | None = None
        self._cuts: Places | None = None
        for load in LADDER if self.keys else ():
            self.solve(load * PSF)

    def solve(self, load: float) -> None:
        """Solve under an attic load, Pa, and put it in its place on the ladder.

        A load under which the roof has no state of balance is left out.
        """
        model, factor = self.model, np.ones(len(CASES))
        factor[CASES.index(Case.ATTIC_LIVE)] = load / PSF
        loads = LoadSet(
            model.loads.names,
            model.loads.element_load * factor[:, None, None],
            model.loads.node_load * factor[:, None, None],
        )
        try:
            frame = solve_frame(
                model.frame,
                loads,
                self.combos.factors,
                self.combos.names,
                layout=None if self._last is None else self._last.layout,
                start=self._last,
            )
        except (UnstableFrameError, LiftOffError):
            return
        self._last = frame
        at = int(np.searchsorted(self.levels, load))
        acts = np.concatenate([frame.element_active, frame.link_active], axis=1)
        self.levels.insert(at, load)
        self.states.insert(at, acts.tobytes())
        self._rungs.insert(at, self._rung(frame))
        self._stacks.clear()

    def _rung(self, frame: FrameResult) -> Rung:
        """Return what the joists feel in a solved frame."""
        stations, e = frame.stations(_STATIONS), self._elements
        bearings = bearing_table(self.framing, self.model, frame)
        own = np.flatnonzero(self._row[bearings.member] >= 0)
        self._bearings = BearingTable(
            member=self._row[bearings.member[own]],
            station=bearings.station[own],
            force=bearings.force[:, own],
            length=bearings.length[own],
            breadth=bearings.breadth[own],
            end_distance=bearings.end_distance[own],
            angle=bearings.angle[own],
        )
        places = cut_places(
            self.brief, self.framing, self.model, stations, *self._whole, self.basis
        )
        cuts = np.zeros((len(self.combos.names), 0))
        if places is not None:
            mine = np.flatnonzero(self._row[places.member] >= 0)
            cuts = places.demand[:, mine]
            self._cuts = Places(
                member=self._row[places.member[mine]],
                station=places.station[mine],
                demand=cuts,
                capacity=places.capacity[:, mine],
                unit=places.unit,
            )
        return Rung(
            N=stations.N[:, e],
            V_strong=stations.V_strong[:, e],
            M_strong=stations.M_strong[:, e],
            M_weak=stations.M_weak[:, e],
            displacement=stations.displacement[:, e],
            bearing=self._bearings.force,
            cuts=cuts,
            x=stations.x[e],
        )

    def _at(self, load: Floats, names: Iterable[str]) -> dict[str, Floats]:
        """Return what each joist feels at its own attic load, (n,) Pa."""
        levels = np.array(self.levels)
        low = np.searchsorted(levels, load, side="right") - 1
        low = np.clip(low, 0, len(levels) - 2)
        part = (load - levels[low]) / (levels[low + 1] - levels[low])
        assert self._bearings is not None
        joists = {"bearing": self._bearings.member}
        if self._cuts is not None:
            joists["cuts"] = self._cuts.member
        mixed = {}
        for name in names:
            if name not in self._stacks:
                values = [getattr(rung, name) for rung in self._rungs]
                self._stacks[name] = np.stack(values)
            stack, of = self._stacks[name], joists.get(name, self._member)
            if not stack.shape[2]:
                mixed[name] = stack[0]
                continue
            at = np.arange(len(of))
            lower = np.moveaxis(stack[low[of], :, at], 0, 1)
            upper = np.moveaxis(stack[low[of] + 1, :, at], 0, 1)
            share = part[of].reshape(1, -1, *(1,) * (lower.ndim - 2))
            mixed[name] = lower + share * (upper - lower)
        return mixed

    def level_checks(self, level: float, asked: Asked) -> dict[Check, CheckRows]:
        """Return the checks of all joists at a solved load, worked out once."""
        if (level, asked) not in self._known:
            load = np.full(len(self.keys), level)
            self._known[level, asked] = self.checks(load, asked)
        return self._known[level, asked]

    def checks(self, load: Floats, asked: Asked) -> dict[Check, CheckRows]:
        """Return the checks of all joists, each at its own attic load.

        Args:
            load: (n,) Pa, within the ladder.
            asked: which checks.
        """
        load = np.asarray(load, dtype=float)
        if asked is Asked.SAG:
            return self._sags(load)
        forces = self._at(load, _FORCES)
        places = self._at(load, ("bearing", "cuts"))
        result = self._result(forces)
        found = dict(result.checks)
        assert self._bearings is not None
        bearing = check_bearing(
            result, replace(self._bearings, force=places["bearing"])
        )
        if bearing is not None:
            found[Check.BEARING] = bearing
        if self._cuts is not None and len(self._cuts.member):
            cuts = replace(self._cuts, demand=places["cuts"])
            found[Check.NOTCHED_SHEAR] = worst_of_member(
                result, Check.NOTCHED_SHEAR, cuts
            )
        return found

    def _sags(self, load: Floats) -> dict[Check, CheckRows]:
        """Return the sag checks."""
        if self._any is None:
            first = {name: getattr(self._rungs[0], name) for name in _FORCES}
            self._any = self._result(first)  # for its members and combinations alone
        idle = {name: getattr(self._rungs[0], name) for name in _FORCES}
        rung = _Forces(x=self._rungs[0].x, **idle, **self._at(load, ("displacement",)))
        sags = span_sags(rung, self._member, self._spans, self._lasting, self.basis)
        return check_deflection(self._any, sags)

    def _result(self, forces: dict[str, Floats]) -> CheckResult:
        """Return the checks that forces along the joists alone decide."""
        first = self._rungs[0]
        return check_members(
            self._table,
            _Forces(x=first.x, displacement=first.displacement, **forces),
            self._member,
            self.combos.names,
            self.combos.C_D,
            self.basis,
        )


@dataclass(eq=False)
class _Forces:
    """What the checks read along members; see `checks.inputs.StationForces`."""

    x: Floats
    N: Floats
    V_strong: Floats
    M_strong: Floats
    M_weak: Floats
    displacement: Floats
