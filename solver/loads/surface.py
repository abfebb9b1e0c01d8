"""Pressures on the roof surfaces, by load case, on plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.asce7.roof_live import LEAST, slope_factor
from ..brief.model import Brief, LiveReduction
from ..form import RoofForm as Form
from ..framing.roof_snow import (
    PlaneSnow,
    RoofSnow,
    least_pitch,
    plane_snow,
    planes_in_wind,
    roof_snow,
)
from .cases import DRIFTS, ROOF_SOUTH, Case
from .roof_strips import StretchArea

Floats = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class RoofPressures:
    """Roof loads on plan.

    Attributes:
        roof_live: Pa, after any reduction.
        snow: None where the brief states none.
        ridge: m, y of the ridge.
        planes: unbalanced snow of the planes of a form; none on a gable, where one
            pair of numbers says it all.
    """

    roof_live: float
    snow: RoofSnow | None
    ridge: float
    planes: tuple[PlaneSnow, ...] = ()

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

    @property
    def drift_edges(self) -> tuple[float | None, ...]:
        """Return by plane where its drift begins, m on plan up from its eave.

        0 where it covers the whole plane.
        """
        return tuple(
            None if p.drift is None or p.drift.surcharge <= 0 else p.edge or -np.inf
            for p in self.planes
        )

    def drifts_on(self, areas: Sequence[StretchArea | None]) -> dict[Case, Floats]:
        """Return what unbalanced snow puts on stretches of a roof of many planes.

        Args:
            areas: (s,) of each stretch, None where it carries no roof.

        Returns:
            By wind, (s,) N downward.
        """
        out: dict[Case, Floats] = {}
        for way, case in DRIFTS.items():
            if self.snow is None or not self.planes:
                break
            on = planes_in_wind(self.planes, self.snow.balanced, way)
            out[case] = np.array([0.0 if a is None else _weight(on, a) for a in areas])
        return out


def _weight(on: list[tuple[float, float]], area: StretchArea) -> float:
    """Return the weight of snow on a stretch, N, from (all over, more in a drift)."""
    whole = sum(on[n][0] * part for n, part in area.planes.items())
    return whole + sum(on[n][1] * part for n, part in area.drifted.items())


def roof_pressures(brief: Brief, form: Form | None = None) -> RoofPressures:
    """Return the roof loads of a brief.

    Source: ASCE 7-16 4.8.2 for the slope reduction of the roof live load, with the
    area factor left at 1: it belongs to a member, see ``live_area``.

    Args:
        brief: what is stated.
        form: of a roof of more planes than a gable's two.
    """
    live = brief.loads.roof_live
    if brief.loads.roof_live_reduction is not LiveReduction.NONE:
        reduced = live * float(slope_factor(least_pitch(brief)))
        live = min(live, max(reduced, LEAST))
    snow = roof_snow(brief)
    many = form is not None and snow is not None
    return RoofPressures(
        roof_live=live,
        snow=snow,
        ridge=brief.footprint.width / 2,
        planes=plane_snow(brief, form) if many and form is not None else (),
    )
