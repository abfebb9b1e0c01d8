"""Roof live load by the area that a member supports, where the brief asks for it.

The factor R1 belongs to a member, not to the roof: a ridge beam may count less than the
rafters that hang on it. So every combination with roof live load is taken once with
all of it, and once more for each lower level that some member may count; which of them
count for which member is said beside them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.asce7.roof_live import LEAST, area_factor
from ..brief.model import Brief, LiveReduction
from .cases import CASES, Case
from .combine import Combinations

Bools = NDArray[np.bool_]
_STEP = 0.05  # of R1: levels are rounded up to it
_FINE = 100  # a part of the load is rounded up to a hundredth


@dataclass(frozen=True, eq=False, kw_only=True)
class LiveLevels:
    """Which combinations count for which member.

    Attributes:
        combinations: those of all the roof live load, then those of less of it.
        part: (c,) part of the roof live load that each counts; 1 without any.
        of_member: member key to the part that it may count; 1 where it is not named.
    """

    combinations: Combinations
    part: NDArray[np.float64]
    of_member: Mapping[str, float]

    def counts(self, members: tuple[str, ...]) -> Bools:
        """Return (c, n): whether a combination counts for a member.

        Source: ASCE 7-16 4.8.2: a member's own tributary area decides.
        """
        own = np.array([self.of_member.get(key, 1.0) for key in members])
        live = self.combinations.factors[:, CASES.index(Case.ROOF_LIVE)] > 0
        return ~live[:, None] | (self.part[:, None] == own[None, :])


def live_part(brief: Brief, acting: float, area: float) -> float:
    """Return the part of the acting roof live load that a member may count.

    Source: ASCE 7-16 4.8.2, Eq. 4.8-1: R1 by tributary area, not below 12 psf (or what
    is stated, if that is less). R2 is in the acting load.

    Args:
        brief: what is stated.
        acting: Pa, roof live load after the slope factor.
        area: m2 on plan, roof that the member supports.

    Returns:
        Above 0 to 1, rounded up.
    """
    if brief.loads.roof_live_reduction is not LiveReduction.AREA or acting <= 0:
        return 1.0
    factor = float(area_factor(area))
    factor = min(1.0, math.ceil(factor / _STEP - 1e-9) * _STEP)
    least = min(LEAST, brief.loads.roof_live, acting)
    part = max(factor, least / acting)
    return min(1.0, math.ceil(part * _FINE - 1e-9) / _FINE)


def live_levels(
    brief: Brief, acting: float, areas: Mapping[str, float], combos: Combinations
) -> LiveLevels | None:
    """Return the combinations with less roof live load, None where no member has one.

    Args:
        brief: what is stated.
        acting: Pa, roof live load after the slope factor.
        areas: member key to m2 of roof on plan that it supports.
        combos: with all of the roof live load.
    """
    parts = {key: live_part(brief, acting, area) for key, area in areas.items()}
    parts = {key: part for key, part in parts.items() if part < 1}
    column = CASES.index(Case.ROOF_LIVE)
    live = np.flatnonzero(combos.factors[:, column] > 0)
    if not parts or not len(live):
        return None
    names, clauses = list(combos.names), list(combos.clauses)
    factors, C_D = [combos.factors], [combos.C_D]
    part_of = [np.ones(len(names))]
    for part in sorted(set(parts.values()), reverse=True):
        less = combos.factors[live].copy()
        less[:, column] *= part
        names += [
            _renamed(combos.names[n], row) for n, row in zip(live, less, strict=True)
        ]
        clauses += [f"{combos.clauses[n]}; R1 of 4.8.2" for n in live]
        factors.append(less)
        C_D.append(combos.C_D[live])
        part_of.append(np.full(len(live), part))
    return LiveLevels(
        combinations=Combinations(
            names=tuple(names),
            factors=np.concatenate(factors),
            C_D=np.concatenate(C_D),
            clauses=tuple(clauses),
        ),
        part=np.concatenate(part_of),
        of_member=parts,
    )


def _renamed(name: str, factors: NDArray[np.float64]) -> str:
    """Return a combination's name with its factor on the roof live load put in."""
    factor = factors[CASES.index(Case.ROOF_LIVE)]
    terms = name.split("+")
    return "+".join(
        f"{factor:.4g}{Case.ROOF_LIVE}" if term.endswith(Case.ROOF_LIVE) else term
        for term in terms
    )
