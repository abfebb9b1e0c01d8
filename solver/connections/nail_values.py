"""What one nail of a joint is worth in every combination."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from ..basis.nds.nail_joints import (
    Driven,
    adjusted_lateral_value,
    adjusted_withdrawal_value,
)
from ..basis.nds.nails import LateralValue, lateral_value, nail
from ..basis.nds.toe_nails import toe_nail_lateral_value, toe_nail_withdrawal_value

Floats = NDArray[np.float64]
_FACE = "NDS 2018 12.3.1, Table 11.3.1"
_TOE = "NDS 2018 12.3.1, 12.2.3, 12.4.2, 12.5.4 (toe-nails)"


@dataclass(frozen=True, eq=False, kw_only=True)
class NailValues:
    """One nail of a joint.

    Attributes:
        nail: trade name.
        driven: how it is driven.
        reference: Z with its yield modes.
        reference_withdrawal: N, W p of the whole nail; 0 where no pull is counted on.
        C_D: (c,) load duration factors.
        lateral: (c,) N, Z'.
        withdrawal: (c,) N, W'p; inf where the joint has no pull.
        clause: where the values come from.
    """

    nail: str
    driven: Driven
    reference: LateralValue
    reference_withdrawal: float
    C_D: Floats
    lateral: Floats
    withdrawal: Floats
    clause: str


def face_nails(
    name: str,
    side: tuple[float, float],
    main: tuple[float, float],
    C_D: Floats,
) -> NailValues:
    """Return the values of a face nail in single shear.

    Source: NDS 2018 12.3.1; Table 11.3.1 for the load duration factor.

    Args:
        name: trade name of the nail.
        side: thickness, m, and specific gravity of the member under the head.
        main: the same of the member that holds the point.
        C_D: (c,) load duration factors.
    """
    found = _face(name, side, main)
    each = [adjusted_lateral_value(found.Z, float(c)) for c in C_D]
    return NailValues(
        nail=name,
        driven=Driven.FACE,
        reference=found,
        reference_withdrawal=0.0,
        C_D=C_D,
        lateral=np.array(each),
        withdrawal=np.full(len(C_D), np.inf),
        clause=_FACE,
    )


def toe_nails(
    name: str, G_side: float, main: tuple[float, float], C_D: Floats
) -> NailValues:
    """Return the values of a toe-nail, sideways and in withdrawal.

    Source: NDS 2018 12.3.1, 12.2.3 and 12.5.4.

    Args:
        name: trade name of the nail.
        G_side: specific gravity of the member that it is driven through.
        main: thickness, m, and specific gravity of the member that holds the point.
        C_D: (c,) load duration factors.
    """
    found, pull = _toe(name, G_side, main)
    lateral = [adjusted_lateral_value(found.Z, float(c), Driven.TOE) for c in C_D]
    withdrawal = [
        adjusted_withdrawal_value(pull, 1.0, float(c), Driven.TOE) for c in C_D
    ]
    return NailValues(
        nail=name,
        driven=Driven.TOE,
        reference=found,
        reference_withdrawal=pull,
        C_D=C_D,
        lateral=np.array(lateral),
        withdrawal=np.array(withdrawal),
        clause=_TOE,
    )


@lru_cache(maxsize=256)
def _face(
    name: str, side: tuple[float, float], main: tuple[float, float]
) -> LateralValue:
    """Return Z of a face nail."""
    return lateral_value(nail(name), side[0], main[0], side[1], main[1])


@lru_cache(maxsize=256)
def _toe(
    name: str, G_side: float, main: tuple[float, float]
) -> tuple[LateralValue, float]:
    """Return Z and W p of a toe-nail."""
    fastener = nail(name)
    return (
        toe_nail_lateral_value(fastener, main[0], G_side, main[1]),
        toe_nail_withdrawal_value(fastener, main[0], main[1]),
    )
