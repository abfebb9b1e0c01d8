"""The load combinations of a roof: those that its load cases call for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.asce7.combinations import asd_combinations
from .cases import CASES, Case
from .member_loads import MemberLoads


@dataclass(frozen=True, eq=False, kw_only=True)
class Combinations:
    """Load combinations as arrays.

    Attributes:
        names: (c,) e.g. ``D+0.75L+0.75Lr``.
        factors: (c, ncase) in the order of ``CASES``.
        C_D: (c,) load duration factors.
        clauses: (c,) where each comes from.
    """

    names: tuple[str, ...]
    factors: NDArray[np.float64]
    C_D: NDArray[np.float64]
    clauses: tuple[str, ...]

    def row(self, name: str) -> int:
        """Return the row of a combination by name."""
        return self.names.index(name)


def combinations(loads: MemberLoads) -> Combinations:
    """Return the combinations of the load cases that put any load on a member."""
    present = [c for n, c in enumerate(CASES) if c is Case.DEAD or loads.load[n].any()]
    made = asd_combinations(case.value for case in present)
    factors = np.array(
        [[one.factors.get(case.value, 0.0) for case in CASES] for one in made]
    )
    return Combinations(
        names=tuple(one.name for one in made),
        factors=factors,
        C_D=np.array([one.C_D for one in made]),
        clauses=tuple(one.clause for one in made),
    )
