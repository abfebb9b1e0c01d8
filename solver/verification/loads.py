"""ASCE 7-16 loads: roof live, snow and the slopes that unbalanced snow is for."""

from __future__ import annotations

import math

from ..basis.asce7 import roof_live, snow, wind
from ..basis.irc import minimum_roof_live_load
from ..units import FOOT, PSF
from .model import Record

FORMULA = "formula"


def reduced_roof_live_load(out: Record) -> None:
    """Area and slope factors, 12 to 20 psf."""
    for area, rise, printed in [
        (100, 3, 20),
        (400, 8, 12.8),
        (300, 8, 14.4),
        (700, 12, 12),
        (200, 8, 16),
        (600, 3, 12),
    ]:
        ours = roof_live.roof_live_load(area * FOOT**2, rise / 12)
        out.check(
            "CV-411",
            "ASCE 7-16 4.8.2",
            FORMULA,
            f"{area} ft2, {rise}:12",
            printed,
            float(ours) / PSF,
            rel=1e-09,
            unit="psf",
        )


def roof_live_of_a_ridge_beam(out: Record) -> None:
    """260 ft2 on a ridge beam: 18.8 psf, 244.4 lb/ft of 13 ft; and a rafter at 5:12."""
    beam = float(roof_live.roof_live_load(260 * FOOT**2, 4 / 12)) / PSF
    source = "Missouri S&T CE 5260, problem 2.5 (web.mst.edu/jthomas)"
    for what, printed, ours, tol, unit in (
        ("L_r at 260 ft2", 18.8, beam, 1e-9, "psf"),
        ("on the beam, 13 ft wide", 244.4, beam * 13, 1e-6, "plf"),
    ):
        out.check("CV-412", source, "seen", what, printed, ours, tol=tol, unit=unit)
    out.check(
        "CV-413",
        "Calculation filed with a permit, Santa Ana (doc 4854, page 9)",
        "seen",
        "up to 200 ft2, 5:12",
        19.0,
        float(roof_live.roof_live_load(200 * FOOT**2, 5 / 12)) / PSF,
        tol=1e-9,
        unit="psf",
    )


def roof_live_examples_of_the_residential_code(out: Record) -> None:
    """Three roofs."""
    for rise, area, printed in [(3.9, 200, 20), (8, 300, 14), (12, 700, 12)]:
        ours = minimum_roof_live_load(rise / 12, area * FOOT**2)
        out.check(
            "CV-335",
            "IRC 2018 R301.6, three examples",
            "seen",
            f"{rise}:12, {area} ft2",
            printed,
            float(ours) / PSF,
            unit="psf",
        )


def roof_slope_factor(out: Record) -> None:
    """Warm and cold roofs, slippery or not."""
    for degrees, thermal, slippery, printed in [
        (26.565, 1.0, False, 1.0),
        (33.69, 1.0, False, 0.9077),
        (45, 1.0, False, 0.625),
        (45, 1.1, False, 0.7692),
        (45, 1.2, False, 1.0),
        (45, 1.0, True, 0.3846),
        (26.565, 1.1, True, 0.7239),
    ]:
        slope = math.tan(math.radians(degrees))
        surface = "slippery" if slippery else "other"
        out.check(
            "CV-421",
            "ASCE 7-16 Figure 7.4-1",
            FORMULA,
            f"{degrees:g} deg, C_t {thermal}, {surface}",
            printed,
            snow.roof_slope_factor(slope, thermal, slippery),
            tol=0.001,
        )


def flat_roof_snow(out: Record) -> None:
    """0.7 C_e C_t I_s p_g."""
    out.check(
        "CV-422",
        "ASCE 7-16 Eq. 7.3-1",
        FORMULA,
        "p_g 50, C_e 0.9, C_t 1.1, I_s 1",
        34.65,
        snow.flat_roof_snow(50 * PSF, 0.9, 1.1, 1.0) / PSF,
        rel=1e-06,
        unit="psf",
    )


def slopes_of_unbalanced_snow(out: Record) -> None:
    """Cornell ARCH 264: 2.38 to 30.26 degrees, half an inch to seven in twelve."""
    for degrees, applies in [(2.38, 0.5), (30.26, 7.0)]:
        out.check(
            "CV-423",
            "Cornell ARCH 264, snow loads for hip and gable roofs",
            "seen",
            f"{applies}:12",
            degrees,
            math.degrees(math.atan(applies / 12)),
            tol=0.1,
            unit="deg",
        )


def narrow_gable(out: Record) -> None:
    """W 14 ft, p_g 30 psf: leeward I_s p_g, windward bare, for simple rafters alone."""
    balanced = snow.flat_roof_snow(30 * PSF, 1, 1, 1)
    found = snow.unbalanced_gable_snow(30 * PSF, balanced, 14 * FOOT, 0.5, 1.0, True)
    out.check(
        "CV-431",
        "ASCE 7-16 7.6.1",
        FORMULA,
        "leeward, W 14 ft",
        30,
        found.leeward / PSF,
        rel=1e-09,
        unit="psf",
    )


def drift_at_the_ridge(out: Record) -> None:
    """W 25 ft, p_g 30 psf, 6:12, all factors 1."""
    balanced = snow.sloped_roof_snow(
        snow.flat_roof_snow(30 * PSF, 1, 1, 1), snow.roof_slope_factor(0.5, 1.0, False)
    )
    u = snow.unbalanced_gable_snow(30 * PSF, balanced, 25 * FOOT, 0.5, 1.0, True)
    for what, printed, ours, unit in (
        ("p_s", 21.0, balanced / PSF, "psf"),
        ("windward", 6.3, u.windward / PSF, "psf"),
        ("h_d", 1.662, u.drift_height / FOOT, "ft"),
        ("gamma", 17.9, u.unit_weight / (PSF / FOOT), "pcf"),
        ("surcharge", 21.04, u.surcharge / PSF, "psf"),
        ("width of it", 6.268, u.surcharge_width / FOOT, "ft"),
    ):
        out.check(
            "CV-432",
            "ASCE 7-16 7.6.1, general case",
            FORMULA,
            what,
            printed,
            ours,
            rel=0.002,
            unit=unit,
        )


def drift_on_a_worksheet(out: Record) -> None:
    """A joist maker's worksheet: p_g 20 psf, l_u 35 ft, the same chart of heights.

    It works a windward drift, three quarters of the chart's height.
    """
    height = 0.75 * snow.drift_height(20 * PSF, 35 * FOOT, 1.0)
    weight = snow.snow_unit_weight(20 * PSF)
    for what, printed, ours, tol, unit in (
        ("3/4 h_d", 1.344, height / FOOT, 0.0005, "ft"),
        ("gamma", 16.6, weight / (PSF / FOOT), 0.005, "pcf"),
        ("times gamma", 22.308, height * weight / PSF, 0.01, "psf"),
    ):
        out.check(
            "CV-433",
            "Snow drift worksheet after ASCE 7-05 (scribd.com/document/369704012)",
            "seen",
            what,
            printed,
            ours,
            tol=tol,
            unit=unit,
        )


def velocity_pressure(out: Record) -> None:
    """115 mph, K_z 0.70, K_d 0.85 on a filed calculation: 20.1 psf."""
    q = wind.velocity_pressure(115 * 5280 * FOOT / 3600, 0.7, 1.0, 0.85)
    out.check(
        "CV-441",
        "Structural calculation filed with a permit",
        "seen",
        "q_z at 115 mph",
        20.1,
        q / PSF,
        rel=0.003,
        unit="psf",
    )


GROUPS = (
    reduced_roof_live_load,
    roof_live_of_a_ridge_beam,
    roof_live_examples_of_the_residential_code,
    roof_slope_factor,
    flat_roof_snow,
    slopes_of_unbalanced_snow,
    narrow_gable,
    drift_at_the_ridge,
    drift_on_a_worksheet,
    velocity_pressure,
)
