"""The gambrel: each side steep below and flatter above a level pitch break."""

from __future__ import annotations

from ..errors import BriefError
from .model import RoofForm
from .rectangle import roof_from_rectangle
from .spec import EdgeSpec, Tier


def gambrel_side(
    lower: float, upper: float, run: float, overhang: float = 0.0
) -> EdgeSpec:
    """Return the spec of a gambrel's eave; of all four sides it makes a mansard.

    Args:
        lower: pitch at the plate, rise over run.
        upper: pitch above the break, rise over run.
        run: plan distance of the break from the plate, m.
        overhang: of the eave, on plan, m.
    """
    return EdgeSpec(lower, overhang, above=(Tier(lower * run, upper),))


def gambrel_roof(
    length: float,
    width: float,
    lower: float,
    upper: float,
    run: float,
    overhang: float = 0.0,
    rake: float = 0.0,
) -> RoofForm:
    """Return the gambrel roof over a rectangle, its ridge along x between gables.

    Args:
        length: along the ridge, m.
        width: across, m.
        lower: pitch at the plate, rise over run.
        upper: pitch above the break, rise over run.
        run: plan distance of the break from the plate, m.
        overhang: of the eaves, on plan, m.
        rake: overhang at the gables, on plan, m.

    Raises:
        BriefError: the break would lie beyond the ridge.
    """
    if not 0 < run < width / 2:
        raise BriefError("run", run, "more than 0 and less than half the width")
    side = gambrel_side(lower, upper, run, overhang)
    gable = EdgeSpec(None, rake=rake)
    return roof_from_rectangle(length, width, side, gable, side, gable)
