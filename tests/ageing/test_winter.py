"""Sags with and without snow, against the beam formula and the ages of the roof."""

import numpy as np
import pytest
from loadfall.solver.ageing import age_roof, lasting_shapes, winters
from loadfall.tests.solve.houses import COTTAGE, changed, solved

INCH, PSF = 0.0254, 47.88025898


@pytest.fixture(scope="module")
def roof():
    loads = {"snow": {"roof": "30 psf", "unbalanced": False}, "attic_live": "0 psf"}
    return solved(changed(COTTAGE, purlins=[], struts=[], loads=loads))


def test_what_snow_adds_is_the_formula_of_a_simple_rafter(roof):
    """By hand: 2x6 at 24 in, 30 psf on plan, slope 6:12 (cos = 2 / sqrt 5).

    Across the rafter w = 30 psf x 2 ft x cos2; 5 w l4 / 384 EI in the middle, AWC
    Design Aid 6, figure 1. The sag is of the span over the plate to the ridge.
    """
    told = winters(roof)
    rows = [n for n, key in enumerate(told.member) if key.startswith("R-")]
    row = max(rows, key=lambda n: float(told.snow[n]))
    model = roof.model
    elements = model.rows_of(told.member[row])
    E = float(model.frame.E[elements.start])
    EI = E * 1.5 * 5.5**3 / 12 * INCH**4
    w = 30 * PSF * 24 * INCH * 4 / 5
    by_hand = 5 * w * told.span[row] ** 4 / (384 * EI)
    assert told.snow[row] == pytest.approx(by_hand, rel=0.06)  # the tail past the plate


def test_snow_does_not_creep_and_what_lasts_does(roof):
    aged = age_roof(roof)
    told = winters(roof, aged.years)
    assert (told.snowed, told.bare) == ("D+S", "D")
    grown = told.without[-1] - told.without[0]
    assert grown == pytest.approx(aged.spans.sag[-1] - aged.spans.sag[0], abs=1e-9)
    for n, name in enumerate(aged.spans.combination):
        if name == "D+S":
            both = told.without[-1, n] + told.snow[n]
            assert both == pytest.approx(aged.spans.sag[-1, n], rel=1e-9)
    assert "D+S" in aged.spans.combination
    assert np.all(np.isfinite(told.without))


def test_no_snow_has_no_winters():
    assert winters(solved(COTTAGE)) is None


def test_drifted_snow_presses_the_lee_slope_by_the_ratio_of_the_loads(roof):
    """By hand, ASCE 7-16 7.6.1: W = 13 ft, simple rafters, so I p_g on the lee slope.

    p_f = 0.7 x 1.1 p_g (an attic that stays cold), so a lee rafter gets 1 / 0.77 of
    balanced snow and sags so much more, and one to windward gets none.
    """
    loads = {"snow": {"ground": "30 psf"}, "attic_live": "0 psf"}
    drifty = solved(changed(COTTAGE, purlins=[], struts=[], loads=loads))
    told = winters(drifty)
    assert told.drifted == ("D+SuS", "D+SuN")
    on = {"S": [], "N": []}
    for n, key in enumerate(told.member):
        if key.startswith("R-") and told.snow[n] > 0.001:
            on[key[2]].append(n)
    for row, (lee, other) in enumerate((("S", "N"), ("N", "S"))):
        assert told.drifts[row, on[lee]] == pytest.approx(
            told.snow[on[lee]] / 0.77, rel=0.01
        )
        assert np.abs(told.drifts[row, on[other]]).max() < 0.03 * told.snow.max()
    assert winters(roof).drifted == ()


def test_the_lasting_part_of_the_attic_is_there_in_summer():
    """By hand: half of D+L less D lasts, so half of that sag is there all year."""
    loads = {"snow": {"ground": "30 psf"}, "attic_live": "10 psf"}
    stored = solved(changed(COTTAGE, loads={**loads, "attic_live_lasting": 0.5}))
    empty = solved(changed(COTTAGE, loads={**loads, "attic_live_lasting": 0.0}))
    row = stored.combinations.row
    table = stored.checked.sags
    attic = table.now[row("D+L")] - table.now[row("D")]
    more = winters(stored).without[0] - winters(empty).without[0]
    assert more == pytest.approx(attic / 2, rel=0.02, abs=5e-6)  # at other places
    assert more.max() > 1e-4
    assert winters(stored).snow == pytest.approx(winters(empty).snow, abs=1e-12)


def test_lasting_shapes_are_the_sags_of_the_winters():
    loads = {"snow": {"ground": "30 psf"}, "attic_live": "10 psf"}
    made = solved(changed(COTTAGE, purlins=[], struts=[], loads=loads))
    told = winters(made)
    rows = [n for n, key in enumerate(told.member) if key.startswith("CJ-")]
    row = max(rows, key=lambda n: float(told.without[0, n]))
    for name, extra in ((None, 0.0), ("D+S", told.snow[row])):
        shape = lasting_shapes(made, snowed=name).members[told.member[row]]
        for time in range(3):
            line = shape.moved[time, :, 2]
            most = -float(line.min()) + float(max(line[0], line[-1]))
            assert most == pytest.approx(told.without[time, row] + extra, rel=0.05)
