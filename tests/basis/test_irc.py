"""Prescriptive rules at their edges, and the lists of combinations."""

import math

import pytest
from loadfall.solver.basis import irc
from loadfall.solver.basis.asce7.combinations import asd_combinations
from loadfall.solver.basis.asce7.snow import (
    least_low_slope_snow,
    unbalanced_gable_snow,
)
from loadfall.solver.errors import ScopeError, TableError
from loadfall.solver.units import DEGREE, FOOT, INCH, PSF

RULES = [
    (irc.purlin_size(5.5 * INCH, 5.5 * INCH), True),
    (irc.purlin_size(5.5 * INCH, 7.25 * INCH), False),
    (irc.brace_size(1.5 * INCH, 3.5 * INCH), True),
    (irc.brace_size(0.75 * INCH, 5.5 * INCH), False),
    (irc.brace_size(1.5 * INCH, 2.5 * INCH), False),
    (irc.brace_spacing(4 * FOOT), True),
    (irc.brace_spacing(4.1 * FOOT), False),
    (irc.brace_angle(45 * DEGREE), True),
    (irc.brace_angle(44.9 * DEGREE), False),
    (irc.brace_unbraced_length(8 * FOOT), True),
    (irc.brace_unbraced_length(8.1 * FOOT), False),
    (irc.brace_foot("wall spine", True), True),
    (irc.brace_foot("ceiling joist CJ-05-1", False), False),
    (irc.purlin_continuous(True), True),
    (irc.purlin_continuous(False), False),
    (irc.rafter_span_between_supports(9 * FOOT, 10 * FOOT), True),
    (irc.rafter_span_between_supports(11 * FOOT, 10 * FOOT), False),
    (irc.ridge_board_depth(7.25 * INCH, 5.5 * INCH, 6 / 12), True),
    (irc.ridge_board_depth(5.5 * INCH, 5.5 * INCH, 6 / 12), False),
    (irc.ridge_board_thickness(0.75 * INCH), True),
    (irc.ridge_board_thickness(0.5 * INCH), False),
    (irc.ridge_may_be_board(3 / 12), True),
    (irc.ridge_may_be_board(2.9 / 12), False),
    (irc.hip_valley_depth(7.25 * INCH, 5.5 * INCH, 6 / 12), True),
    (irc.hip_valley_depth(5.5 * INCH, 5.5 * INCH, 6 / 12), False),
    (irc.hip_valley_thickness(1.5 * INCH), True),
    (irc.hip_valley_thickness(0.75 * INCH), False),
    (irc.hip_valley_held_at_ridge(True, "post"), True),
    (irc.hip_valley_held_at_ridge(False, "nothing"), False),
    (irc.collar_tie_spacing(4 * FOOT), True),
    (irc.collar_tie_spacing(6 * FOOT), False),
    (irc.collar_tie_height(0.7), True),
    (irc.collar_tie_height(0.6), False),
    (irc.rafter_tie_spacing(4 * FOOT), True),
    (irc.rafter_tie_spacing(4.5 * FOOT), False),
    (irc.rafter_tie_height(1 / 3), True),
    (irc.rafter_tie_height(0.4), False),
    (irc.ridge_carries_without_ties(True, False), True),
    (irc.ridge_carries_without_ties(False, True), True),
    (irc.ridge_carries_without_ties(False, False), False),
    (irc.joist_lap(3 * INCH), True),
    (irc.joist_lap(2.9 * INCH), False),
    (irc.heel_joint_count(11, 11), True),
    (irc.heel_joint_count(10, 11), False),
    (irc.bearing_length(1.5 * INCH), True),
    (irc.bearing_length(1.5 * INCH, on_masonry=True), False),
    (irc.notch_depth(5.5 / 4 * INCH, 5.5 * INCH, at_end=True), True),
    (irc.notch_depth(5.5 / 4 * INCH, 5.5 * INCH, at_end=False), False),
    (irc.notch_length(5.5 / 3 * INCH, 5.5 * INCH), True),
    (irc.notch_length(2 * INCH, 5.5 * INCH), False),
    (irc.notch_place(False), True),
    (irc.notch_place(True), False),
    (irc.hole(1.8 * INCH, 2 * INCH, 5.5 * INCH), True),
    (irc.hole(1.9 * INCH, 2 * INCH, 5.5 * INCH), False),
    (irc.hole(1.0 * INCH, 1.9 * INCH, 5.5 * INCH), False),
    (irc.lateral_support(5, False, False), True),
    (irc.lateral_support(6, False, True), False),
    (irc.lateral_support(6, True, False), True),
    (irc.lateral_support(7, True, False), False),
    (irc.lateral_support(7, True, True), True),
]


@pytest.mark.parametrize(("found", "passed"), RULES)
def test_rules_at_their_edges(found, passed):
    assert found.passed is passed
    assert found.section.startswith("IRC 2018 ")
    for text in (found.note, found.quantity, found.value, found.limit):
        assert text
    assert found.words.endswith(".")


def test_plumb_cut_by_hand():
    """5.5 in at 6:12: 5.5 * sqrt(1.25) = 6.149 in."""
    assert irc.plumb_cut(5.5, 0.5) == pytest.approx(6.1492, rel=1e-4)


def test_raised_ties_end_at_a_third():
    for function in (irc.raised_tie_span_factor, irc.raised_tie_heel_factor):
        with pytest.raises(ScopeError, match="1/3"):
            function(0.4)


def test_span_factor_is_the_moment_at_the_tie():
    """a = 1/4: w R^2 (a - a^2/2) = 0.21875 w R^2 against 0.125: sqrt(0.571) = 0.756."""
    assert irc.raised_tie_span_factor(0.25) == pytest.approx(math.sqrt(0.125 / 0.21875))


@pytest.mark.parametrize("use", list(irc.SagUse))
def test_sag_limits(use):
    limits = irc.sag_limits(use)
    assert limits.live > limits.total >= 120


def test_roof_live_table():
    """IRC R301.6 in full, at the first area and slope of each cell."""
    expected = {3.9: (20, 16, 12), 4: (16, 14, 12), 11.9: (16, 14, 12), 12: (12,) * 3}
    for rise, row in expected.items():
        for area, psf in zip((200, 201, 601), row, strict=True):
            found = irc.minimum_roof_live_load(rise / 12, area * FOOT**2)
            assert float(found) / PSF == pytest.approx(psf), (rise, area)


def test_combinations_without_wind_or_attic():
    found = asd_combinations(["Lr"])
    assert [c.name for c in found] == ["D", "D+Lr"]
    assert found[1].factors == {"D": 1.0, "Lr": 1.0}


def test_combinations_with_unbalanced_snow():
    found = asd_combinations(["L", "S", "SuS", "SuN"])
    names = [c.name for c in found]
    assert names == [
        "D", "D+L", "D+S", "D+SuS", "D+SuN", "D+0.75L+0.75S", "D+0.75L+0.75SuS",
        "D+0.75L+0.75SuN",
    ]  # fmt: skip
    assert len(set(names)) == len(names)


def test_wind_alone_still_has_uplift():
    names = [c.name for c in asd_combinations(["W"])]
    assert names == ["D", "D+0.6W", "0.6D+0.6W"]


def test_unknown_case_is_refused():
    with pytest.raises(TableError, match="load case"):
        asd_combinations(["E"])


def test_low_slope_snow():
    """2:12 is 9.5 degrees: p_g of 30 gives 20 psf; 6:12 gives none."""
    assert least_low_slope_snow(30 * PSF, 1.0, 2 / 12) == 20 * PSF
    assert least_low_slope_snow(15 * PSF, 1.1, 2 / 12) == pytest.approx(16.5 * PSF)
    assert least_low_slope_snow(30 * PSF, 1.0, 6 / 12) == 0.0


def test_steep_roofs_have_no_unbalanced_snow():
    with pytest.raises(ScopeError, match=r"7\.6\.1"):
        unbalanced_gable_snow(30 * PSF, 21 * PSF, 14 * FOOT, 8 / 12, 1.0, True)


def test_drift_stops_at_the_eave():
    found = unbalanced_gable_snow(60 * PSF, 42 * PSF, 5 * FOOT, 1 / 12, 1.0, False)
    assert found.surcharge_width == pytest.approx(5 * FOOT)
