"""Checks of places on members (bearings, notches, spans) as checks of the members."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Floats
from ..basis.protocol import Check
from .results import CheckResult, CheckRows, Part
from .run import entries, governed

Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False, kw_only=True)
class Places:
    """Places on members and what is asked of each, rows (k,).

    Attributes:
        member: (k,) row of each place's member, in any order.
        station: (k,) m from its start.
        demand: (ncomb, k) not negative.
        capacity: (ncomb or 1, k) above 0.
        unit: of both.
        inputs: symbol, unit, words and values, (k,) or (ncomb or 1, k), of what
            demand and capacity were made of.
    """

    member: Ints
    station: Floats
    demand: Floats
    capacity: Floats
    unit: str
    inputs: tuple[tuple[str, str, str, Floats], ...] = ()


def worst_of_member(result: CheckResult, check: Check, places: Places) -> CheckRows:
    """Return the worst place of each member as a check of the member.

    Args:
        result: of the same members and combinations.
        check: which.
        places: at least one.

    Returns:
        The worst place of each member in each combination; 0 where it has none.
    """
    ncomb, n = len(result.duration), len(result.table.keys)
    member, ratio = places.member, places.demand / places.capacity
    order = np.argsort(member, kind="stable")
    rows, first = np.unique(member[order], return_index=True)
    every = np.zeros((ncomb, n))
    every[:, rows] = np.maximum.reduceat(ratio[:, order], first, axis=1)
    every = result.table.counted(every)
    found = governed(result.basis, check, every, every, 1.0, places.unit)
    # The place that governs each member: the one that reaches its worst ratio.
    at = np.arange(len(member))
    own = ratio[found.combination[member], at]
    own = own >= found.utilisation[member] * (1 - 1e-12)
    place = np.zeros(n, dtype=np.int64)
    place[member[own][::-1]] = at[own][::-1]
    has = np.zeros(n, dtype=bool)
    has[rows] = True

    def pick(values: Floats, without: float) -> Floats:
        return np.where(has, entries(values, found.combination, place), without)

    return replace(
        found,
        station=pick(places.station, 0.0),
        demand=pick(places.demand, 0.0),
        capacity=pick(places.capacity, 1.0),
        parts=tuple(
            Part(symbol, unit, words, pick(values, 0.0))
            for symbol, unit, words, values in places.inputs
        ),
    )
