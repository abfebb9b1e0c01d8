"""Snow: flat and sloped roof load, balanced, and unbalanced on hips and gables.

Drift from higher roofs, sliding snow, rain on snow and ponding are not covered.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ...errors import ScopeError
from ...units import FOOT, PSF

# Slope, degrees, up to which Cs is 1: other surfaces, slippery unobstructed ones.
_CS_START = {1.0: (30.0, 5.0), 1.1: (37.5, 10.0), 1.2: (45.0, 15.0)}
_CS_ZERO = 70.0
_LEAST_UNBALANCED_SLOPE = 0.5 / 12
_MOST_UNBALANCED_SLOPE = 7.0 / 12
_NARROW = 20 * FOOT
_LEAST_FETCH = 20 * FOOT
_LOW_SLOPE = 15.0  # degrees, for the minimum load


@dataclass(frozen=True, kw_only=True)
class UnbalancedSnow:
    """Unbalanced snow on a gable roof, all on plan.

    Attributes:
        windward: Pa, uniform over the windward slope.
        leeward: Pa, uniform over the leeward slope.
        surcharge: Pa, more on the leeward slope from the ridge on.
        surcharge_width: m, how far from the ridge, on plan.
        drift_height: m, h_d; 0 in the narrow case.
        unit_weight: N/m3, of snow.
        clause: which rule gave it.
    """

    windward: float
    leeward: float
    surcharge: float
    surcharge_width: float
    drift_height: float
    unit_weight: float
    clause: str


def flat_roof_snow(
    ground: float, exposure: float, thermal: float, importance: float
) -> float:
    """Return the flat roof snow load p_f.

    Source: ASCE 7-16 7.3, Eq. 7.3-1.

    Args:
        ground: Pa, p_g.
        exposure: C_e.
        thermal: C_t.
        importance: I_s.

    Returns:
        p_f, Pa.
    """
    return 0.7 * exposure * thermal * importance * ground


def least_low_slope_snow(ground: float, importance: float, slope: float) -> float:
    """Return the minimum snow load p_m of low-slope roofs; 0 where none applies.

    Source: ASCE 7-16 7.3.4: below 15 degrees (gables), I_s p_g to 20 psf, else
    20 psf I_s. A separate uniform case, not joined with unbalanced snow.

    Args:
        ground: Pa, p_g.
        importance: I_s.
        slope: rise over run.

    Returns:
        p_m, Pa.
    """
    if math.degrees(math.atan(slope)) >= _LOW_SLOPE:
        return 0.0
    return importance * min(ground, 20 * PSF)


def roof_slope_factor(slope: float, thermal: float, slippery: bool) -> float:
    """Return the roof slope factor C_s.

    Source: ASCE 7-16 7.4, Figure 7.4-1, straight lines to zero at 70 degrees. Thermal
    factors between 1.0, 1.1 and 1.2 take the line of the next colder one.

    Args:
        slope: rise over run.
        thermal: C_t.
        slippery: unobstructed slippery surface that sheds its snow.

    Returns:
        C_s, 0 to 1.
    """
    row = next((r for ct, r in _CS_START.items() if thermal <= ct + 1e-9), None)
    start = (row or _CS_START[1.2])[1 if slippery else 0]
    degrees = math.degrees(math.atan(slope))
    if degrees <= start:
        return 1.0
    return max(0.0, 1 - (degrees - start) / (_CS_ZERO - start))


def sloped_roof_snow(flat: float, slope_factor: float) -> float:
    """Return the balanced sloped roof snow load p_s on plan.

    Source: ASCE 7-16 7.4, Eq. 7.4-1.

    Args:
        flat: Pa, p_f.
        slope_factor: C_s.

    Returns:
        p_s, Pa.
    """
    return slope_factor * flat


def snow_unit_weight(ground: float) -> float:
    """Return the unit weight of snow.

    Source: ASCE 7-16 7.7.1, Eq. 7.7-1: 0.13 p_g + 14, at most 30 pcf.

    Args:
        ground: Pa, p_g.

    Returns:
        gamma, N/m3.
    """
    return min(0.13 * ground / PSF + 14, 30.0) * PSF / FOOT


def drift_height(ground: float, fetch: float, importance: float) -> float:
    """Return the drift height h_d.

    Source: ASCE 7-16 Figure 7.6-1: (0.43 l_u^(1/3) (p_g + 10)^(1/4) - 1.5) sqrt(I_s) in
    feet and psf. The chart begins at l_u of 20 ft (from memory; 25 ft in older
    editions), so that a shorter fetch gives no less.

    Args:
        ground: Pa, p_g.
        fetch: m, l_u; on a gable the distance W from eave to ridge of the
            windward slope.
        importance: I_s.

    Returns:
        h_d, m, not negative.
    """
    feet, psf = max(fetch, _LEAST_FETCH) / FOOT, ground / PSF
    height = (0.43 * feet ** (1 / 3) * (psf + 10) ** 0.25 - 1.5) * math.sqrt(importance)
    return max(height, 0.0) * FOOT


def unbalanced_applies(slope: float) -> bool:
    """Return True where a gable of this slope must be checked for unbalanced snow.

    Source: ASCE 7-16 7.6.1: from 1/2 in 12 to 7 in 12.

    Args:
        slope: rise over run.
    """
    return _LEAST_UNBALANCED_SLOPE <= slope <= _MOST_UNBALANCED_SLOPE * (1 + 1e-9)


def unbalanced_gable_snow(
    ground: float,
    balanced: float,
    eave_to_ridge: float,
    slope: float,
    importance: float,
    simple_rafters: bool,
    fetch: float | None = None,
) -> UnbalancedSnow:
    """Return the unbalanced snow on a gable or hip roof, of one slope to leeward.

    Source: ASCE 7-16 7.6.1. Up to 20 ft eave to ridge, with simply supported prismatic
    rafters from ridge to eave: I_s p_g on the leeward slope, none on the other. Else:
    0.3 p_s windward; p_s leeward with h_d gamma / sqrt(S) more over 8/3 h_d sqrt(S)
    from the ridge, S the run for a rise of one.

    Args:
        ground: Pa, p_g.
        balanced: Pa, p_s.
        eave_to_ridge: m, W, on plan.
        slope: rise over run.
        importance: I_s.
        simple_rafters: a rafter over a purlin is not simply supported.
        fetch: m, l_u, the roof to windward of the ridge; left out, W, as on a gable
            of two equal slopes.

    Returns:
        The unbalanced load; the surcharge stops at the eave.

    Raises:
        ScopeError: the slope needs no unbalanced load.
    """
    if not unbalanced_applies(slope):
        raise ScopeError("ASCE 7-16 7.6.1", "slope", slope, "0.5 to 7 in 12")
    weight = snow_unit_weight(ground)
    if eave_to_ridge <= _NARROW + 1e-9 and simple_rafters:
        return UnbalancedSnow(
            windward=0.0, leeward=importance * ground, surcharge=0.0,
            surcharge_width=0.0, drift_height=0.0, unit_weight=weight,
            clause="ASCE 7-16 7.6.1, W at most 20 ft, simple rafters",
        )  # fmt: skip
    upwind = eave_to_ridge if fetch is None else fetch
    height = drift_height(ground, upwind, importance)
    run = math.sqrt(1 / slope)
    return UnbalancedSnow(
        windward=0.3 * balanced, leeward=balanced, surcharge=height * weight / run,
        surcharge_width=min(8 / 3 * height * run, eave_to_ridge), drift_height=height,
        unit_weight=weight, clause="ASCE 7-16 7.6.1, drift at the ridge",
    )  # fmt: skip
