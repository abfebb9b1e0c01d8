"""Birdsmouths and joist ends cut to the slope, by the clauses written out by hand."""

import math

import pytest
from loadfall.solver.audit.model import FindingKind
from loadfall.solver.brief import read_brief
from loadfall.solver.framing.cuts import end_cuts
from loadfall.solver.solve import solve
from loadfall.solver.units import INCH, POUND

from .roofs import solved

COS = 12 / math.hypot(12, 4)


def findings(solution, rule):
    return [f for f in solution.findings if f.rule == rule]


def rows(solution):
    return solution.checked.result.checks["notched_shear"]


def row_of(solution, key):
    return solution.model.members.index(key)


def test_birdsmouth_by_hand():
    """4:12, 24 ft, 80 plf on plan: V = 80 x 12 / 2 x cos = 455.4 lb at the plate.

    A 2x8 cut 1.25 in plumb keeps 7.25 - 1.25 cos = 6.064 in; Fv' = 135 x 1.15;
    V_r' = 2/3 x 155.25 x 1.5 x 6.064 x (6.064 / 7.25)^2 = 658.6 lb.
    """
    roof = solved()
    n, found = row_of(roof, "R-S-01"), rows(roof)
    left = 7.25 - 1.25 * COS
    capacity = 2 / 3 * 135 * 1.15 * 1.5 * left * (left / 7.25) ** 2
    assert capacity == pytest.approx(658.6, abs=0.1)
    assert found.demand[n] / POUND == pytest.approx(480 * COS, rel=1e-6)
    assert found.capacity[n] / POUND == pytest.approx(capacity, rel=1e-9)
    assert found.station[n] == pytest.approx(0.0, abs=1e-9)
    assert roof.combinations.names[int(found.combination[n])] == "D+S"
    assert roof.members["R-S-01"].by_check["notched_shear"] == pytest.approx(
        480 * COS / capacity, rel=1e-6
    )


def test_a_deeper_seat_costs_shear_by_the_cube():
    shallow, deep = (
        rows(roof).utilisation[row_of(roof, "R-S-01")]
        for roof in (solved(), solved(rafters={"seat_depth": "2.5 in"}))
    )
    ratio = (7.25 - 1.25 * COS) / (7.25 - 2.5 * COS)
    assert deep / shallow == pytest.approx(ratio**3, rel=1e-6)


def test_the_seat_of_a_hip_by_hand():
    """6:12 all round, 2x8 rafters seated 1.5 in plumb, a 2x10 hip with its top dropped.

    A hip rises 6 in 16.97: cos 0.942809. Rafters' tops lie 7.25 x 1.118034 - 1.5 =
    6.6057 in above the plate; the hip's middle line is dropped 0.75 x 0.5 x 0.707107 =
    0.2652 in and its plumb depth is 9.25 / 0.942809 = 9.8111 in, so that 3.4706 in lie
    below the plate: 3.2721 in square to it, 5.9779 in left.
    """
    data = {
        "footprint": {"length": "32 ft", "width": "20 ft"},
        "roof": {"pitch": "6:12", "form": "hip"},
        "rafters": {"size": "2x8", "spacing": "24 in", "seat_depth": "1.5 in"},
        "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
        "hips": {"size": "2x10", "species": "Douglas Fir-Larch", "grade": "No.2"},
        "loads": {"roof_live": "20 psf"},
    }
    roof = solve(read_brief(data))
    (cut,) = [c for c in end_cuts(roof.brief, roof.framing) if c.member == "HP-SW"]
    assert cut.remaining / INCH == pytest.approx(5.9779, abs=1e-4)
    assert cut.on_tension_side
    n, found = row_of(roof, "HP-SW"), rows(roof)
    capacity = 2 / 3 * 180 * 1.25 * 1.5 * 5.9779 * (5.9779 / 9.25) ** 2
    assert roof.combinations.names[int(found.combination[n])] == "D+Lr"
    assert found.capacity[n] / POUND == pytest.approx(capacity, rel=1e-4)
    assert found.demand[n] / POUND > 100
    named = {key for f in findings(roof, "birdsmouth") for key in f.members}
    assert "R-S-08" in named
    assert "HP-SW" not in named


def test_no_seat_no_check():
    roof = solved(rafters={"seat_depth": "0 in"})
    assert "notched_shear" not in roof.checked.result.checks
    assert findings(roof, "birdsmouth") == []


def test_the_tail_beyond_the_plate_has_its_shear_too():
    """With an overhang the cut is between two joints; the inner side governs."""
    roof = solved(roof={"overhang": "12 in"})
    n, found = row_of(roof, "R-S-01"), rows(roof)
    assert found.station[n] == pytest.approx(12 * INCH / COS)
    stations = roof.checked.stations.V_strong[int(found.combination[n])]
    elements = roof.model.rows_of("R-S-01")
    after = abs(stations[elements.start + 1, 0])
    before = abs(stations[elements.start, 8])
    assert found.demand[n] == pytest.approx(max(after, before), rel=1e-12)
    assert after > before > 0


def low(**changes):
    """3:12, 2x6 rafters over 2x8 joists: the corner of the joist is cut off."""
    return solved(
        roof={"pitch": "3:12"}, rafters={"size": "2x6"},
        loads={"ceiling_dead": "20 psf"}, **changes,
    )  # fmt: skip


def test_joist_end_cut_to_the_slope_by_hand():
    """Roof over the plate's inner face: 5.5 x 1.0308 - 1.25 + 1.75 / 4 = 4.857 in.

    The cut goes (7.25 - 4.857) x 4 = 9.57 in further, more than 4.857, so the depth
    left counts alone: V_r' = 2/3 x 135 x 0.9 x 1.5 x 4.857 = 590 lb at dead load.
    """
    roof = low()
    n, found = row_of(roof, "CJ-01-1"), rows(roof)
    left = 5.5 * math.hypot(1, 0.25) - 1.25 + 1.75 / 4
    (cut,) = {c.remaining for c in end_cuts(roof.brief, roof.framing)
              if c.member == "CJ-01-1"}  # fmt: skip
    assert cut / INCH == pytest.approx(left)
    assert found.capacity[n] / POUND == pytest.approx(
        2 / 3 * 135 * 0.9 * 1.5 * left, rel=1e-9
    )
    assert found.demand[n] / POUND == pytest.approx(20 * 2 * 24 / 2, rel=1e-6)


def test_a_short_cut_costs_less():
    """6:12, 2x6 over 2x8: 5.774 in left, e = 2.95 in within it, NDS Eq. 3.4-5."""
    roof = solved(roof={"pitch": "6:12"}, rafters={"size": "2x6"})
    n, found = row_of(roof, "CJ-01-1"), rows(roof)
    left = 5.5 * math.hypot(1, 0.5) - 1.25 + 1.75 / 2
    e = (7.25 - left) * 2
    counted = 7.25 - (7.25 - left) / left * e
    C_D = roof.combinations.C_D[int(found.combination[n])]
    assert left < counted < 7.25
    assert e < left
    assert found.capacity[n] / POUND == pytest.approx(
        2 / 3 * 135 * C_D * 1.5 * counted, rel=1e-9
    )


def test_square_ends_and_shallow_joists_are_not_checked():
    square = low(ceiling_joists={"ends_cut": False})
    shallow = low(ceiling_joists={"size": "2x4"})
    for roof in (square, shallow):
        assert rows(roof).utilisation[row_of(roof, "CJ-01-1")] == 0
        assert findings(roof, "joist_taper") == []


def test_a_kept_rule_is_a_note_and_makes_no_member_prescriptive():
    roof = solved()
    (found,) = findings(roof, "birdsmouth")
    assert found.kind is FindingKind.NOTE
    assert found.passed is None
    assert "R802.7.1" in found.section
    assert "NDS 2018 4.4.3" in found.section
    assert roof.members["R-S-01"].rule_passes is None


def test_a_birdsmouth_deeper_than_a_quarter_breaks_the_rule():
    """A 2x8 may lose 1.8125 in square to it: 2 in plumb at 4:12 is 1.897 in."""
    roof = solved(rafters={"seat_depth": "2 in"})
    (found,) = findings(roof, "birdsmouth")
    assert found.kind is FindingKind.RULE
    assert found.passed is False
    assert roof.members["R-S-01"].rule_passes is False
    assert (
        findings(solved(rafters={"seat_depth": "1.875 in"}), "birdsmouth")[0].passed
        is None
    )


def test_taper_and_tail_rules():
    """R802.7.1.2: 2.39 in off a 2x8 is over 1.8125; R802.7.1.1: 2x4 tails keep 2.3."""
    (taper,) = findings(low(), "joist_taper")
    assert taper.passed is False
    slender = solved(rafters={"size": "2x4"}, roof={"overhang": "12 in"})
    (tail,) = findings(slender, "rafter_tail")
    assert tail.passed is False
    long = solved(roof={"overhang": "30 in"})
    assert findings(long, "rafter_tail")[0].passed is False
    assert findings(solved(roof={"overhang": "24 in"}), "rafter_tail")[0].passed is None
