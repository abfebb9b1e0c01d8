"""Sag limits and seats of each role, from the basis."""

from __future__ import annotations

from ..brief.model import Brief, CeilingFinish
from ..framing.model import Role
from ..units import INCH

LEAST_BEARING_ON_WOOD = 1.5 * INCH


def sag_limits(brief: Brief, role: Role) -> tuple[float, float]:
    """Return span over sag, under live load and in all in the long run."""
    if role in (Role.CEILING_JOIST, Role.BEAM):
        finish = brief.checks.ceiling_finish
        if finish is CeilingFinish.PLASTER:
            return 360.0, 240.0
        return 240.0, 180.0 if finish is CeilingFinish.GYPSUM else 120.0
    return 180.0, 120.0
