"""Drawn outlines solved whole: balance, exact shares, and who holds what."""

import numpy as np
import pytest
from loadfall.solver.brief import example_text, parse_brief, read_brief
from loadfall.solver.framing.cuts import end_cuts
from loadfall.solver.framing.planes import area_of
from loadfall.solver.solve import solve
from loadfall.solver.trace.reactions import reactions
from loadfall.solver.units import FOOT, INCH, POUND, PSF
from loadfall.solver.verdict.model import Verdict

from ..analysis import peers
from ..framing.test_outline_purlins import RING, STRUTS
from ..outlines import outline

BEAM = {"kind": "beam", "size": "3.5x16", "species": "LVL", "grade": "2.0E"}


@pytest.fixture(scope="module", params=["L", "Z", "U", "T", "drawn", "L on struts"])
def roof(request):
    name, _, struts = request.param.partition(" on ")
    brief = outline(name, ridge=BEAM)
    if struts:
        brief |= {"purlins": [RING], "struts": [STRUTS]}
    return solve(read_brief(brief))


def test_loads_and_reactions_balance(roof):
    assert not roof.refusal
    assert not roof.path.faults
    for name in ("D", "D+Lr"):
        flow = roof.flow(name)
        assert flow.ground_imbalance < 1e-10
        assert flow.imbalance < 1e-10


def test_shares_of_every_patch_add_to_one(roof):
    assert roof.shares().error < 1e-8


def test_what_keeps_the_house_from_drifting_takes_no_thrust(roof):
    total = np.abs(roof.loads.load[..., 2]).max()
    soft = [row for row in roof.model.ground if row.is_soft]
    force = np.abs(roof.frame.link_force[:, [row.link for row in soft]])
    assert force.max() < 100 * total


def test_without_joists_nothing_ties_the_commons():
    solution = solve(read_brief(outline("L", ceiling_joists=None)))
    assert solution.overall is Verdict.NO_LOAD_PATH
    assert {"R-S1-08", "R-E1-10"} <= set(solution.path.untied_rafters)


@pytest.mark.parametrize("name", ["L", "bay", "drawn", "L on struts"])
def test_opensees_agrees_on_a_drawn_outline(name):
    """Every displacement, end force and reaction, to 1e-6 of the largest."""
    name, _, struts = name.partition(" on ")
    braces = [{"under": "HP-1", "at": 1.0, "foot": {"on": "point"}}]
    brief = outline(name, ridge=BEAM, hip_braces=braces)
    if struts:
        brief |= {"purlins": [RING], "struts": [STRUTS]}
    roof = solve(read_brief(brief))
    peers.agrees_with_opensees(roof)


def test_hip_and_valley_of_an_l_by_hand():
    """Worked on paper: pitches of 45 degrees on plan, run 12 ft, 30 psf on plan.

    Statics of a triangle of load. Each jack hands half its load to the hip or valley
    and half to the plate or the ridge. Two planes of 12 ft by 12 ft / 2 meet on the
    line, so half of 144 sq ft rests on it: 72 sq ft x 30 psf = 2160 lb. A hip's
    triangle grows up to the ridge: a third, 720 lb, arrives at the corner. A valley's
    is widest at its foot: two thirds, 1440 lb, arrive there. The largest moment of
    either is 0.12830 W L = 0.12830 x 2160 lb x 16.971 ft = 4703 lb ft.
    """
    loads = {"roof_dead": "30 psf", "roof_dead_on": "plan", "roof_live": "0 psf",
             "ceiling_dead": "0 psf", "self_weight": False}  # fmt: skip
    roof = solve(read_brief(outline("L", loads=loads)))
    n = roof.hand.combinations.index("D")
    for key, foot, top in (("HP-1", 720, 1440), ("VL-5", 1440, 720)):
        hand = roof.hand.hips.hips[key]
        assert hand.jack_load[n] / POUND == pytest.approx(2160, rel=1e-6)
        found = hand.reactions[n] / POUND
        assert found == pytest.approx([foot, top], rel=1e-6)
        assert hand.moment[n] / (POUND * FOOT) == pytest.approx(4703, rel=2e-4)
        ends = roof.framing.form.lines[roof.framing.plan.lines[key]]
        assert ends.run / FOOT == pytest.approx(16.971, rel=1e-4)


@pytest.mark.parametrize("name", ["L", "T", "U", "Z", "cross"])
def test_jacks_bring_a_line_the_load_that_hands_find(name):
    """What rests on a line directly, and half of what rests on its jacks.

    The strips of the analysis are cut between rafters, those by hand are not.
    """
    loads = {"roof_dead": "30 psf", "roof_dead_on": "plan", "roof_live": "0 psf",
             "ceiling_dead": "0 psf", "self_weight": False}  # fmt: skip
    brief = outline(name, loads=loads, roof={"pitch": "6:12", "overhang": "0 in"})
    brief["rafters"] = {"size": "2x8", "spacing": "12 in"}
    roof = solve(read_brief(brief))
    n = roof.hand.combinations.index("D")
    area = {}
    for key, part in zip(roof.loads.member, roof.loads.plan_area, strict=True):
        area[key] = area.get(key, 0) + part
    onward = {e.line for e in roof.framing.plan.extensions}
    for key, hand in roof.hand.hips.hips.items():
        if roof.framing.plan.lines[key] in onward:
            continue  # it carries more above where the valleys meet
        member = roof.framing.members[key]
        inner = {k for node in member.nodes[1:-1] for k in roof.framing.by_node[node]}
        jacks = [k for k in inner if k[0] in "RJ"]
        total = area[key] + sum(area[k] / 2 for k in jacks)
        by_hand = hand.jack_load[n] / (30 * PSF)
        assert total == pytest.approx(by_hand, rel=0.12, abs=0.7), key


def test_a_post_under_the_ridge_end_takes_load_off_the_hips():
    bare = solve(read_brief(outline("L", ridge=BEAM)))
    braces = [{"under": "VL-5", "at": 1.0, "foot": {"on": "point"}}]
    held = solve(read_brief(outline("L", ridge=BEAM, hip_braces=braces)))
    assert held.members["HB-VL-5-01"].axial < 0
    for key in ("VL-5", "HP-2"):
        assert held.members[key].utilisation < bare.members[key].utilisation


def test_snow_drifts_on_planes_of_an_outline_keep_their_total():
    """Balanced snow weighs its pressure times the plan with its overhangs."""
    snow = {"snow": {"ground": "30 psf"}, "self_weight": False}
    roof = solve(read_brief(outline("L", loads=snow, ridge=BEAM)))
    case = roof.model.loads.names.index("S")
    ends = roof.framing.points[roof.loads.nodes]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    total = -(roof.loads.load[case, :, 2] * length).sum()
    plan = sum(area_of(p.overhang3[:, :2]) for p in roof.framing.form.planes)
    assert total == pytest.approx(roof.loads.pressures.snow.balanced * plan)
    assert {"SuS", "SuE"} <= set(roof.model.loads.names)
    assert roof.flow().ground_imbalance < 1e-10


def test_unequal_pitches_balance_and_cut_deeper_where_steeper():
    """Over 9:12 beside 6:12 all tops start at one height: the steeper seat is deeper.

    By hand for a 2x8: 7.25 in x 1.1180 - 1.25 in = 6.856 in of height over the plate;
    at 9:12 the cut square to the rafter is 7.25 in - 6.856 in / 1.25 = 1.765 in.
    """
    pitches = {0: "9:12", 2: "8:12", 4: "9:12"}
    roof = solve(read_brief(outline("L", pitches=pitches, ridge=BEAM)))
    assert not roof.refusal
    assert not roof.path.faults
    assert roof.flow().ground_imbalance < 1e-10
    assert roof.shares().error < 1e-8
    left = {cut.member: cut.remaining for cut in end_cuts(roof.brief, roof.framing)}
    steep = next(k for k in left if k.startswith("R-S1"))
    assert 7.25 - left[steep] / INCH == pytest.approx(1.765, abs=0.001)
    flat = next(k for k in left if k.startswith("R-E1"))
    assert 7.25 - left[flat] / INCH == pytest.approx(1.25 / 1.1180, abs=0.001)


def test_the_example_over_an_outline_reads_and_stands():
    roof = solve(parse_brief(example_text(outline=True)))
    assert not roof.refusal
    assert not roof.path.faults


def test_a_brace_under_a_valley_by_hand():
    """As the valley of 16.971 ft above, braced at its middle; three moments.

    Its load falls from w0 = 2 W / L at the foot to nothing at the ridge, W = 2160 lb
    over two spans of l = 8.4853 ft. Over the brace 2 M (2 l) = -(A + B), with 6 a / l
    of a uniform load w l^3 / 4, of a triangle 7 w l^3 / 60 beside its low and 8 w l^3 /
    60 beside its high end: the lower span has w0 / 2 all along and w0 / 2 falling to
    the brace, the upper one w0 / 2 falling away from it.
    """
    loads = {"roof_dead": "30 psf", "roof_dead_on": "plan", "roof_live": "0 psf",
             "ceiling_dead": "0 psf", "self_weight": False}  # fmt: skip
    brace = {"under": "VL-5", "at": 0.5, "foot": {"on": "point"}}
    roof = solve(read_brief(outline("L", loads=loads, hip_braces=[brace])))
    n = roof.hand.combinations.index("D")
    w0, span = 2 * 2160 / 16.971, 16.971 / 2
    half = w0 / 2
    A = half * span**3 * (1 / 4 + 7 / 60)
    B = half * span**3 * 8 / 60
    M = -(A + B) / (4 * span)
    low = half * span / 2 + half * span / 6 - M / span
    high = half * span / 3 - M / span
    found = roof.hand.hips.braces["HB-VL-5-01"]
    assert found.vertical[n] / POUND == pytest.approx(low + high, rel=1e-3)
    hand = roof.hand.hips.hips["VL-5"]
    assert hand.moment_over_brace[n] / (POUND * FOOT) == pytest.approx(-M, rel=1e-3)
    assert hand.reactions[n].sum() / POUND == pytest.approx(2160, rel=1e-4)


def test_a_post_at_the_top_takes_what_all_lines_bring_there():
    """At (28, 12) of the L the hip HP-2 and the valley VL-5 end: 1440 + 720 lb."""
    loads = {"roof_dead": "30 psf", "roof_dead_on": "plan", "roof_live": "0 psf",
             "ceiling_dead": "0 psf", "self_weight": False}  # fmt: skip
    brace = {"under": "VL-5", "at": 1.0, "foot": {"on": "post", "name": "A"}}
    post = {"name": "A", "at": ["28 ft", "12 ft"]}
    brief = outline("L", loads=loads, hip_braces=[brace], posts=[post])
    roof = solve(read_brief(brief))
    n = roof.hand.combinations.index("D")
    found = roof.hand.hips.braces["HB-VL-5-01"]
    assert found.vertical[n] / POUND == pytest.approx(2160, rel=1e-3)
    up = reactions(roof)["F-A"][0][roof.combinations.row("D")]
    assert up > 0
