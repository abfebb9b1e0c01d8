"""Roof live load by tributary area, against ASCE 7-16 4.8.2 worked out by hand."""

from __future__ import annotations

import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.loads.cases import CASES, Case
from loadfall.solver.loads.live_area import live_part
from loadfall.solver.units import FOOT, PSF

from ..solve.houses import COTTAGE, changed, solved

# No ties, so that the beam carries: of 32 ft on two end posts it takes half of each
# rafter:
# 32 x 13 = 416 sq ft, less half a bay at each end, whose rafters stand on the posts.
BEAM = {
    "ridge": {"kind": "beam", "size": "3.5x16", "species": "LVL",
              "grade": "2.0E-2600Fb"},
    "purlins": None, "struts": None, "ceiling_joists": None,
    "rafters": {"size": "2x8", "spacing": "24 in"},
}  # fmt: skip


def beam_roof(reduction, pitch="4:12"):
    return solved(
        COTTAGE,
        **BEAM,
        roof={"pitch": pitch, "overhang": "0 in"},
        loads={
            "roof_live_reduction": reduction,
            "attic_live": "0 psf",
            "ceiling_dead": "0 psf",
        },
    )


def test_a_ridge_beam_counts_less_than_its_rafters():
    """R1 = 1.2 - 0.390 = 0.81, rounded up to 0.85: 17 psf; a rafter keeps 20."""
    by_area, by_slope = beam_roof("slope_and_area"), beam_roof("slope")
    assert by_slope.combinations.names == ("D", "D+Lr")
    assert by_area.combinations.names == ("D", "D+Lr", "D+0.85Lr")
    row = by_area.combinations.factors[by_area.combinations.row("D+0.85Lr")]
    assert row[CASES.index(Case.ROOF_LIVE)] == pytest.approx(0.85)
    ridge, full = by_area.members["RIDGE"], by_slope.members["RIDGE"]
    assert ridge.combination == "D+0.85Lr"
    assert "D+Lr" not in ridge.by_combination["bending"]
    dead = ridge.by_combination["bending"]["D"] * 0.9
    whole = full.by_combination["bending"]["D+Lr"] * 1.25
    ours = ridge.by_combination["bending"]["D+0.85Lr"] * 1.25
    assert ours == pytest.approx(dead + 0.85 * (whole - dead), rel=1e-6)
    assert ridge.moment < full.moment
    assert ridge.sag_long_term < full.sag_long_term
    for key in ("R-S-05", "R-N-05"):
        assert by_area.members[key].utilisation == pytest.approx(
            by_slope.members[key].utilisation
        )
        assert "D+0.85Lr" not in by_area.members[key].by_combination["bending"]


def test_both_factors_meet_at_twelve():
    """9:12: R2 0.75 gives 15 psf; R1 0.85 of it 12.75 psf; at 12:12 no less than 12."""
    roof = beam_roof("slope_and_area", "9:12")
    assert roof.loads.pressures.roof_live / PSF == pytest.approx(15)
    assert roof.combinations.names[-1] == "D+0.85Lr"
    steep = beam_roof("slope_and_area", "12:12")
    assert steep.loads.pressures.roof_live / PSF == pytest.approx(12)
    assert steep.combinations.names == ("D", "D+Lr")


def test_members_below_two_hundred_square_feet_keep_all_of_it():
    """The cottage's struts, purlins and joists: 4 ft by 6.5 ft each and the like."""
    loads = {"roof_live_reduction": "slope_and_area"}
    names = solved(COTTAGE, loads=loads).combinations.names
    assert names == solved(COTTAGE).combinations.names


@pytest.mark.parametrize(
    ("square_feet", "psf"), [(100, 20), (200, 20), (300, 18), (400, 16), (600, 12)]
)
def test_the_part_of_a_member(square_feet, psf):
    """ASCE 7-16 4.8.2 at a slope of R2 = 1: 20 (1.2 - 0.001 At), 12 from 600 sq ft."""
    brief = read_brief(
        changed(COTTAGE, loads={"roof_live_reduction": "slope_and_area"})
    )
    part = live_part(brief, 20 * PSF, square_feet * FOOT**2)
    assert 20 * part == pytest.approx(psf)
