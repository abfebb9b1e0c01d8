"""Bearing of members where they rest on, or carry, something.

Receives contact forces by combination; adds the bearing check.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Floats
from ..basis.protocol import Check
from ..errors import FieldError
from .results import CheckResult, CheckRows
from .run import governed

Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False, kw_only=True)
class BearingTable:
    """Places where a force presses on a member, one row each (k,).

    Attributes:
        member: (k,) row of the member pressed on.
        station: (k,) m from its start.
        force: (ncomb, k) N, compression positive; what is negative does not press.
        length: (k,) m along the grain, above 0.
        breadth: (k,) m across the grain, above 0.
        end_distance: (k,) m to the end of the member.
        angle: (k,) rad between force and grain; pi/2 is perpendicular.
    """

    member: Ints
    station: Floats
    force: Floats
    length: Floats
    breadth: Floats
    end_distance: Floats
    angle: Floats


def check_bearing(result: CheckResult, table: BearingTable) -> CheckRows | None:
    """Return the bearing check of all members, None where nothing presses.

    Source: NDS 2018 3.10 for the NDS basis.

    Args:
        result: of the same members and combinations.
        table: where what presses.

    Returns:
        The check; a member with several bearings shows its worst.

    Raises:
        FieldError: contact forces that are not finite.
    """
    if not len(table.member):
        return None
    if not np.isfinite(table.force).all():
        raise FieldError("bearing.force", "not finite", "finite numbers")
    stress = np.maximum(table.force, 0.0) / (table.length * table.breadth)
    capacity = bearing_capacity(result, table)
    return worst_of_member(
        result, Check.BEARING, table.member, table.station, stress, capacity, "Pa"
    )


def bearing_capacity(result: CheckResult, table: BearingTable) -> Floats:
    """Return (ncomb, k) Pa, the bearing strength at each place."""
    s = result.strengths
    return np.broadcast_to(
        result.basis.bearing(
            s.compression_star[:, table.member],
            s.bearing[:, table.member],
            table.angle,
            table.length,
            table.end_distance,
        ),
        (len(result.duration), len(table.member)),
    )


def worst_of_member(
    result: CheckResult,
    check: Check,
    member: Ints,
    station: Floats,
    demand: Floats,
    capacity: Floats,
    unit: str,
) -> CheckRows:
    """Return a check of places on members as a check of the members.

    Args:
        result: of the same members and combinations.
        check: which.
        member: (k,) row of each place's member, in any order.
        station: (k,) m.
        demand: (ncomb, k) not negative.
        capacity: (ncomb, k) above 0.
        unit: of both.

    Returns:
        The worst place of each member in each combination; 0 where it has none.
    """
    ncomb, n = len(result.duration), len(result.table.keys)
    ratio = demand / capacity
    order = np.argsort(member, kind="stable")
    rows, first = np.unique(member[order], return_index=True)
    every = np.zeros((ncomb, n))
    every[:, rows] = np.maximum.reduceat(ratio[:, order], first, axis=1)
    found = governed(result.basis, check, every, every, 1.0, unit)
    # The place that governs each member: the one that reaches its worst ratio.
    governing = found.combination[member]
    at = np.arange(len(member))
    own = ratio[governing, at] >= found.utilisation[member] * (1 - 1e-12)
    place = np.zeros(n, dtype=np.int64)
    place[member[own][::-1]] = at[own][::-1]
    has = np.zeros(n, dtype=bool)
    has[rows] = True
    columns = found.combination
    return replace(
        found,
        station=np.where(has, station[place], 0.0),
        demand=np.where(has, demand[columns, place], 0.0),
        capacity=np.where(has, capacity[columns, place], 1.0),
    )
