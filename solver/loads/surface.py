"""Pressures on the roof surfaces, by load case, on plan."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.asce7.roof_live import slope_factor
from ..brief.model import Brief, LiveReduction
from ..framing.roof_snow import RoofSnow, least_pitch, roof_snow
from ..units import PSF
from .cases import ROOF_SOUTH, Case

Floats = NDArray[np.float64]
_LEAST_LIVE = 12 * PSF  # ASCE 7-16 4.8.2


@dataclass(frozen=True, kw_only=True)
class RoofPressures:
    """Roof loads on plan.

    Attributes:
        roof_live: Pa, after any reduction.
        snow: None where the brief states none.
        ridge: m, y of the ridge.
    """

    roof_live: float
    snow: RoofSnow | None
    ridge: float

    def on_plan(self, case: Case, surface: str, y: Floats) -> Floats:
        """Return the pressure on plan at places of a surface.

        Args:
            case: roof live or a snow case.
            surface: roof surface.
            y: (k,) m, places across the ridge.

        Returns:
            (k,) Pa, downward positive.
        """
        y = np.asarray(y, dtype=float)
        if case is Case.ROOF_LIVE:
            return np.full(y.shape, self.roof_live)
        if self.snow is None:
            return np.zeros(y.shape)
        if case is Case.SNOW:
            return np.full(y.shape, self.snow.balanced)
        drift = self.snow.unbalanced
        if drift is None:
            return np.zeros(y.shape)
        loaded = (case is Case.SNOW_SOUTH) == (surface == ROOF_SOUTH)
        if not loaded:
            return np.full(y.shape, drift.windward)
        near = np.abs(y - self.ridge) < drift.surcharge_width
        return drift.leeward + np.where(near, drift.surcharge, 0.0)


def roof_pressures(brief: Brief) -> RoofPressures:
    """Return the roof loads of a brief.

    Source: ASCE 7-16 4.8.2 for the slope reduction of the roof live load, with the
    area factor left at 1 so that no member is given less than its own area allows.
    """
    live = brief.loads.roof_live
    if brief.loads.roof_live_reduction is LiveReduction.SLOPE:
        reduced = live * float(slope_factor(least_pitch(brief)))
        live = min(live, max(reduced, _LEAST_LIVE))
    return RoofPressures(
        roof_live=live, snow=roof_snow(brief), ridge=brief.footprint.width / 2
    )
