"""Shear of members notched on their tension side where they bear.

Receives notches; adds the notched shear check.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Floats
from ..basis.protocol import Check
from .places import Places, worst_of_member
from .results import CheckResult, CheckRows

Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False, kw_only=True)
class NotchTable:
    """Notches on the tension side at bearings (birdsmouths, joist ends), rows (k,).

    Attributes:
        member: (k,) row of the notched member.
        station: (k,) m from its start.
        shear: (ncomb, k) N, shear force at the notch, either sign.
        remaining: (k,) m, depth left at the notch.
    """

    member: Ints
    station: Floats
    shear: Floats
    remaining: Floats


def check_notches(result: CheckResult, table: NotchTable) -> CheckRows | None:
    """Return the notched shear check of all members, None where nothing is notched.

    Source: NDS 2018 3.4.3.2 for the NDS basis.

    Args:
        result: of the same members and combinations.
        table: the notches.

    Returns:
        The check; demand and capacity are shear forces.

    Raises:
        ScopeError: a notch that leaves nothing, or more than the member.
    """
    if not len(table.member):
        return None
    pieces, row = result.table, table.member
    Fv, shape = result.strengths.shear[:, row], (len(result.duration), len(row))
    b, d = pieces.total_breadth[row], pieces.depth[row]
    places = Places(
        member=row,
        station=table.station,
        demand=np.abs(table.shear),
        capacity=np.broadcast_to(
            result.basis.notched_shear(Fv, b, d, table.remaining), shape
        ),
        unit="N",
        inputs=(
            ("V", "N", "shear force at the notch", np.abs(table.shear)),
            ("Fv'", "Pa", "shear design value", Fv),
            ("b", "m", "breadth of all plies", b),
            ("d", "m", "depth", d),
            ("d_n", "m", "depth left at the notch", table.remaining),
        ),
    )
    return worst_of_member(result, Check.NOTCHED_SHEAR, places)


def shear_at(
    x: Floats, V: Floats, element_member: Ints, member: Ints, station: Floats
) -> Floats:
    """Return the larger shear force just beside a station.

    Args:
        x: (m, K) m from end i of each element, one column at each end.
        V: (ncomb, m, K) N.
        element_member: (m,) nondecreasing.
        member: (k,) rows of members.
        station: (k,) m from the start of the member.

    Returns:
        (ncomb, k) N, not negative; the nearest stations where none is exact.
    """
    first = np.searchsorted(element_member, member)
    last = np.searchsorted(element_member, member, side="right")
    length = x.max(axis=1)
    end = np.cumsum(length)
    found = np.zeros((len(V), len(member)))
    for k in range(len(member)):
        rows = slice(int(first[k]), int(last[k]))
        start = end[rows] - length[rows] - (end[first[k]] - length[first[k]])
        distance = np.abs(start[:, None] + x[rows] - station[k]).ravel()
        near = distance <= distance.min() + 1e-9
        found[:, k] = np.abs(V[:, rows].reshape(len(V), -1)[:, near]).max(axis=1)
    return found
