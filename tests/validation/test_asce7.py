"""ASCE 7-16 loads: roof live, snow and the slopes that unbalanced snow is for."""

import math

import pytest
from loadfall.solver.basis.asce7 import combinations, roof_live, snow, wind
from loadfall.solver.basis.irc import minimum_roof_live_load
from loadfall.solver.units import FOOT, PCF, PSF

FORMULA = "formula"


@pytest.mark.parametrize(
    ("area", "rise", "printed"),
    [(100, 3, 20), (400, 8, 12.8), (300, 8, 14.4), (700, 12, 12), (200, 8, 16),
     (600, 3, 12)],
)  # fmt: skip
def test_reduced_roof_live_load(verification, area, rise, printed):
    ours = roof_live.roof_live_load(area * FOOT**2, rise / 12)
    verification.check(
        "CV-411", "ASCE 7-16 4.8.2", FORMULA, f"{area} ft2, {rise}:12", printed,
        float(ours) / PSF, rel=1e-9, unit="psf",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("rise", "area", "printed"), [(3.9, 200, 20), (8, 300, 14), (12, 700, 12)]
)
def test_roof_live_examples_of_the_residential_code(verification, rise, area, printed):
    ours = minimum_roof_live_load(rise / 12, area * FOOT**2)
    verification.check(
        "CV-335", "IRC 2018 R301.6, three examples", "seen", f"{rise}:12, {area} ft2",
        printed, float(ours) / PSF, unit="psf",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("degrees", "thermal", "slippery", "printed"),
    [(26.565, 1.0, False, 1.0), (33.69, 1.0, False, 0.9077), (45, 1.0, False, 0.625),
     (45, 1.1, False, 0.7692), (45, 1.2, False, 1.0), (45, 1.0, True, 0.3846),
     (26.565, 1.1, True, 0.7239)],
)  # fmt: skip
def test_roof_slope_factor(verification, degrees, thermal, slippery, printed):
    slope = math.tan(math.radians(degrees))
    surface = "slippery" if slippery else "other"
    verification.check(
        "CV-421", "ASCE 7-16 Figure 7.4-1", FORMULA,
        f"{degrees:g} deg, C_t {thermal}, {surface}", printed,
        snow.roof_slope_factor(slope, thermal, slippery), tol=1e-3,
    )  # fmt: skip


def test_flat_roof_snow(verification):
    verification.check(
        "CV-422", "ASCE 7-16 Eq. 7.3-1", FORMULA, "p_g 50, C_e 0.9, C_t 1.1, I_s 1",
        34.65, snow.flat_roof_snow(50 * PSF, 0.9, 1.1, 1.0) / PSF, rel=1e-6, unit="psf",
    )  # fmt: skip


@pytest.mark.parametrize(("degrees", "applies"), [(2.38, 0.5), (30.26, 7.0)])
def test_slopes_of_unbalanced_snow(verification, degrees, applies):
    """Cornell ARCH 264: 2.38 to 30.26 degrees, half an inch to seven in twelve."""
    verification.check(
        "CV-423", "Cornell ARCH 264, snow loads for hip and gable roofs", "seen",
        f"{applies}:12", degrees, math.degrees(math.atan(applies / 12)), tol=0.1,
        unit="deg",
    )  # fmt: skip
    assert snow.unbalanced_applies(applies / 12)
    outside = applies - 0.1 if applies < 1 else applies + 0.1
    assert not snow.unbalanced_applies(outside / 12)


def test_narrow_gable(verification):
    """W 14 ft, p_g 30 psf: leeward I_s p_g, windward bare, for simple rafters alone."""
    balanced = snow.flat_roof_snow(30 * PSF, 1, 1, 1)
    found = snow.unbalanced_gable_snow(30 * PSF, balanced, 14 * FOOT, 0.5, 1.0, True)
    verification.check(
        "CV-431", "ASCE 7-16 7.6.1", FORMULA, "leeward, W 14 ft", 30,
        found.leeward / PSF, rel=1e-9, unit="psf",
    )  # fmt: skip
    assert found.windward == 0
    over_purlin = snow.unbalanced_gable_snow(
        30 * PSF, balanced, 14 * FOOT, 0.5, 1.0, False
    )
    assert over_purlin.windward > 0
    assert over_purlin.surcharge > 0


def test_drift_at_the_ridge(verification):
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
        verification.check(
            "CV-432", "ASCE 7-16 7.6.1, general case", FORMULA, what, printed, ours,
            rel=2e-3, unit=unit,
        )  # fmt: skip
    assert pytest.approx(9.80665 * PCF, rel=1e-9) == PSF / FOOT


def test_combinations_of_the_allowable_stress_list():
    """ASCE 7-16 2.4.1 with every case present, in its order."""
    found = combinations.asd_combinations(["L", "Lr", "S", "W"])
    assert [c.name for c in found] == [
        "D", "D+L", "D+Lr", "D+S", "D+0.75L+0.75Lr", "D+0.75L+0.75S", "D+0.6W",
        "D+0.75L+0.45W+0.75Lr", "D+0.75L+0.45W+0.75S", "0.6D+0.6W",
    ]  # fmt: skip
    assert [c.C_D for c in found] == [0.9, 1, 1.25, 1.15, 1.25, 1.15] + [1.6] * 4


def test_velocity_pressure(verification):
    """115 mph, K_z 0.70, K_d 0.85 on a filed calculation: 20.1 psf."""
    q = wind.velocity_pressure(115 * 5280 * FOOT / 3600, 0.70, 1.0, 0.85)
    verification.check(
        "CV-441", "Structural calculation filed with a permit", "seen",
        "q_z at 115 mph", 20.1, q / PSF, rel=3e-3, unit="psf",
    )  # fmt: skip
