"""Toe-nails, and nails that are pulled and pushed sideways at once.

Values of one nail; how many a joint has, and what it must carry, come from elsewhere.
"""

from __future__ import annotations

import math
from dataclasses import replace

from ..arrays import Floats, Real, floats
from .nail_joints import toe_nail_penetration, toe_nail_side_length
from .nails import LateralValue, Nail, lateral_value, withdrawal_per_length

_SLANT = math.pi / 6  # 30 degrees to the side member


def toe_nail_lateral_value(
    fastener: Nail, main_thickness: float, G_side: float, G_main: float
) -> LateralValue:
    """Return the reference lateral design value of a toe-nail in single shear.

    The toe-nail factor 0.83 is not in it; see `adjusted_lateral_value`.

    Source: NDS 2018 12.3.1 with l_s = L/3 and p_L = L cos 30 - L/3 of 12.1.6.3 and
    Figure 12A.

    Args:
        fastener: the nail.
        main_thickness: m, of the member that holds the point.
        G_side: specific gravity of the member that it is driven through.
        G_main: specific gravity of the member that holds the point.

    Raises:
        ScopeError: less than 6D penetration, or a nail outside the tables.
    """
    reach = replace(fastener, length=fastener.length * math.cos(_SLANT))
    side = toe_nail_side_length(fastener.length)
    return lateral_value(reach, side, main_thickness, G_side, G_main)


def toe_nail_withdrawal_value(
    fastener: Nail, main_thickness: float, G_main: float
) -> float:
    """Return the reference withdrawal design value of a toe-nail, whole nail.

    The toe-nail factor 0.67 is not in it. The penetration counted is p_L, measured
    square to the joint; the shank that lies aslant in the wood is a seventh longer,
    so this is the cautious side.

    Source: NDS 2018 12.2.3, Eq. 12.2-3, with p_L of Figure 12A.

    Args:
        fastener: the nail.
        main_thickness: m, of the member that holds the point.
        G_main: specific gravity of that member.

    Returns:
        W p, N.
    """
    held = min(toe_nail_penetration(fastener.length), main_thickness)
    return withdrawal_per_length(G_main, fastener.diameter) * held


def nails_for_both(
    lateral: Real, withdrawal: Real, lateral_each: Real, withdrawal_each: Real
) -> Floats:
    """Return how many nails a sideways force and a pull ask for together.

    Source: NDS 2018 12.4.2, Eq. 12.4-2: Z_a' = W'p Z' / (W'p cos a + Z' sin a), which
    is the sum of the two parts.

    Args:
        lateral: N, not negative.
        withdrawal: N, not negative.
        lateral_each: N, Z' of one nail.
        withdrawal_each: N, W'p of one nail; inf where nothing pulls.

    Returns:
        Nails, not rounded.
    """
    return floats(lateral) / lateral_each + floats(withdrawal) / withdrawal_each
