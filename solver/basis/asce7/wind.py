"""Wind: the velocity pressure, from which pressures on a roof are worked out.

Pressure coefficients and roof zones are not in it.
"""

from __future__ import annotations

from ...units import FOOT, PSF

_MPH = 5280 * FOOT / 3600  # m/s
_FACTOR = 0.00256  # psf for a wind speed in mph


def velocity_pressure(
    speed: float, exposure: float, topography: float, direction: float
) -> float:
    """Return the velocity pressure q_z.

    Source: ASCE 7-16 Eq. 26.10-1: 0.00256 K_z K_zt K_d V^2, psf and mph.

    Args:
        speed: m/s, basic wind speed V.
        exposure: K_z.
        topography: K_zt.
        direction: K_d.

    Returns:
        q_z, Pa, strength level.
    """
    mph = speed / _MPH
    return _FACTOR * exposure * topography * direction * mph**2 * PSF
