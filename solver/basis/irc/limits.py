"""Sag limits and the table of minimum roof live load."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from ...units import FOOT, PSF
from ..arrays import Floats, Real, floats


class SagUse(StrEnum):
    """What a bending member carries, as the sag limits see it."""

    RAFTER_BARE = "rafter over 3:12, no finished ceiling on it"
    RAFTER_CEILING = "rafter with a finished ceiling on it"
    CEILING_PLASTER = "ceiling with a brittle finish (plaster, stucco)"
    CEILING_FLEXIBLE = "ceiling with a flexible finish (gypsum board)"
    CEILING_NONE = "joists without a ceiling"
    OTHER = "other structural members"


@dataclass(frozen=True)
class SagLimits:
    """Span over sag.

    Attributes:
        live: under live, roof live or snow load.
        total: in the long run under all load.
        clause: where they stand.
    """

    live: float
    total: float
    clause: str


_CLAUSE = "IRC 2018 Table R301.7 (live), IBC 2018 Table 1604.3 (total), from memory"
_SAG = {
    SagUse.RAFTER_BARE: (180.0, 120.0),
    SagUse.RAFTER_CEILING: (240.0, 180.0),
    SagUse.CEILING_PLASTER: (360.0, 240.0),
    SagUse.CEILING_FLEXIBLE: (240.0, 180.0),
    SagUse.CEILING_NONE: (180.0, 120.0),
    SagUse.OTHER: (240.0, 180.0),
}

# Rows: under 4:12, 4:12 to under 12:12, 12:12 and steeper; columns: area to 200,
# 201 to 600, over 600 ft2; psf.
_ROOF_LIVE = np.array([[20.0, 16.0, 12.0], [16.0, 14.0, 12.0], [12.0, 12.0, 12.0]])


def sag_limits(use: SagUse) -> SagLimits:
    """Return the sag limits of a bending member.

    Source: IRC 2018 Table R301.7 under live load; IBC 2018 Table 1604.3 under all load
    with creep; both from memory. The IRC sets no limit on all load.

    Args:
        use: what it carries.
    """
    live, total = _SAG[use]
    return SagLimits(live, total, _CLAUSE)


def minimum_roof_live_load(slope: Real, tributary_area: Real) -> Floats:
    """Return the minimum roof live load on plan.

    Source: IRC 2018 Table R301.6.

    Args:
        slope: rise over run.
        tributary_area: m2, on plan, of the member.

    Returns:
        Pa.
    """
    rise = floats(slope) * 12 + 1e-9
    square_feet = floats(tributary_area) / FOOT**2 - 1e-9
    row = (rise >= 4).astype(int) + (rise >= 12)
    column = (square_feet > 200).astype(int) + (square_feet > 600)
    return _ROOF_LIVE[row, column] * PSF
