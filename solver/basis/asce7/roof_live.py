"""Roof live load, reduced by slope and by tributary area."""

from __future__ import annotations

import numpy as np

from ...units import FOOT, PSF
from ..arrays import Floats, Real, floats

UNREDUCED = 20 * PSF
LEAST = 12 * PSF


def area_factor(tributary_area: Real) -> Floats:
    """Return the factor R1.

    Source: ASCE 7-16 4.8.2: 1 to 200 ft2, 1.2 - 0.001 A_t, 0.6 from 600 ft2.

    Args:
        tributary_area: m2, on plan.

    Returns:
        R1, 0.6 to 1.
    """
    square_feet = floats(tributary_area) / FOOT**2
    return np.clip(1.2 - 0.001 * square_feet, 0.6, 1.0)


def slope_factor(slope: Real) -> Floats:
    """Return the factor R2.

    Source: ASCE 7-16 4.8.2: 1 to 4 in 12, 1.2 - 0.05 F, 0.6 from 12 in 12.

    Args:
        slope: rise over run.

    Returns:
        R2, 0.6 to 1.
    """
    return np.clip(1.2 - 0.05 * 12 * floats(slope), 0.6, 1.0)


def roof_live_load(
    tributary_area: Real, slope: Real, unreduced: float = UNREDUCED
) -> Floats:
    """Return the reduced roof live load on plan.

    Source: ASCE 7-16 4.8.2, Eq. 4.8-1, between 12 and 20 psf.

    Args:
        tributary_area: m2, on plan, of the member.
        slope: rise over run.
        unreduced: Pa, L_o.

    Returns:
        L_r, Pa.
    """
    reduced = unreduced * area_factor(tributary_area) * slope_factor(slope)
    return np.clip(reduced, min(LEAST, unreduced), max(UNREDUCED, unreduced))
