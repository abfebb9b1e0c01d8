"""What all checks of one run share."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..basis.arrays import Bools, Floats, Real, floats
from ..basis.pieces import Strengths
from ..basis.protocol import Basis, Check
from .inputs import MemberTable
from .results import CheckRows
from .segments import Segments

# Stress below this part of a strength is rounding, not demand: it neither makes a
# joist a column nor an interaction.
NEGLIGIBLE = 1e-3


@dataclass(frozen=True, eq=False, kw_only=True)
class CheckRun:
    """Members, rules and forces of one run.

    Attributes:
        table, basis, segments, strengths: see their classes.
        M, V, N, weak: (ncomb, m K) N m and N, at the stations.
    """

    table: MemberTable
    basis: Basis
    segments: Segments
    strengths: Strengths
    M: Floats
    V: Floats
    N: Floats
    weak: Floats

    @cached_property
    def M_high(self) -> Floats:  # noqa: N802 - the book's symbol
        """(ncomb, m) N m, largest sagging moment of each element."""
        return self.segments.highest(self.M)

    @cached_property
    def M_low(self) -> Floats:  # noqa: N802 - the book's symbol
        """(ncomb, m) N m, largest hogging moment of each element, negative."""
        return self.segments.lowest(self.M)

    @cached_property
    def plain(self) -> Bools:
        """(n,) members of constant axial force per element, unbent the weak way."""
        of = self.segments
        N = self.N.reshape(len(self.N), -1, of.K)
        far = int(np.argmax(of.position[: of.K]))
        change = np.abs(N[:, :, far] - N[:, :, 0])
        varies = change > 1e-9 * np.abs(N).max(initial=0.0)
        bends = self.weak.any(axis=0).reshape(-1, of.K).any(axis=1)
        uneven = np.logical_or.reduce(varies, axis=0) | bends
        return ~np.logical_or.reduceat(uneven, of.starts // of.K)

    def rows(
        self, check: Check, every: Floats, demand: Real, capacity: Real, unit: str
    ) -> CheckRows:
        """Return a check with its governing combination, without its station.

        Args:
            check: which.
            every: (ncomb, n) utilisation.
            demand: broadcasts to it.
            capacity: broadcasts to it.
            unit: of both.
        """
        counted = self.table.counted(every)
        return governed(self.basis, check, counted, demand, capacity, unit)


def governed(
    basis: Basis,
    check: Check,
    every: Floats,
    demand: Real,
    capacity: Real,
    unit: str,
    station: Floats | None = None,
) -> CheckRows:
    """Return a check with its governing combination.

    Args:
        basis: names the clause.
        check: which.
        every: (ncomb, n) utilisation.
        demand: broadcasts to it.
        capacity: broadcasts to it.
        unit: of both.
        station: (ncomb, n) m from the start of the member; None where it has none.
    """
    combination = np.argmax(every, axis=0)
    at = np.arange(int(every.shape[1]))

    def pick(values: Real) -> Floats:
        return np.broadcast_to(floats(values), every.shape)[combination, at]

    return CheckRows(
        check=check,
        clause=basis.clause(check),
        unit=unit,
        every=every,
        utilisation=pick(every),
        combination=combination,
        station=pick(0.0 if station is None else station),
        demand=pick(demand),
        capacity=pick(capacity),
    )
