"""Sags with and without snow, against the beam formula and the ages of the roof."""

import numpy as np
import pytest
from loadfall.solver.ageing import age_roof, winters
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
