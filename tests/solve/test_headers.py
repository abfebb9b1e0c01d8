"""Headers over openings in bearing walls: framed, solved, checked, followed down.

The hand calculation is simple beam statics done on paper; its numbers stand in them.
The code's own header table is checked in `solver/verification/irc_headers.py`.
"""

from __future__ import annotations

import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.report.html import report_html
from loadfall.solver.report.results import results
from loadfall.solver.schedule import cut_pieces, mark_pieces
from loadfall.solver.solve import solve
from loadfall.solver.trace.story import story
from loadfall.solver.units import FOOT, POUND, POUND_FOOT, PSI
from loadfall.solver.verdict.model import Verdict

from .houses import COTTAGE, changed

SPINE = COTTAGE["walls"][0]
ATTIC_ALONE = {"roof_dead": "10 psf", "roof_live": "20 psf", "ceiling_dead": "5 psf",
               "attic_live": "10 psf", "self_weight": False}  # fmt: skip


def opened(start="12 ft", end="18 ft", header=None, **parts):
    """The cottage with a gap in its spine and a header over it."""
    gap = {"start": start, "end": end, "header": header or {}}
    wall = SPINE | {"openings": [gap]}
    return changed(COTTAGE, **({"walls": [wall]} | parts))


def solved(*args, **parts):
    return solve(read_brief(opened(*args, **parts)))


@pytest.fixture(scope="module")
def bare():
    """No purlins and no struts: the header carries ceiling joists alone."""
    return solved(purlins=[], struts=[], loads=ATTIC_ALONE)


def test_bending_shear_and_bearing_by_hand(bare):
    """6 ft opening, joists at 2 ft lapped on it from 13 ft on both sides, D + L 15 psf.

    Joists at 12 and 18 ft stand on the wall. Those at 14 and 16 ft bring
    2 ft x 13 ft x 15 psf = 390 lb each. Middle of bearing to middle of bearing is
    6 ft 1 1/2 in, so a = 2 ft 0 3/4 in: M = 390 x 2.0625 = 804.4 lb ft, V = 390 lb.
    Two 2x8: S = 26.28 in3, fb = 367 psi; A = 21.75 in2, fv = 26.9 psi.
    Bearing on one 2x4 jack: 390 / (1.5 x 3) = 86.7 psi.
    """
    header = bare.members["HD-spine-1"]
    assert header.length == pytest.approx(6.125 * FOOT)
    assert header.moment / POUND_FOOT == pytest.approx(804.4, rel=1e-3)
    assert abs(header.shear) / POUND == pytest.approx(390, rel=1e-3)
    by = bare.checked.result
    row, combo = by.table.keys.index("HD-spine-1"), bare.combinations.row("D+L")
    fb = by.checks["bending"].every[combo, row] * _allowed(by, "bending", row)
    assert fb / PSI == pytest.approx(367, rel=2e-3)
    fp = by.checks["bearing"].every[combo, row] * _allowed(by, "bearing", row)
    assert fp / PSI == pytest.approx(86.7, rel=2e-3)
    for key in ("JS-spine-1-1", "JS-spine-1-2"):
        jack = bare.members[key]
        assert -jack.axial / POUND == pytest.approx(390, rel=1e-3)
        assert jack.stands_on.name == "W-spine"


def _allowed(by, check, row):
    return float(by.checks[check].capacity[row])


def test_sag_by_hand(bare):
    """Two equal loads: P a (3 L2 - 4 a2) / 24 E I = 0.0263 in under D + L.

    P = 390 lb, a = 24.75 in, L = 73.5 in, E = 1.4e6 psi, I = 2 x 47.63 in4.
    """
    P, a, L = 390, 24.75, 73.5
    hand = P * a * (3 * L**2 - 4 * a**2) / (24 * 1.4e6 * 2 * 47.63)
    assert hand == pytest.approx(0.0415, rel=5e-3)
    header = bare.members["HD-spine-1"]
    assert header.sag_now / FOOT * 12 == pytest.approx(hand, rel=1e-2)


def test_what_lands_on_it_goes_by_the_jack_studs_to_the_wall(bare):
    flow = bare.flow("D+L")
    ways = {(h.giver, h.taker) for h in flow.path_down("HD-spine-1")}
    assert ways == {
        ("HD-spine-1", "JS-spine-1-1"), ("HD-spine-1", "JS-spine-1-2"),
        ("JS-spine-1-1", "W-spine"), ("JS-spine-1-2", "W-spine"),
    }  # fmt: skip
    assert flow.ground_imbalance < 1e-9
    told = " ".join(story(bare, "HD-spine-1"))
    assert "is a header: 2 plies of 2x8" in told
    assert "wall spine (100%)" in told


def test_without_a_header_the_joists_over_the_gap_have_no_load_path():
    gap = [{"start": "12 ft", "end": "18 ft"}]
    bare = solve(read_brief(changed(COTTAGE, walls=[SPINE | {"openings": gap}])))
    assert bare.overall is Verdict.NO_LOAD_PATH
    assert solved().overall is not Verdict.NO_LOAD_PATH


def test_a_strut_on_the_header_is_analysed_and_breaks_the_rule():
    """R802.4.5 wants a bearing wall; a header's tables know no single loads."""
    feet = {"on": "wall", "name": "spine"}
    struts = [{"purlin": p, "spacing": "4 ft", "foot": feet} for p in "SN"]
    roof = solved(struts=struts)
    standing = [
        m.key
        for m in roof.members.values()
        if m.stands_on is not None and m.stands_on.name == "HD-spine-1"
    ]
    assert standing == ["ST-S-04", "ST-N-04"]  # 14 ft; 10 and 18 ft are beside it
    light = solved(struts=[]).members["HD-spine-1"]
    assert roof.members["HD-spine-1"].utilisation > 1.5 * light.utilisation
    rules = [roof.findings[n] for n in roof.members["ST-S-04"].findings]
    foot = next(f for f in rules if f.rule == "brace_foot")
    assert foot.passed is False
    assert "header HD-spine-1" in foot.value


def test_a_wide_opening_is_over_its_limit_and_more_plies_mend_it():
    wide = solved("6 ft", "22 ft", {"size": "2x8", "plies": 2})
    assert wide.members["HD-spine-1"].verdict is Verdict.OVER_LIMIT
    lvl = {"size": "1.75x11.875", "species": "LVL", "grade": "2.0E-2600Fb", "plies": 2,
           "jacks": 2}  # fmt: skip
    made = solved("6 ft", "22 ft", lvl)
    assert made.members["HD-spine-1"].utilisation < 1


def test_taken_out_jack_studs_leave_the_header_without_a_load_path():
    gone = solved(overrides=[{"member": "JS-spine-1-2", "removed": True}])
    assert gone.members["HD-spine-1"].verdict is Verdict.NO_LOAD_PATH
    assert "taken out" in gone.members["HD-spine-1"].reason
    assert gone.members["CJ-07-1"].verdict is Verdict.NO_LOAD_PATH


def test_a_header_has_changes_of_its_own():
    own = solved(overrides=[{"member": "HD-spine-1", "plies": 3, "size": "2x10"}])
    assert own.members["HD-spine-1"].plies == 3
    assert own.members["HD-spine-1"].size == "2x10"
    assert not own.framing.dropped_overrides


def test_a_wall_drawn_the_other_way_has_its_header_where_its_gap_is():
    """The gap is measured from the wall's first point."""
    turned = SPINE | {"start": SPINE["end"], "end": SPINE["start"]}
    gap = {"start": "14 ft", "end": "20 ft", "header": {}}
    there = solve(read_brief(changed(COTTAGE, walls=[turned | {"openings": [gap]}])))
    here = solved()
    ours, theirs = (s.members["HD-spine-1"] for s in (here, there))
    assert theirs.moment == pytest.approx(ours.moment)
    assert there.framing.ends("HD-spine-1")[0][0] == pytest.approx(
        here.framing.ends("HD-spine-1")[0][0]
    )


def test_a_beam_may_end_on_a_header():
    beam = {"name": "cross", "size": "2x12", "plies": 2, "carries_joists": False,
            "start": ["15 ft", "13 ft"], "end": ["15 ft", "26 ft"]}  # fmt: skip
    strut = {"purlin": "N", "spacing": "20 ft", "start": "15 ft", "end": "16 ft",
             "foot": {"on": "beam", "name": "cross"}}  # fmt: skip
    roof = solved(beams=[beam], struts=[strut])
    assert not roof.path.faults
    flow = roof.flow("D+Lr")
    assert any(h.taker == "HD-spine-1" for h in flow.path_down("B-cross"))


def test_headers_over_gaps_of_a_wall_across_the_ridge_carry_joists_along_it():
    cross = {"name": "cross", "start": ["16 ft", "0 ft"], "end": ["16 ft", "26 ft"],
             "openings": [{"start": "4 ft", "end": "9 ft", "header": {}}]}  # fmt: skip
    roof = solve(
        read_brief(
            changed(COTTAGE, walls=[cross], purlins=[], struts=[],
                    rafter_ties={"size": "2x6", "height_ratio": 0.05,
                                 "spacing": "24 in"},
                    ceiling_joists={"size": "2x6", "direction": "along",
                                    "spacing": "24 in"})
        )
    )  # fmt: skip
    assert roof.members["HD-cross-1"].utilisation > 0.05
    ways = {h.taker for h in roof.flow("D+L").path_down("HD-cross-1")}
    assert "W-cross" in ways


def test_header_and_jacks_are_in_every_output(bare):
    listed = results(bare)["members"]
    assert listed["HD-spine-1"]["role"] == "header"
    assert listed["JS-spine-1-1"]["stands_on"] == {"kind": "wall", "name": "W-spine"}
    page = report_html(bare)
    assert "HD-spine-1" in page
    marks = {m.name for m in mark_pieces(cut_pieces(bare.brief, bare.framing))}
    assert {name[:2] for name in marks} >= {"HD", "JS"}
