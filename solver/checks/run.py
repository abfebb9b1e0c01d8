"""What all checks of one run share."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Bools, Floats, Real, floats
from ..basis.pieces import Strengths
from ..basis.protocol import Basis, Check
from .forces import ReducedForces
from .inputs import MemberTable
from .results import CheckRows
from .segments import Segments

Ints = NDArray[np.int64]

# Stress below this part of a strength is rounding, not demand: it neither makes a
# joist a column nor an interaction.
NEGLIGIBLE = 1e-3
# Where any compression counts, below this part it is the rounding of the solve.
ROUNDING = 1e-8


@dataclass(frozen=True, eq=False, kw_only=True)
class CheckRun:
    """Members, rules and forces of one run.

    Attributes:
        table, basis, segments, strengths: see their classes.
        forces: along the elements.
    """

    table: MemberTable
    basis: Basis
    segments: Segments
    strengths: Strengths
    forces: ReducedForces

    @cached_property
    def moments(self) -> tuple[Floats, Floats]:
        """(ncomb, m) N m, largest and smallest strong moment of each element."""
        return self.forces.high_low("M_strong")

    @cached_property
    def weak(self) -> Floats:
        """(ncomb, m) N m, weak moment of largest size of each element."""
        high, low = self.forces.high_low("M_weak")
        return np.abs(high) if high is low else np.maximum(high, -low)

    @cached_property
    def axial(self) -> tuple[Floats, Floats]:
        """(ncomb, m) N, axial force at both ends of each element."""
        return self.forces.ends("N")

    @cached_property
    def plain(self) -> Bools:
        """(n,) members of constant axial force per element, unbent the weak way."""
        near, far = self.axial
        high, low = self.forces.high_low("N")
        largest = max(np.abs(high).max(initial=0.0), np.abs(low).max(initial=0.0))
        uneven = (np.abs(far - near) > 1e-9 * largest).any(axis=0)
        uneven |= self.weak.any(axis=0)
        return ~np.logical_or.reduceat(uneven, self.segments.first)

    def position(self, element: Ints, combination: Ints, station: Ints) -> Floats:
        """Return (k,) m from the start of the member to stations of the forces."""
        return self.segments.start[element] + self.forces.place(
            element, combination, station
        )

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
    at = np.arange(every.shape[1])

    def pick(values: Real) -> Floats:
        return entries(values, combination, at)

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


def entries(values: Real, row: Ints, column: Ints) -> Floats:
    """Return (n,) entries of what broadcasts to a table, without broadcasting it.

    Args:
        values: a number, (ncol,), (1, ncol), (nrow, 1) or (nrow, ncol).
        row: (n,) of each entry.
        column: (n,) of each entry.
    """
    table = np.atleast_2d(floats(values))
    if table.size == 1:
        return np.full(len(row), table[0, 0])
    if len(table) == 1:
        return table[0, column]
    return table[row, column] if table.shape[1] > 1 else table[row, 0]
