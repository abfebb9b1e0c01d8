"""Loads on surfaces and members, against sums worked out from the plan alone."""

from __future__ import annotations

import math

import numpy as np
import pytest
from loadfall.solver.loads.cases import CASES, ROOF_NORTH, ROOF_SOUTH, Case
from loadfall.solver.loads.member_loads import tributary_widths
from loadfall.solver.units import FOOT, INCH, PLF, PSF

from ..solve.houses import COTTAGE, changed, solved


def line(solution, key, case, part=0):
    """(3,) plf: the load of a case on one stretch of a member."""
    rows = [n for n, k in enumerate(solution.loads.member) if k == key]
    return solution.loads.load[CASES.index(case), rows[part]] / PLF


def house(**loads):
    return solved(COTTAGE, loads=loads | {"self_weight": False})


def test_roof_dead_on_the_slope_and_on_plan():
    """10 psf on a rafter every 2 ft: 20 plf of its length, or of its plan."""
    assert line(house(), "R-S-05", Case.DEAD)[2] == pytest.approx(-20)
    cos = 1 / math.hypot(1, 0.5)
    on_plan = house(roof_dead_on="plan")
    assert line(on_plan, "R-S-05", Case.DEAD)[2] == pytest.approx(-20 * cos)


def test_roof_live_lies_on_plan():
    cos = 1 / math.hypot(1, 0.5)
    assert line(house(), "R-N-05", Case.ROOF_LIVE)[2] == pytest.approx(-40 * cos)


def test_the_last_rafter_carries_half_a_spacing_and_the_rake():
    ends = solved(COTTAGE, roof={"rake_overhang": "1 ft"}, loads={"self_weight": False})
    assert line(ends, "R-S-00", Case.DEAD)[2] == pytest.approx(-10 * 2)
    assert line(house(), "R-S-00", Case.DEAD)[2] == pytest.approx(-10)


@pytest.mark.parametrize(
    ("pitch", "factor"),
    [("3:12", 1.0), ("4:12", 1.0), ("6:12", 0.9), ("9:12", 0.75), ("12:12", 0.6),
     ("18:12", 0.6)],
)  # fmt: skip
def test_roof_live_reduced_by_slope(pitch, factor):
    """ASCE 7-16 4.8.2: R2 = 1.2 - 0.05 F, from 1 at 4 in 12 to 0.6 at 12 in 12."""
    solution = solved(
        COTTAGE, roof={"pitch": pitch}, loads={"roof_live_reduction": "slope"}
    )
    assert solution.loads.pressures.roof_live / PSF == pytest.approx(20 * factor)


def test_a_low_roof_live_is_not_reduced_below_twelve():
    """ASCE 7-16 4.8.2: Lr is at least 12 psf; a stated 10 psf is left as stated."""
    parts = {"roof_live": "14 psf", "roof_live_reduction": "slope"}
    steep = solved(COTTAGE, roof={"pitch": "12:12"}, loads=parts)
    assert steep.loads.pressures.roof_live / PSF == pytest.approx(12)
    parts["roof_live"] = "10 psf"
    low = solved(COTTAGE, roof={"pitch": "12:12"}, loads=parts)
    assert low.loads.pressures.roof_live / PSF == pytest.approx(10)


def test_ceiling_loads():
    solution = house(ceiling_dead="5 psf", attic_live="10 psf")
    assert line(solution, "CJ-05-1", Case.DEAD)[2] == pytest.approx(-10)
    assert line(solution, "CJ-05-1", Case.ATTIC_LIVE)[2] == pytest.approx(-20)
    assert line(solution, "CJ-00-1", Case.ATTIC_LIVE)[2] == pytest.approx(-10)


def test_wind_lifts_square_to_the_roof():
    solution = house(wind_uplift="15 psf")
    for key, side in (("R-S-05", -1), ("R-N-05", 1)):
        push = line(solution, key, Case.WIND)
        assert np.linalg.norm(push) == pytest.approx(30)
        assert push[2] == pytest.approx(30 * math.cos(math.atan(0.5)))
        assert push[1] * side > 0
        start, end = solution.framing.ends(key)
        assert push @ (end - start) == pytest.approx(0, abs=1e-9)


def test_self_weight_is_that_of_the_wood():
    """SPF of G 0.42 weighs 28.5 lb/ft3 at 15 % moisture (NDS Supplement 3.1.3)."""
    with_weight = solved(COTTAGE)
    without = house()
    weight = 62.4 * 0.42 / (1 + 0.42 * 0.009 * 15) * 1.15
    for key, area in (("R-S-05", 8.25), ("CJ-05-2", 8.25), ("ST-S-01", 5.25)):
        more = line(with_weight, key, Case.DEAD) - line(without, key, Case.DEAD)
        assert more[2] == pytest.approx(-weight * area / 144, rel=1e-3)


def snow(**parts):
    return solved(COTTAGE, loads={"snow": {"ground": "30 psf"} | parts})


def test_balanced_snow():
    """ASCE 7-16 7.3: 0.7 Ce Ct Is pg = 0.7 x 1.0 x 1.1 x 1.0 x 30 = 23.1 psf, Cs 1."""
    solution = snow()
    pressures = solution.loads.pressures
    assert pressures.snow.balanced / PSF == pytest.approx(23.1)
    cos = 1 / math.hypot(1, 0.5)
    assert line(solution, "R-S-05", Case.SNOW)[2] == pytest.approx(-46.2 * cos)


def test_snow_driven_over_the_ridge():
    """ASCE 7-16 7.6.1: 0.3 ps to windward, ps and a drift near the ridge to leeward."""
    pressures = snow().loads.pressures
    drift = pressures.snow.unbalanced
    y = np.array([1.0, 6.0, 12.9]) * FOOT
    balanced = pressures.snow.balanced
    north = 26 * FOOT - y
    for case, lee, wind in (
        (Case.SNOW_SOUTH, (ROOF_SOUTH, y), (ROOF_NORTH, north)),
        (Case.SNOW_NORTH, (ROOF_NORTH, north), (ROOF_SOUTH, y)),
    ):
        assert pressures.on_plan(case, *wind) == pytest.approx(0.3 * balanced)
        near = pressures.on_plan(case, *lee)
        assert near[0] == pytest.approx(balanced)
        assert near[2] == pytest.approx(balanced + drift.surcharge)
    assert drift.surcharge > 0


def test_the_drift_ends_at_a_joint():
    """Snow of a case on the whole lee slope: ps over it, and the drift's own width."""
    solution = snow()
    drift = solution.loads.pressures.snow.unbalanced
    loads, points = solution.loads, solution.framing.points
    on = np.array([s == ROOF_SOUTH for s in loads.surface])
    ends = points[loads.nodes]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    down = -loads.load[CASES.index(Case.SNOW_SOUTH), :, 2] * length
    ridge = 32 * FOOT
    plan = ridge * (13 * FOOT + 16 * INCH)
    whole = plan * drift.leeward + ridge * drift.surcharge_width * drift.surcharge
    assert down[on].sum() == pytest.approx(whole, rel=1e-9)


def test_steep_slippery_roofs_shed_snow():
    steep = changed(COTTAGE, roof={"pitch": "18:12"})
    loads = {"snow": {"ground": "30 psf", "slippery": True, "thermal": 1.0}}
    slick = solved(steep, loads=loads)
    loads = {"snow": {"ground": "30 psf", "thermal": 1.0}}
    rough = solved(steep, loads=loads)
    balanced = [s.loads.pressures.snow.balanced for s in (slick, rough)]
    assert balanced[0] < balanced[1] < 21 * PSF


def test_combinations_and_their_duration():
    """ASCE 7-16 2.4.1; NDS 2018 Table 2.3.2: the shortest load decides."""
    loads = {
        "snow": {"ground": "30 psf"},
        "attic_live": "10 psf",
        "wind_uplift": "9 psf",
    }
    combos = solved(COTTAGE, loads=loads).combinations
    duration = dict(zip(combos.names, combos.C_D, strict=True))
    assert duration["D"] == 0.9
    assert duration["D+L"] == 1.0
    assert duration["D+S"] == 1.15
    assert duration["D+Lr"] == 1.25
    assert duration["D+0.75L+0.75S"] == 1.15
    assert duration["0.6D+0.6W"] == 1.6
    row = combos.factors[combos.row("D+0.75L+0.75Lr")]
    expected = {Case.DEAD: 1, Case.ATTIC_LIVE: 0.75, Case.ROOF_LIVE: 0.75}
    assert {c: f for c, f in zip(CASES, row, strict=True) if f} == expected


def test_no_combination_of_loads_that_are_not_there():
    names = solved(COTTAGE, loads={"attic_live": "0 psf"}).combinations.names
    assert names == ("D", "D+Lr")


def test_tributary_widths_add_up():
    marks = np.array([0.0, 1.0, 3.0, 3.5])
    widths = tributary_widths(marks, -0.5, 4.0)
    np.testing.assert_allclose(widths, [1.0, 1.5, 1.25, 0.75])
    assert widths.sum() == pytest.approx(4.5)
