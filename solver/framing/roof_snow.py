"""Snow on the roof of a brief: balanced, and drifted over ridges and hips.

Framing needs it because a drift that ends within a rafter makes a joint there.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

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
from ..brief.outline import flattest, is_outline
from ..form import RoofForm as Form
from ..form import RoofPlane
from .plan import TOUCH

_WAYS = {"S": (0.0, -1.0), "N": (0.0, 1.0), "E": (1.0, 0.0), "W": (-1.0, 0.0)}
_AGAINST = {"S": "N", "N": "S", "E": "W", "W": "E"}


@dataclass(frozen=True, kw_only=True)
class RoofSnow:
    """Snow on plan.

    Attributes:
        balanced: Pa, over the whole roof.
        unbalanced: with one slope of a gable loaded, or None where no check is called
            for; the planes of any other roof each have their own, see ``plane_snow``.
        ground: Pa, p_g, as stated or found backwards from the roof's.
    """

    balanced: float
    unbalanced: UnbalancedSnow | None
    ground: float


@dataclass(frozen=True, kw_only=True)
class PlaneSnow:
    """Unbalanced snow of one plane of a roof.

    Attributes:
        way: ``S``, ``N``, ``E`` or ``W``, the way nearest to that the plane falls;
            the plane is to leeward of a wind that blows that way.
        run: m on plan, from its lowest to its highest line.
        drift: its load to leeward, or None where the clause asks for none.
    """

    way: str
    run: float
    drift: UnbalancedSnow | None

    @property
    def edge(self) -> float | None:
        """Return where the drift ends, as plan distance up from the eave, m."""
        if self.drift is None or not 0 < self.drift.surcharge_width < self.run:
            return None
        return self.run - self.drift.surcharge_width


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
    is_gable = brief.roof.form is RoofForm.GABLE  # others: plane by plane
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
    return RoofSnow(balanced=balanced, unbalanced=unbalanced, ground=ground)


def plane_snow(brief: Brief, form: Form) -> tuple[PlaneSnow, ...]:
    """Return the unbalanced snow of every plane of a form, in their order.

    Source: ASCE 7-16 7.6.1, hip and gable roofs. Every plane in turn is the lee side
    of a wind straight up the far side and down its own fall; l_u is all the roof to
    windward of its top. Where nothing lies to windward (a single slope) there is no
    drift of this clause. How the clause meets a hip's end is our reading: the drift
    lies within its width of the plane's highest line, measured down its own fall.
    """
    snow = roof_snow(brief)
    stated = brief.loads.snow
    assert snow is not None
    assert stated is not None
    out: list[PlaneSnow] = []
    for plane in form.planes:
        run, fetch = _run_and_fetch(form, plane)
        drift = None
        due = stated.unbalanced and unbalanced_applies(plane.pitch)
        if due and snow.balanced > 0 and fetch > TOUCH:
            drift = unbalanced_gable_snow(
                snow.ground,
                snow.balanced,
                run,
                plane.pitch,
                stated.importance,
                simple_rafters=not brief.purlins,
                fetch=fetch,
            )
        out.append(PlaneSnow(way=_way(plane), run=run, drift=drift))
    return tuple(out)


def _run_and_fetch(form: Form, plane: RoofPlane) -> tuple[float, float]:
    """Return a plane's run from eave to top, and the roof to windward of it, m."""
    up = plane.polygon @ plane.uphill
    far = float((form.outline.polygon @ plane.uphill).max())
    return float(np.ptp(up)), far - float(up.max())


def _way(plane: RoofPlane) -> str:
    """Return which of the four ways a plane falls nearest to."""
    fall = -plane.uphill
    return max(_WAYS, key=lambda way: round(float(fall @ np.array(_WAYS[way])), 9))


def planes_in_wind(
    planes: tuple[PlaneSnow, ...], balanced: float, way: str
) -> list[tuple[float, float]]:
    """Return (on the whole plane, more within the drift) of every plane, Pa on plan.

    Source: ASCE 7-16 7.6.1; a slope that the wind runs along keeps its balanced load.

    Args:
        planes: of a form.
        balanced: Pa, p_s.
        way: the way that the wind blows.

    Returns:
        All 0 where no plane has a drift in this wind.
    """
    lee = [p.drift for p in planes if p.way == way and p.drift is not None]
    if not lee:
        return [(0.0, 0.0)] * len(planes)
    windward = min(drift.windward for drift in lee)
    out: list[tuple[float, float]] = []
    for plane in planes:
        if plane.way == way and plane.drift is not None:
            out.append((plane.drift.leeward, plane.drift.surcharge))
        else:
            out.append((windward if plane.way == _AGAINST[way] else balanced, 0.0))
    return out


def least_pitch(brief: Brief) -> float:
    """Return the flattest pitch of the roof, which gives the largest loads on plan."""
    roof = brief.roof
    if is_outline(brief):
        return flattest(brief)
    if roof.form is RoofForm.GABLE or roof.end_pitch is None:
        return roof.pitch
    return min(roof.pitch, roof.end_pitch)


def drift_edge(brief: Brief) -> float | None:
    """Return where a gable's drift ends, m on plan from the plate, or None."""
    snow = roof_snow(brief)
    if snow is None or snow.unbalanced is None:
        return None
    run = brief.footprint.width / 2
    width = snow.unbalanced.surcharge_width
    return run - width if 0 < width < run else None
