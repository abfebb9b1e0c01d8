"""How far a ceiling joist passes: its own loads on a longer or shorter span.

Reads a solved roof; keeps the load per length of each joist, what struts bring to it
and the pull of the ties, and moves its bearings apart. The struts' feet stay at the
same part of the span; what they press across the grain does not change with it and is
left to the checks of the roof. A joist over two bearings is a simple beam; others are
left out.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Floats
from ..basis.irc.cutting import BEARING_ON_WOOD
from ..basis.protocol import Check
from ..checks.bearing import BearingTable, check_bearing
from ..checks.deflection import check_deflection, span_sags
from ..checks.inputs import MemberTable
from ..checks.members import check_members
from ..checks.places import Places, worst_of_member
from ..checks.results import CheckRows
from ..connections.forces import MemberForces
from ..framing.model import Role
from ..solve import Solution
from ..units import FOOT
from ..verdict.cuts import cut_places
from ..verdict.judge import lasting_weights, span_table
from .roots import crossings

Ints = NDArray[np.int64]
SHORTEST, LONGEST = 1 * FOOT, 60 * FOOT
_EVEN = np.linspace(0.0, 1.0, 33)
_SHAPE = (Check.SLENDERNESS, Check.BEAM_SLENDERNESS)


@dataclass(frozen=True, kw_only=True)
class PassesUpTo:
    """How far one joist passes.

    Attributes:
        member: key.
        span: m, as it is.
        largest: m, at which its worst check reaches its limit; 0 where no span passes,
            `LONGEST` where all do.
        check: that stops it, None where none does.
    """

    member: str
    span: float
    largest: float
    check: Check | None


def joist_spans(solution: Solution) -> dict[str, PassesUpTo]:
    """Return how far every analysed ceiling joist over two bearings passes, by key.

    Source: simple beam statics (Wood Handbook Table 9-1 and any table of beams); the
    checks of the basis.

    Args:
        solution: a solved roof.
    """
    if solution.model is None or solution.frame is None or solution.checked is None:
        return {}
    beams = _Beams(solution)
    if not beams.keys:
        return {}
    n = len(beams.keys)
    low, high = np.full(n, SHORTEST), np.full(n, LONGEST)
    use_low, use_high = beams.use(low), beams.use(high)
    found = crossings(beams.use, low, high, use_low, use_high)
    found = np.where(use_low > 1, 0.0, np.where(use_high <= 1, LONGEST, found))
    names = beams.governing(np.clip(found, SHORTEST, LONGEST))
    return {
        key: PassesUpTo(
            member=key,
            span=float(beams.span[k]),
            largest=float(found[k]),
            check=names[k] if found[k] < LONGEST else None,
        )
        for k, key in enumerate(beams.keys)
    }


@dataclass(eq=False)
class _Stations:
    """Forces and displacements along simple beams, as the checks take them."""

    x: Floats
    N: Floats
    V_strong: Floats
    M_strong: Floats
    M_weak: Floats
    displacement: Floats


class _Beams:
    """The joists over two bearings as simple beams of any span."""

    def __init__(self, solution: Solution):
        assert solution.model is not None
        assert solution.checked is not None
        checked, framing = solution.checked, solution.framing
        self.combos, self.result = solution.combinations, checked.result
        count: dict[str, int] = {}
        for span in checked.spans:
            count[span.member] = count.get(span.member, 0) + 1
        members = solution.model.members
        self.keys = tuple(
            key
            for key in members
            if framing.members[key].role is Role.CEILING_JOIST and count.get(key) == 1
        )
        self.row = np.array([members.index(key) for key in self.keys], dtype=np.int64)
        self.span = np.array([framing.length(key) for key in self.keys])
        self.table = _rows_of(checked.result.table, self.row)
        self._load(solution)
        self._feet(solution)
        at = {key: n for n, key in enumerate(self.keys)}
        listed = tuple(s for s in checked.spans if s.member in at)
        self.spans = span_table(solution.brief, framing, at, listed)
        self.lasting = lasting_weights(solution.brief, self.combos)
        self._ends(solution)

    def _load(self, solution: Solution) -> None:
        """Take load per length and pull of every joist, (ncomb, n)."""
        model, frame = solution.model, solution.frame
        assert model is not None
        assert frame is not None
        first = np.searchsorted(model.frame.element_member, self.row)
        line = np.tensordot(
            self.combos.factors, model.loads.element_load[:, first, 2], 1
        )
        self.load = -line
        self.first = first
        self.last = np.searchsorted(model.frame.element_member, self.row, side="right")
        N = frame.stations(2).N
        self.pull = np.stack([N[:, self.first, 0], N[:, self.last - 1, 1]])

    def _feet(self, solution: Solution) -> None:
        """Take place, part of the span, and force of every strut's foot."""
        assert solution.model is not None
        assert solution.frame is not None
        framing = solution.framing
        force = MemberForces(framing, solution.model, solution.frame)
        feet: list[list[tuple[float, Floats]]] = [[] for _ in self.keys]
        for strut in framing.of_role(Role.STRUT):
            if strut.key not in force.row:
                continue
            for n, key in enumerate(self.keys):
                if strut.nodes[0] in framing.members[key].nodes:
                    start = framing.ends(key)[0]
                    away = framing.points[strut.nodes[0]] - start
                    part = float(np.linalg.norm(away)) / self.span[n]
                    feet[n].append((part, -force.at_start(strut.key)[:, 2]))
        most = max((len(f) for f in feet), default=0)
        ncomb, n = len(self.combos.names), len(self.keys)
        self.place, self.push = np.zeros((most, n)), np.zeros((most, ncomb, n))
        for k, listed in enumerate(feet):
            for f, (part, down) in enumerate(listed):
                self.place[f, k], self.push[f, :, k] = part, down

    def _ends(self, solution: Solution) -> None:
        """Take what each end holds in shear where it is cut, and where it bears."""
        checked, model = solution.checked, solution.model
        assert checked is not None
        assert model is not None
        places = cut_places(
            solution.brief, solution.framing, model, checked.stations,
            checked.result.table, checked.result.strengths, checked.result.basis,
        )  # fmt: skip
        back = {int(row): n for n, row in enumerate(self.row)}
        self.cut: tuple[Ints, Ints, Floats] | None = None
        if places is not None:
            own = [k for k, m in enumerate(places.member.tolist()) if m in back]
            if own:
                member = np.array([back[int(places.member[k])] for k in own])
                end = (places.station[own] > self.span[member] / 2).astype(np.int64)
                self.cut = member, end, places.capacity[:, own]

    def _stations(self, span: Floats) -> _Stations:
        """Return forces and shape of simple beams of spans (n,) m."""
        n, feet = len(span), self.place
        part = np.concatenate([np.broadcast_to(_EVEN, (n, len(_EVEN))), feet.T], axis=1)
        x, L = part * span[:, None], span[:, None]
        EI = (self.table.E * self.table.area * self.table.depth**2 / 12)[:, None]
        w = self.load[:, :, None]
        moment, shear = w * x * (L - x) / 2, w * (L / 2 - x)
        sag = w * x * (L**3 - 2 * L * x**2 + x**3) / (24 * EI)
        for place, down in zip(feet, self.push, strict=True):
            P, a = down[:, :, None], place[:, None] * L
            b, left = L - a, x <= a
            moment = moment + P * np.where(left, b * x, a * (L - x)) / L
            shear = shear + P * np.where(left & (x < a), b, np.where(left, b, -a)) / L
            near, far = np.where(left, x, L - x), np.where(left, b, a)
            sag = sag + P * far * near * (L**2 - far**2 - near**2) / (6 * EI * L)
        pull = self.pull[0][:, :, None] * (1 - part) + self.pull[1][:, :, None] * part
        displacement = np.zeros((*moment.shape, 3))
        displacement[..., 2] = -sag
        return _Stations(x, pull, shear, moment, np.zeros_like(moment), displacement)

    def checks(self, span: Floats) -> dict[Check, CheckRows]:
        """Return the checks of all joists at spans (n,) m."""
        scale, basis = span / self.span, self.result.basis
        t = self.table
        table = replace(
            t, length=t.length * scale, le_strong=t.le_strong * scale,
            le_weak=t.le_weak * scale,
        )  # fmt: skip
        member, stations = np.arange(len(span)), self._stations(span)
        result = check_members(
            table, stations, member, self.combos.names, self.combos.C_D, basis
        )
        spans = replace(self.spans, start=np.zeros(len(span)), end=span)
        sags = span_sags(stations, member, spans, self.lasting, basis)
        found = dict(result.checks) | check_deflection(result, sags)
        last = len(_EVEN) - 1
        ends = np.stack([stations.V_strong[:, :, 0], -stations.V_strong[:, :, last]])
        two = np.concatenate([member, member])
        bearing = check_bearing(
            result,
            BearingTable(
                member=two,
                station=np.concatenate([np.zeros(len(span)), span]),
                force=np.concatenate(list(ends), axis=1),
                length=np.full(len(two), BEARING_ON_WOOD),
                breadth=table.total_breadth[two],
                end_distance=np.zeros(len(two)),
                angle=np.full(len(two), np.pi / 2),
            ),
        )
        assert bearing is not None
        found[Check.BEARING] = bearing
        if self.cut is not None:
            row, end, capacity = self.cut
            demand = np.abs(ends[end, :, row].T)
            found[Check.NOTCHED_SHEAR] = worst_of_member(
                result,
                Check.NOTCHED_SHEAR,
                Places(
                    member=row, station=span[row] * end, demand=demand,
                    capacity=capacity, unit="N",
                ),
            )  # fmt: skip
        return found

    def use(self, span: Floats) -> Floats:
        """Return the worst use of each joist at spans (n,) m."""
        return self._uses(span)[0].max(axis=0)

    def governing(self, span: Floats) -> list[Check]:
        """Return the check that governs each joist at spans (n,) m."""
        every, names = self._uses(span)
        return [names[k] for k in every.argmax(axis=0).tolist()]

    def _uses(self, span: Floats) -> tuple[Floats, list[Check]]:
        """Return the uses by check; a limit of shape counts where it is past it."""
        checks = self.checks(span)
        names, every = [], []
        for name, rows in checks.items():
            use = rows.utilisation
            every.append(np.where(use > 1, use, 0.0) if name in _SHAPE else use)
            names.append(name)
        return np.stack(every), names


def _rows_of(table: MemberTable, rows: Ints) -> MemberTable:
    """Return some rows of a member table."""
    picked = {}
    for name, value in vars(table).items():
        if name == "counts":
            picked[name] = None if value is None else value[:, rows]
        elif isinstance(value, np.ndarray):
            picked[name] = value[rows]
        else:
            picked[name] = tuple(value[n] for n in rows.tolist())
    return MemberTable(**picked)
