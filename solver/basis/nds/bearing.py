"""Bearing: perpendicular to grain, parallel to it, and at an angle."""

from __future__ import annotations

import numpy as np

from ...errors import ScopeError
from ...units import INCH
from ..arrays import Bools, Floats, Real, floats

_FULL_LENGTH = 6 * INCH
_LEAST_END_DISTANCE = 3 * INCH
_HAIR = 1e-9  # m, rounding must not decide what three inches are
_SPREAD = 0.375 * INCH
PLATE_NEEDED_OVER = 0.75


def bearing_area_factor(lb: Real, end_distance: Real) -> Floats:
    """Return the bearing area factor C_b.

    Source: NDS 2018 3.10.4, Eq. 3.10-2: for lengths under 6 in, not nearer than 3 in
    to the end of the member; else 1.

    Args:
        lb: m, bearing length along the grain, above 0.
        end_distance: m, from the bearing to the end of the member.

    Returns:
        C_b, at least 1, dimensionless.

    Raises:
        ScopeError: a bearing length that is not above 0.
    """
    lb = floats(lb)
    if np.any(lb <= 0):
        raise ScopeError("NDS 2018 3.10.4", "lb, m", float(np.min(lb)), "above 0")
    clear = floats(end_distance) >= _LEAST_END_DISTANCE - _HAIR
    inside = (lb < _FULL_LENGTH) & clear
    return np.where(inside, (lb + _SPREAD) / lb, 1.0)


def bearing_at_angle(Fc_star: Real, Fc_perp: Real, angle: Real) -> Floats:
    """Return the bearing design value at an angle to the grain.

    Source: NDS 2018 3.10.3, Eq. 3.10-1 (Hankinson).

    Args:
        Fc_star: Pa, Fc with every factor but C_P.
        Fc_perp: Pa, adjusted Fc-perp (with C_b, without C_D).
        angle: rad, between load and grain, 0 to pi/2.

    Returns:
        F_theta', Pa.

    Raises:
        ScopeError: an angle outside 0 to 90 degrees.
    """
    angle = floats(angle)
    if np.any(angle < -1e-9) or np.any(angle > np.pi / 2 + 1e-9):
        raise ScopeError(
            "NDS 2018 3.10.3", "angle, rad", float(np.max(angle)), "0 to pi/2"
        )
    sin2 = np.sin(angle) ** 2
    Fc_star, Fc_perp = floats(Fc_star), floats(Fc_perp)
    return Fc_star * Fc_perp / (Fc_star * sin2 + Fc_perp * (1 - sin2))


def end_grain_plate_needed(fc: Real, Fc_star: Real) -> Bools:
    """Return where end grain bearing on end grain needs a steel plate between.

    Source: NDS 2018 3.10.1.3: over 0.75 Fc*.

    Args:
        fc: Pa, bearing stress parallel to grain.
        Fc_star: Pa.

    Returns:
        Bool array.
    """
    return floats(fc) > PLATE_NEEDED_OVER * floats(Fc_star)
