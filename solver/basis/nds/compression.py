"""Compression: slenderness, column stability and built-up columns.

Clauses 3.6, 3.7 and 15.3.
"""

from __future__ import annotations

import numpy as np

from ...errors import ScopeError
from ..arrays import Floats, Real, floats
from ..materials import Kind

SLENDERNESS_LIMIT = 50.0
SLENDERNESS_LIMIT_WHILE_BUILDING = 75.0
COLUMN_C_SAWN = 0.8
COLUMN_C_POLE = 0.85
COLUMN_C_SCL = 0.9
NAILED = 0.6
BOLTED = 0.75
_LEAST_RATIO = 1e-3  # below it a held column; keeps FcE finite


def column_slenderness(le: Real, d: Real) -> Floats:
    """Return the slenderness ratio of a column in one plane.

    Source: NDS 2018 3.7.1.3 and 3.7.1.4 (at most 50; 75 while building).

    Args:
        le: m, effective length Ke times the length between supports in that plane.
        d: m, dimension in that plane, above 0.

    Returns:
        le/d, dimensionless.
    """
    return floats(le) / floats(d)


def require_column_slenderness(ratio: Real) -> None:
    """Refuse a column that is too slender for the clause.

    Source: NDS 2018 3.7.1.4.

    Raises:
        ScopeError: le/d exceeds 50.
    """
    if np.any(floats(ratio) > SLENDERNESS_LIMIT):
        worst = float(np.max(ratio))
        raise ScopeError("NDS 2018 3.7.1.4", "le/d", worst, "at most 50")


def critical_compression_stress(E_min: Real, ratio: Real) -> Floats:
    """Return the critical buckling design value F_cE.

    Source: NDS 2018 3.7.1.5.

    Args:
        E_min: Pa, adjusted modulus for stability.
        ratio: le/d, dimensionless; 0 stands for a column held throughout.

    Returns:
        F_cE, Pa, finite.
    """
    return 0.822 * floats(E_min) / np.maximum(ratio, _LEAST_RATIO) ** 2


def column_stability_factor(F_cE: Real, Fc_star: Real, c: Real) -> Floats:
    """Return the column stability factor C_P.

    Source: NDS 2018 3.7.1.5, Eq. 3.7-1, in the form that keeps its digits.

    Args:
        F_cE: Pa, critical buckling design value.
        Fc_star: Pa, Fc with every factor but C_P.
        c: 0.8 sawn, 0.85 round poles, 0.9 structural composite lumber.

    Returns:
        C_P, 0 to 1, dimensionless.
    """
    ratio = floats(F_cE) / floats(Fc_star)
    c = floats(c)
    mean = (1 + ratio) / (2 * c)
    return (ratio / c) / (mean + np.sqrt(mean**2 - ratio / c))


def column_c(kind: Kind) -> float:
    """Return the c of the column formula.

    Source: NDS 2018 3.7.1.5.
    """
    return COLUMN_C_SCL if kind is Kind.SCL else COLUMN_C_SAWN


def built_up_stability_factor(C_P_together: Real, C_P_alone: Real, K_f: Real) -> Floats:
    """Return the stability factor of a built-up column across its plies.

    Source: NDS 2018 15.3.2, Eq. 15.3-1: K_f times C_P with the dimension of all plies
    together. It is not taken below the plies standing each on its own, which is
    statics and no clause.

    Args:
        C_P_together: C_P with le over the total breadth.
        C_P_alone: C_P with le over the breadth of one ply.
        K_f: 0.6 nailed, 0.75 bolted; 1.0 for one ply.

    Returns:
        Broadcast shape, 0 to 1, dimensionless.
    """
    return np.maximum(floats(K_f) * C_P_together, C_P_alone)


def require_built_up(plies: int, ply_breadth: float, minimum_breadth: float) -> None:
    """Refuse a built-up column that the clause does not cover.

    Source: NDS 2018 15.3.1: two to five laminations, each at least 1.5 in, equal in
    depth and full in length.

    Args:
        plies: laminations.
        ply_breadth: m, one ply.
        minimum_breadth: m, the 1.5 in of the clause, from ``units``.

    Raises:
        ScopeError: more than five plies, or thinner ones.
    """
    if not 2 <= plies <= 5:
        raise ScopeError("NDS 2018 15.3.1", "laminations", plies, "two to five")
    if ply_breadth < minimum_breadth - 1e-6:
        raise ScopeError(
            "NDS 2018 15.3.1", "lamination thickness, m", ply_breadth, "1.5 in or more"
        )
