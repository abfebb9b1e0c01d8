"""Adjusted values of nailed joints, and how many nails a force needs.

Takes reference values from ``nails`` and the factors of chapter 11 and 12.5.
"""

from __future__ import annotations

import math
from enum import StrEnum

from ...errors import ScopeError

END_GRAIN_LATERAL = 0.67
TOE_NAIL_LATERAL = 0.83
TOE_NAIL_WITHDRAWAL = 0.67
LARGEST_CONNECTION_DURATION = 1.6


class Driven(StrEnum):
    """How a nail is driven."""

    FACE = "face-nailed, side grain"
    TOE = "toe-nailed"
    END_GRAIN = "into end grain"


def adjusted_lateral_value(Z: float, C_D: float, driven: Driven = Driven.FACE) -> float:
    """Return the adjusted lateral design value of one nail, dry.

    Source: NDS 2018 Table 11.3.1; 12.5.2 (end grain 0.67); 12.5.4 (toe-nails 0.83);
    11.3.2 (C_D, impact's 2.0 not for connections).

    Args:
        Z: N, reference value.
        C_D: load duration factor.
        driven: how the nail is driven.

    Returns:
        Z', N.

    Raises:
        ScopeError: C_D over 1.6.
    """
    _require_duration(C_D)
    factor = {
        Driven.FACE: 1.0,
        Driven.TOE: TOE_NAIL_LATERAL,
        Driven.END_GRAIN: END_GRAIN_LATERAL,
    }[driven]
    return Z * C_D * factor


def adjusted_withdrawal_value(
    W: float, penetration: float, C_D: float, driven: Driven = Driven.FACE
) -> float:
    """Return the adjusted withdrawal design value of one nail, dry.

    Source: NDS 2018 Table 11.3.1; 12.5.4 (toe-nails 0.67); 12.5.2.1 (end grain: none).

    Args:
        W: N/m, reference value.
        penetration: m, in the member that holds the point.
        C_D: load duration factor.
        driven: how the nail is driven.

    Returns:
        W', N.

    Raises:
        ScopeError: a nail in end grain loaded in withdrawal, or C_D over 1.6.
    """
    _require_duration(C_D)
    if driven is Driven.END_GRAIN:
        raise ScopeError(
            "NDS 2018 12.5.2.1", "withdrawal", driven.value, "not in end grain"
        )
    factor = TOE_NAIL_WITHDRAWAL if driven is Driven.TOE else 1.0
    return W * penetration * C_D * factor


def toe_nail_side_length(nail_length: float) -> float:
    """Return the side member thickness that a toe-nail at 30 degrees counts with.

    Source: NDS 2018 12.1.6.3 and Figure 12A: started a third of the nail's length from
    the end, at about 30 degrees to the side member.

    Args:
        nail_length: m.

    Returns:
        l_s, m.
    """
    return nail_length / 3


def toe_nail_penetration(nail_length: float) -> float:
    """Return the penetration of a toe-nail into the main member.

    Source: NDS 2018 Figure 12A: L cos 30 less L/3.

    Args:
        nail_length: m.

    Returns:
        p_L, m.
    """
    return nail_length * math.cos(math.pi / 6) - toe_nail_side_length(nail_length)


def nails_needed(force: float, value: float, least: int = 0) -> int:
    """Return how many nails a force needs.

    Source: statics; nails in a row share alike (no group factor under 1/4 in, NDS 2018
    11.3.6).

    Args:
        force: N, not negative.
        value: N, adjusted value of one nail, above 0.
        least: fewest that a rule asks for.

    Returns:
        Whole number of nails.
    """
    return max(least, math.ceil(force / value - 1e-9))


def _require_duration(C_D: float) -> None:
    """Refuse a load duration factor that connections may not take."""
    if C_D > LARGEST_CONNECTION_DURATION + 1e-9:
        raise ScopeError("NDS 2018 11.3.2", "C_D", C_D, "at most 1.6 for connections")
