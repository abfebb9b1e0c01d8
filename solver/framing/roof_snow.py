"""Snow on the roof of a brief: balanced, and drifted over the ridge.

Framing needs it because a drift that ends within a rafter makes a joint there.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..basis.asce7.snow import (
    UnbalancedSnow,
    flat_roof_snow,
    least_low_slope_snow,
    roof_slope_factor,
    sloped_roof_snow,
    unbalanced_applies,
    unbalanced_gable_snow,
)
from ..brief.model import Brief, RoofForm


@dataclass(frozen=True, kw_only=True)
class RoofSnow:
    """Snow on plan.

    Attributes:
        balanced: Pa, over the whole roof.
        unbalanced: with one slope loaded, or None where no check is called for.
    """

    balanced: float
    unbalanced: UnbalancedSnow | None


def roof_snow(brief: Brief) -> RoofSnow | None:
    """Return the snow of a brief, or None where it states none.

    Source: ASCE 7-16 7.3, 7.4 and 7.6.1. A stated roof snow is taken as the balanced
    load, and the ground snow behind it is found backwards for the drift.
    """
    snow = brief.loads.snow
    if snow is None:
        return None
    pitch = least_pitch(brief)
    slope_factor = roof_slope_factor(pitch, snow.thermal, snow.slippery)
    factors = 0.7 * snow.exposure * snow.thermal * snow.importance
    if snow.ground is not None:
        ground = snow.ground
        flat = flat_roof_snow(ground, snow.exposure, snow.thermal, snow.importance)
        balanced = sloped_roof_snow(flat, slope_factor)
        least = least_low_slope_snow(ground, snow.importance, pitch)
        balanced = max(balanced, least)
    else:
        balanced = snow.roof or 0.0
        ground = balanced / max(factors * slope_factor, 1e-9)
    unbalanced = None
    is_gable = brief.roof.form is RoofForm.GABLE  # hips: balanced alone, and said so
    drifts = snow.unbalanced and is_gable and unbalanced_applies(brief.roof.pitch)
    if drifts and balanced > 0:
        unbalanced = unbalanced_gable_snow(
            ground,
            balanced,
            brief.footprint.width / 2,
            brief.roof.pitch,
            snow.importance,
            simple_rafters=not brief.purlins,
        )
    return RoofSnow(balanced=balanced, unbalanced=unbalanced)


def least_pitch(brief: Brief) -> float:
    """Return the flattest pitch of the roof, which gives the largest loads on plan."""
    roof = brief.roof
    if roof.form is RoofForm.GABLE or roof.end_pitch is None:
        return roof.pitch
    return min(roof.pitch, roof.end_pitch)


def drift_edge(brief: Brief) -> float | None:
    """Return where a drift ends, as plan distance from the plate, m, or None."""
    snow = roof_snow(brief)
    if snow is None or snow.unbalanced is None:
        return None
    run = brief.footprint.width / 2
    width = snow.unbalanced.surcharge_width
    return run - width if 0 < width < run else None
