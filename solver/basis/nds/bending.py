"""Bending: effective length, beam slenderness and the beam stability factor.

Clauses 3.3.3 and 4.4.1; forces and members come from elsewhere.
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from ...errors import ScopeError
from ..arrays import Bools, Floats, Real, floats

SLENDERNESS_LIMIT = 50.0
_LEAST_RATIO = 1e-3  # below it a held edge; keeps FbE finite


class SpanLoad(StrEnum):
    """Rows of Table 3.3.3, by span and load."""

    UNIFORM = "single span, uniform load"
    CENTRE_UNBRACED = "single span, load at centre, no support there"
    CENTRE_BRACED = "single span, load at centre, held there"
    THIRD_POINTS_BRACED = "single span, loads at third points, held there"
    CANTILEVER_UNIFORM = "cantilever, uniform load"
    CANTILEVER_END = "cantilever, load at the free end"
    ANY = "any other span and load"


# Row: factor below lu/d = 7, factor from there on, its multiple of d.
_EFFECTIVE_LENGTH = {
    SpanLoad.UNIFORM: (2.06, 1.63, 3.0),
    SpanLoad.CENTRE_UNBRACED: (1.80, 1.37, 3.0),
    SpanLoad.CENTRE_BRACED: (1.11, 1.11, 0.0),
    SpanLoad.THIRD_POINTS_BRACED: (1.68, 1.68, 0.0),
    SpanLoad.CANTILEVER_UNIFORM: (1.33, 0.90, 3.0),
    SpanLoad.CANTILEVER_END: (1.87, 1.44, 3.0),
    SpanLoad.ANY: (2.06, 1.63, 3.0),
}


def effective_length(lu: Real, d: Real, load: SpanLoad = SpanLoad.ANY) -> Floats:
    """Return the effective length of a bending member for its compression edge.

    Source: NDS 2018 3.3.3.5, Table 3.3.3 and its note 1.

    Args:
        lu: m, length between lateral supports of the compression edge.
        d: m, depth, above 0.
        load: span and load condition.

    Returns:
        le, m, broadcast shape.
    """
    lu, d = floats(lu), floats(d)
    low, high, depths = _EFFECTIVE_LENGTH[load]
    ratio = lu / d
    le = np.where(ratio < 7, low * lu, high * lu + depths * d)
    if load is SpanLoad.ANY:
        le = np.where(ratio > 14.3, 1.84 * lu, le)
    return le


def beam_slenderness_ratio(le: Real, d: Real, b: Real) -> Floats:
    """Return the slenderness ratio R_B of a bending member.

    Source: NDS 2018 3.3.3.6, Eq. 3.3-5.

    Args:
        le: m, effective length.
        d: m, depth.
        b: m, breadth, above 0.

    Returns:
        R_B, dimensionless. Over 50 is outside the clause (3.3.3.7).
    """
    return np.sqrt(floats(le) * d) / floats(b)


def critical_bending_stress(E_min: Real, R_B: Real) -> Floats:
    """Return the critical buckling design value F_bE.

    Source: NDS 2018 3.3.3.8.

    Args:
        E_min: Pa, adjusted modulus for stability.
        R_B: dimensionless; 0 stands for an edge that is held throughout.

    Returns:
        F_bE, Pa, finite.
    """
    return 1.20 * floats(E_min) / np.maximum(R_B, _LEAST_RATIO) ** 2


def beam_stability_factor(F_bE: Real, Fb_star: Real) -> Floats:
    """Return the beam stability factor C_L.

    Source: NDS 2018 3.3.3.8, Eq. 3.3-6, in the form that keeps its digits.

    Args:
        F_bE: Pa, critical buckling design value.
        Fb_star: Pa, Fb with every factor but C_L, C_fu and C_V.

    Returns:
        C_L, 0 to 1, dimensionless.
    """
    ratio = floats(F_bE) / floats(Fb_star)
    mean = (1 + ratio) / 1.9
    return (ratio / 0.95) / (mean + np.sqrt(mean**2 - ratio / 0.95))


def require_beam_slenderness(R_B: Real) -> None:
    """Refuse a bending member that is too slender for the clause.

    Source: NDS 2018 3.3.3.7.

    Args:
        R_B: dimensionless.

    Raises:
        ScopeError: R_B exceeds 50.
    """
    if np.any(floats(R_B) > SLENDERNESS_LIMIT):
        worst = float(np.max(R_B))
        raise ScopeError("NDS 2018 3.3.3.7", "R_B", worst, "at most 50")


def held_by_proportions(
    nominal_ratio: Real,
    edge_held: bool | Bools,
    other_edge_held: bool | Bools,
    bridged: bool | Bools = False,
) -> Bools:
    """Return where the depth to breadth rules allow C_L = 1 for sawn lumber.

    Ends are taken to be held against rotation, as bearing on a plate with blocking,
    a ridge or a heel joint does.

    Source: NDS 2018 4.4.1.2, depth to breadth on nominal sizes.

    Args:
        nominal_ratio: nominal depth over nominal breadth.
        edge_held: the compression edge is held in line over its whole length.
        other_edge_held: so is the tension edge.
        bridged: bridging or blocking at most 8 ft apart.

    Returns:
        Broadcast bool array.
    """
    ratio = floats(nominal_ratio) - 1e-9
    edge, bridging = np.asarray(edge_held, bool), np.asarray(bridged, bool)
    both = edge & np.asarray(other_edge_held, bool)
    return (
        (ratio <= 4)
        | ((ratio <= 5) & edge)
        | ((ratio <= 6) & (both | (edge & bridging)))
        | ((ratio <= 7) & both)
    )
