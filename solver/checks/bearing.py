"""Bearing of members where they rest on, or carry, something.

Receives contact forces by combination; adds the bearing check.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Floats
from ..basis.protocol import Check
from ..errors import FieldError
from .places import Places, worst_of_member
from .results import CheckResult, CheckRows

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
    pressed = np.maximum(table.force, 0.0)
    places = Places(
        member=table.member,
        station=table.station,
        demand=pressed / (table.length * table.breadth),
        capacity=bearing_capacity(result, table),
        unit="Pa",
        inputs=(
            ("P", "N", "force on the place", pressed),
            ("lb", "m", "bearing length along the grain", table.length),
            ("b", "m", "bearing breadth", table.breadth),
            ("end", "m", "distance to the end of the member", table.end_distance),
            ("angle", "rad", "between force and grain", table.angle),
            ("along", "Pa", "value along the grain", _of(result, table, "star")),
            ("across", "Pa", "value across it", _of(result, table, "perp")),
        ),
    )
    return worst_of_member(result, Check.BEARING, places)


def bearing_capacity(result: CheckResult, table: BearingTable) -> Floats:
    """Return (ncomb or 1, k) Pa, the bearing strength at each place."""
    return result.basis.bearing(
        _of(result, table, "star"),
        _of(result, table, "perp"),
        table.angle,
        table.length,
        table.end_distance,
    )


def _of(result: CheckResult, table: BearingTable, which: str) -> Floats:
    """Return (ncomb or 1, k) Pa, the strength along or across the grain."""
    s = result.strengths
    values = s.compression_star if which == "star" else s.bearing
    return values[:, table.member]
