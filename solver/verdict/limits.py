"""Sag limits of each role, from the basis."""

from __future__ import annotations

from ..basis.irc import SagLimits, SagUse, sag_limits
from ..brief.model import Brief, CeilingFinish
from ..framing.model import Role

_FINISH = {
    CeilingFinish.PLASTER: SagUse.CEILING_PLASTER,
    CeilingFinish.GYPSUM: SagUse.CEILING_FLEXIBLE,
    CeilingFinish.NONE: SagUse.CEILING_NONE,
}


def role_sag_limits(brief: Brief, role: Role) -> SagLimits:
    """Return span over sag of a role, under live load and in the long run."""
    if role in (Role.CEILING_JOIST, Role.BEAM, Role.HEADER):
        return sag_limits(_FINISH[brief.checks.ceiling_finish])
    return sag_limits(SagUse.RAFTER_BARE)
