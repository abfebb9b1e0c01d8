"""How far nailed joints give before they are near their limit."""

from __future__ import annotations

import math

from ...errors import ScopeError

_MM = 1e-3
_PREDRILLED_FROM = 8.0  # mm


def nail_slip_stiffness(diameter: float, density: float, other: float) -> float:
    """Return the slip modulus of one nail in one shear plane, not predrilled.

    Source: EN 1995-1-1:2004 7.1, Table 7.1: K_ser = rho_m^1.5 d^0.8 / 30 in N/mm, and
    Eq. 7.1 for two densities, rho_m = sqrt(rho_1 rho_2).

    Args:
        diameter: m, up to 8 mm.
        density: kg/m3, mean, of one member.
        other: kg/m3, mean, of the other member.

    Returns:
        K_ser, N/m.

    Raises:
        ScopeError: a nail of more than 8 mm.
    """
    d = diameter / _MM
    if d > _PREDRILLED_FROM:
        raise ScopeError("EN 1995-1-1 Table 7.1", "d, mm", d, "up to 8 mm")
    mean = math.sqrt(density * other)
    return mean**1.5 * d**0.8 / 30 / _MM
