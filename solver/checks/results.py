"""What the checks yield: utilisation of every member by check and combination.

Arrays only; words are made elsewhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Floats
from ..basis.pieces import Strengths
from ..basis.protocol import Basis, Check
from .inputs import MemberTable

Ints = NDArray[np.int64]

NO_CHECK = -1


@dataclass(frozen=True, eq=False)
class Part:
    """One input of a check, for its record.

    Attributes:
        symbol: as the book writes it.
        unit: SI unit, empty for a ratio.
        words: what it is.
        values: (n,) in the governing combination and place.
    """

    symbol: str
    unit: str
    words: str
    values: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class CheckRows:
    """One check of all members.

    Attributes:
        check: which.
        clause: of the basis.
        unit: of demand and capacity: ``Pa``, ``N``, ``m`` or empty for a ratio.
        every: (ncomb, n) utilisation, 0 where the check does not apply.
        utilisation: (n,) largest over the combinations.
        combination: (n,) index of the governing combination.
        station: (n,) m from the start of the member, where it governs.
        demand: (n,) in the governing combination and station.
        capacity: (n,) likewise.
        stresses: (n,) Pa each, what meets at the station of a combined check: ``axial``
            (tension positive), ``bending`` (sagging positive) and ``weak``.
        parts: inputs of checks of places: bearings, notches, spans.
    """

    check: Check
    clause: str
    unit: str
    every: Floats
    utilisation: Floats
    combination: Ints
    station: Floats
    demand: Floats
    capacity: Floats
    stresses: Mapping[str, Floats] = field(default_factory=dict[str, Floats])
    parts: tuple[Part, ...] = ()


@dataclass(frozen=True, eq=False, kw_only=True)
class Extremes:
    """Largest forces of each member and combination, all (ncomb, n), not negative.

    Attributes:
        sag, hog: N m, strong axis.
        weak: N m, weak axis, either sign.
        shear: N.
        tension, compression: N.
    """

    sag: Floats
    hog: Floats
    weak: Floats
    shear: Floats
    tension: Floats
    compression: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class CheckResult:
    """All checks of all members.

    Attributes:
        table: what was checked.
        basis: by which rules.
        combinations: (ncomb,) names.
        duration: (ncomb,) load duration factor.
        strengths: adjusted design values.
        extremes: forces of each member and combination.
        checks: by name; only those that apply to some member.
        utilisation: (n,) worst of all checks.
        governing: (n,) index into ``tuple(checks)``; -1 where nothing is checked.
    """

    table: MemberTable
    basis: Basis
    combinations: tuple[str, ...]
    duration: Floats
    strengths: Strengths
    extremes: Extremes
    checks: Mapping[Check, CheckRows]
    utilisation: Floats
    governing: Ints

    def governing_check(self, row: int) -> Check | None:
        """Return the check that governs a member, None where nothing is checked."""
        at = int(self.governing[row])
        return None if at == NO_CHECK else tuple(self.checks)[at]


def with_checks(result: CheckResult, more: Mapping[Check, CheckRows]) -> CheckResult:
    """Return a result with further checks taken in.

    Args:
        result: what there is.
        more: checks over the same members.

    Returns:
        A new result; worst utilisation and governing check follow.
    """
    return assemble_result(
        result.table,
        result.basis,
        result.combinations,
        result.duration,
        result.strengths,
        result.extremes,
        {**result.checks, **more},
    )


def assemble_result(
    table: MemberTable,
    basis: Basis,
    combinations: tuple[str, ...],
    duration: Floats,
    strengths: Strengths,
    extremes: Extremes,
    checks: Mapping[Check, CheckRows],
) -> CheckResult:
    """Return the result whose worst check of each member is found."""
    ordered = {name: checks[name] for name in Check if name in checks}
    n = len(table.keys)
    utilisation, governing = np.zeros(n), np.full(n, NO_CHECK, dtype=np.int64)
    for at, rows in enumerate(ordered.values()):
        worse = rows.utilisation > utilisation
        utilisation = np.where(worse, rows.utilisation, utilisation)
        governing[worse] = at
    return CheckResult(
        table=table,
        basis=basis,
        combinations=combinations,
        duration=duration,
        strengths=strengths,
        extremes=extremes,
        checks=ordered,
        utilisation=utilisation,
        governing=governing,
    )
