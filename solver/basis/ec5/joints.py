"""Bearing at an angle to the grain, and shear at a notched end."""

from __future__ import annotations

import numpy as np

from ...errors import ScopeError
from ..arrays import Floats, Real, floats

_NOTCH_SOLID = 5.0  # k_n, with the depth in mm
_MM = 1e-3


def bearing_at_angle(fc_0: Real, fc_90: Real, angle: Real, k_c90: Real) -> Floats:
    """Return the compression strength at an angle to the grain.

    Source: EN 1995-1-1:2004 Eq. 6.16.

    Args:
        fc_0: Pa, design value along the grain.
        fc_90: Pa, design value across it.
        angle: rad, between force and grain.
        k_c90: 1 unless supports are far apart.

    Returns:
        Pa.
    """
    across = floats(k_c90) * fc_90
    sin2 = np.sin(angle) ** 2
    return floats(fc_0) * across / (floats(fc_0) * sin2 + across * (1 - sin2))


def notch_factor(depth: Real, remaining: Real, corner: Real) -> Floats:
    """Return k_v of a square notch on the side of the support.

    Source: EN 1995-1-1:2004 Eq. 6.62, solid timber, no taper.

    Args:
        depth: m.
        remaining: m, above 0, at most the depth.
        corner: m, from the line of the reaction to the corner of the notch.

    Returns:
        0 to 1.

    Raises:
        ScopeError: nothing remains, or more than the whole.
    """
    h, left = floats(depth), floats(remaining)
    if np.any(left <= 0) or np.any(left > h * (1 + 1e-9)):
        raise ScopeError(
            "EN 1995-1-1 6.5.2", "h_ef, m", float(np.min(left)), "above 0, at most h"
        )
    a = np.minimum(left / h, 1.0)
    below = np.sqrt(a * (1 - a)) + 0.8 * floats(corner) / h * np.sqrt(1 / a - a**2)
    factor = _NOTCH_SOLID / (np.sqrt(h / _MM) * np.maximum(below, 1e-9))
    return np.minimum(factor, 1.0)
