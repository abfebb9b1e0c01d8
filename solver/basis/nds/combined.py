"""Bending with tension, and bending about both axes with compression.

Where a clause gives no number (a load at or past buckling) the rule that keeps the
result finite, monotonic and far over 1 is stated in the function.
"""

from __future__ import annotations

import numpy as np

from ..arrays import Floats, Real, floats

LEAST_RESERVE = 0.1


def bending_tension_ratio(ft: Real, Ft: Real, fb: Real, Fb_star: Real) -> Floats:
    """Return the interaction of tension and bending on the tension side.

    Source: NDS 2018 3.9.1, Eq. 3.9-1.

    Args:
        ft: Pa, tension stress.
        Ft: Pa, adjusted tension design value.
        fb: Pa, bending stress; about two axes, give the ratio of the second axis to
            the caller's sum (an extension of the clause on the cautious side).
        Fb_star: Pa, Fb with every factor but C_L.

    Returns:
        ft/Ft' + fb/Fb*, dimensionless.
    """
    return floats(ft) / Ft + floats(fb) / Fb_star


def bending_less_tension_ratio(ft: Real, fb: Real, Fb_double_star: Real) -> Floats:
    """Return the interaction of tension and bending on the compression side.

    Source: NDS 2018 3.9.1, Eq. 3.9-2.

    Args:
        ft: Pa, tension stress.
        fb: Pa, bending stress.
        Fb_double_star: Pa, Fb with every factor but C_V.

    Returns:
        (fb - ft)/Fb**, dimensionless, not below 0.
    """
    return np.maximum(floats(fb) - ft, 0.0) / Fb_double_star


def bending_compression_ratio(
    compression: Real,
    bending_strong: Real,
    bending_weak: Real,
    euler_strong: Real,
    euler_weak: Real,
    lateral: Real,
) -> Floats:
    """Return the interaction of compression and bending about both axes.

    Source: NDS 2018 3.9.2, Eq. 3.9-3, on ratios. The clause asks for fc below F_cE and
    gives no number past it, and near it a number without meaning; there the reserve
    1 - fc/F_cE is held at 1/10, ten-fold growth. As Fc' is always below F_cE, and
    Fb1' below F_bE, the result is over 1 past buckling whatever the rest.

    Args:
        compression: fc/Fc'.
        bending_strong: fb1/Fb1'.
        bending_weak: fb2/Fb2'.
        euler_strong: fc/F_cE1.
        euler_weak: fc/F_cE2.
        lateral: fb1/F_bE.

    Returns:
        Sum, dimensionless, finite for finite ratios.
    """
    strong = np.maximum(1 - floats(euler_strong), LEAST_RESERVE)
    if not np.any(bending_weak):  # its term is 0 whatever it is divided by
        return np.square(compression) + floats(bending_strong) / strong
    weak = np.maximum(1 - floats(euler_weak) - np.square(lateral), LEAST_RESERVE)
    return (
        np.square(compression)
        + floats(bending_strong) / strong
        + floats(bending_weak) / weak
    )


def flatwise_stability_ratio(euler_weak: Real, lateral: Real) -> Floats:
    """Return the second condition on members bent about both axes.

    Source: NDS 2018 3.9.2, Eq. 3.9-4: below 1.

    Args:
        euler_weak: fc/F_cE2.
        lateral: fb1/F_bE.

    Returns:
        fc/F_cE2 + (fb1/F_bE)^2, dimensionless.
    """
    return floats(euler_weak) + np.square(lateral)
