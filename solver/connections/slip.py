"""How stiff a heel joint is, all its nails together."""

from __future__ import annotations

from ..basis.ec5.slip import nail_slip_stiffness
from ..basis.materials import reference_values
from ..basis.nds.nails import nail
from ..basis.sections import section
from ..brief.choices import Slip
from ..brief.model import Brief, Stock


def heel_stiffness(brief: Brief) -> float | None:
    """Return the slip stiffness of a heel joint, None where it does not slip.

    Source: EN 1995-1-1:2004 Table 7.1 for each nail, unless it is stated; nails of a
    joint act side by side. The densities are those of the lumber tables, at 15 %
    moisture, which is near the mean density that the table asks for.

    Args:
        brief: of the roof.

    Returns:
        N/m, None for a joint without slip.
    """
    heel = brief.heel_joint
    if heel.slip is Slip.NONE or heel.count is None:
        return None
    each = heel.slip_stiffness
    if heel.slip is Slip.EUROCODE_5:
        tie = brief.ceiling_joists or brief.rafter_ties or brief.rafters
        each = nail_slip_stiffness(
            nail(heel.nail).diameter, _density(brief.rafters), _density(tie)
        )
    assert each is not None
    return heel.count * each


def _density(stock: Stock) -> float:
    """Return the density of a piece, kg/m3."""
    made = section(stock.size, stock.plies)
    return reference_values(stock.species, stock.grade, made).density
