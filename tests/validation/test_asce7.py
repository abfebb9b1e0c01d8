"""ASCE 7-16 loads: roof live, snow and the slopes that unbalanced snow is for."""

import pytest
from loadfall.solver.basis.asce7 import combinations, snow
from loadfall.solver.units import FOOT, PCF, PSF

FORMULA = "formula"


def test_combinations_of_the_allowable_stress_list():
    """ASCE 7-16 2.4.1 with every case present, in its order."""
    found = combinations.asd_combinations(["L", "Lr", "S", "W"])
    assert [c.name for c in found] == [
        "D", "D+L", "D+Lr", "D+S", "D+0.75L+0.75Lr", "D+0.75L+0.75S", "D+0.6W",
        "D+0.75L+0.45W+0.75Lr", "D+0.75L+0.45W+0.75S", "0.6D+0.6W",
    ]  # fmt: skip
    assert [c.C_D for c in found] == [0.9, 1, 1.25, 1.15, 1.25, 1.15] + [1.6] * 4


@pytest.mark.parametrize("rise", [0.5, 7.0])
def test_unbalanced_snow_is_for_slopes_between_the_printed_ones(rise):
    outside = rise - 0.1 if rise < 1 else rise + 0.1
    assert snow.unbalanced_applies(rise / 12)
    assert not snow.unbalanced_applies(outside / 12)


def test_the_windward_slope_of_a_narrow_gable_is_bare_for_simple_rafters_alone():
    balanced = snow.flat_roof_snow(30 * PSF, 1, 1, 1)
    found = snow.unbalanced_gable_snow(30 * PSF, balanced, 14 * FOOT, 0.5, 1.0, True)
    assert found.windward == 0
    over_purlin = snow.unbalanced_gable_snow(
        30 * PSF, balanced, 14 * FOOT, 0.5, 1.0, False
    )
    assert over_purlin.windward > 0
    assert over_purlin.surcharge > 0


def test_units_of_unit_weight():
    assert pytest.approx(9.80665 * PCF, rel=1e-9) == PSF / FOOT
