"""Joints of whole roofs, each against its own statics by hand."""

import math

import numpy as np
import pytest
from loadfall.solver.connections import JointKind, heel_stiffness
from loadfall.solver.errors import BriefError
from loadfall.solver.units import FOOT, INCH, POUND, PSF

from .roofs import joint, solved

SNOW_AND_DEAD = "D+S"


def row(solution, name=SNOW_AND_DEAD):
    return solution.combinations.row(name)


@pytest.mark.parametrize(
    ("pitch", "height", "force", "nails"),
    [
        ("4:12", 0.0, 1440, 11), ("4:12", 1 / 3, 2160, 16),
        ("12:12", 0.0, 480, 4), ("12:12", 1 / 3, 720, 6),
    ],
)  # fmt: skip
def test_nails_of_ties(pitch, height, force, nails):
    """40 psf on plan, 24 ft, 24 in: tie forces are published, 138 lb a nail.

    w W^2 / 8 (h - e) with w = 80 plf; see the worked case on ties and thrust.
    """
    ties = {"size": "2x8", "height_ratio": height, "spacing": "24 in"}
    roof = solved(
        roof={"pitch": pitch}, rafter_ties=ties, ceiling_joists=None,
        loads={"ceiling_dead": "0 psf"},
    )  # fmt: skip
    for key in ["HEEL-S-01", "HEEL-N-01"] if not height else ["END-RT-01-S"]:
        found = joint(roof, key)
        assert found.lateral[row(roof)] / POUND == pytest.approx(force, rel=1e-6)
        assert found.combination == SNOW_AND_DEAD
        assert found.needed == nails
        assert found.each.reference.mode == "IV"


def test_each_combination_has_its_own_duration():
    """Dead load alone asks for a quarter of the force at 0.9 / 1.15 of the value."""
    roof = solved()
    found = joint(roof, "HEEL-S-01")
    dead, all_ = row(roof, "D"), row(roof)
    assert found.lateral[dead] / found.lateral[all_] == pytest.approx(10 / 40)
    assert found.each.lateral[dead] / found.each.lateral[all_] == pytest.approx(
        0.9 / 1.15
    )


def test_the_rule_asks_for_three_where_statics_ask_for_less():
    roof = solved(roof={"pitch": "24:12"}, loads={"snow": {"roof": "0 psf"}})
    found = joint(roof, "HEEL-S-01")
    assert found.by_force == 1
    assert found.needed == 3


def test_the_lap_hands_the_same_force_on():
    """R802.5.2.1: nothing but the two heels pulls on the line of joists."""
    wall = {"name": "spine", "start": ["0 ft", "12 ft"], "end": ["6 ft", "12 ft"]}
    roof = solved(walls=[wall], heel_joint={"count": 11, "lap_count": 6})
    heel, lap = joint(roof, "HEEL-S-01"), joint(roof, "LAP-01-1")
    assert lap.lateral == pytest.approx(heel.lateral, rel=1e-9)
    assert lap.members == ("CJ-01-1", "CJ-01-2")
    assert (heel.needed, heel.passes, lap.needed, lap.passes) == (11, True, 11, False)
    assert lap.utilisation == pytest.approx(1440 / (6 * 137.5), rel=0.001)
    assert "11 16d common face-nailed, side grain needed, 6 stated" in lap.words


def test_too_few_nails_put_the_roof_over_its_limit():
    """The rafters themselves are kept out of it: 2x12 at 12 in carry 40 psf."""
    strong = {
        "rafters": {"size": "2x12", "spacing": "12 in"},
        "ceiling_joists": {"size": "2x12", "spacing": "12 in", "grade": "No.1"},
        "walls": [{"name": "w", "start": ["0 ft", "12 ft"], "end": ["6 ft", "12 ft"]}],
    }
    enough = solved(**strong, heel_joint={"count": 6})
    few = solved(**strong, heel_joint={"count": 5})
    assert joint(enough, "HEEL-S-01").needed == 6
    assert enough.overall == "breaks the rule but passes by analysis"  # the ridge
    assert few.overall == "over its limit"
    assert few.members == enough.members


def leaning(**foot):
    """A roof whose struts lean from the purlin to a wall 3 ft further in."""
    wall = {"name": "inner", "start": ["0 ft", "9 ft"], "end": ["6 ft", "9 ft"]}
    return solved(
        roof={"pitch": "6:12"},
        walls=[wall],
        purlins=[{"name": "S", "slope": "south", "size": "2x8", "from_plate": "6 ft"}],
        struts=[{"purlin": "S", "spacing": "2 ft", "start": "2 ft", "end": "4 ft",
                 "foot": {"on": "wall", "name": "inner"}, **foot}],
    )  # fmt: skip


def test_a_leaning_strut_pushes_on_its_toe_nails():
    """Purlin 6 ft in and 3 ft up, wall at 9 ft: 45 degrees, so push = N / sqrt 2."""
    roof = leaning(foot_nails=4)
    element = roof.model.rows_of("ST-S-01").start
    N = -roof.checked.stations.N[row(roof), element, 0]
    foot, top = joint(roof, "FOOT-ST-S-01"), joint(roof, "TOP-ST-S-01")
    assert N > 100 * POUND
    assert foot.lateral[row(roof)] == pytest.approx(N / math.sqrt(2), rel=1e-6)
    assert top.lateral == pytest.approx(foot.lateral, rel=0.01)
    assert foot.members == ("ST-S-01", "W-inner")
    asked = N / math.sqrt(2) / (95.80 * 0.83 * 1.15 * POUND)
    assert foot.needed == math.ceil(asked)
    assert foot.utilisation == pytest.approx(asked / 4, rel=1e-3)
    assert top.stated is None
    assert top.passes is None


def test_a_plumb_strut_needs_no_nails_for_its_push():
    roof = solved(
        purlins=[{"name": "S", "slope": "south", "size": "2x8", "from_plate": "6 ft"}],
        struts=[{"purlin": "S", "spacing": "4 ft", "foot": {"on": "ceiling_joist"}}],
    )
    foot = joint(roof, "FOOT-ST-S-01")
    assert foot.needed == 0
    assert "plumb" in foot.note


def test_wind_lifts_the_rafter_off_its_plate():
    """0.6 x 40 psf up, 0.6 x 10 psf down, on 24 in; 12:5, so numbers are round.

    Square to the slope 24 psf on 13 ft lifts 12/13 of itself: 24 x 2 x 12 = 576 lb;
    dead on plan 6 x 2 x 12 = 144 lb. Both pairs alike: the ridge carries nothing, so
    432 lb leave each rafter at its plate.
    """
    roof = solved(
        roof={"pitch": "5:12"},
        loads={"wind_uplift": "40 psf", "snow": {"roof": "0 psf"}},
    )
    found = joint(roof, "PLATE-R-S-01")
    assert found.combination == "0.6D+0.6W"
    up = found.withdrawal[found.worst] / POUND
    assert up == pytest.approx(432, rel=1e-6)
    one = 1380 * 0.42**2.5 * 0.148 * (3 * math.cos(math.pi / 6) - 1) * 0.67 * 1.6
    assert found.lateral[found.worst] / POUND == pytest.approx(0, abs=1e-3)
    assert found.needed == math.ceil(432 / one)
    ridge = joint(roof, "RIDGE-01")
    assert ridge.withdrawal[ridge.worst] > 100 * POUND


def test_ties_that_are_sparse_let_the_plate_carry_the_thrust():
    ties = {"size": "2x8", "height_ratio": 0.0, "spacing": "4 ft"}
    roof = solved(
        footprint={"length": "8 ft"}, rafter_ties=ties, ceiling_joists=None,
    )  # fmt: skip
    own = joint(roof, "PLATE-R-S-01")
    assert own.lateral[row(roof)] / POUND == pytest.approx(1440, rel=0.02)
    pull = sum(
        joint(roof, f"HEEL-S-{k:02d}").lateral[row(roof)] for k in (0, 2, 4)
    )  # all thrust of 8 ft of roof ends in three ties
    assert pull / POUND == pytest.approx(720 * 8, rel=1e-6)


def test_a_nail_too_short_to_count_is_said_and_not_guessed():
    """Two pieces of 3.5 in with 16d nails: none reaches through to the other."""
    roof = solved(
        heel_joint={"count": 5},
        overrides=[{"member": "CJ-01-1", "size": "4x8"},
                   {"member": "R-S-01", "size": "4x8"}],
    )  # fmt: skip
    found = joint(roof, "HEEL-S-01")
    assert found.each is None
    assert found.needed is None
    assert found.passes is None
    assert "too short" in found.words


def test_a_nail_too_short_for_every_heel_is_refused_by_name():
    with pytest.raises(BriefError, match=r"heel_joint\.nail.*6 diameters"):
        solved(ceiling_joists={"size": "4x8"}, rafters={"size": "4x8"})


def test_a_thick_tie_is_nailed_through_the_rafter():
    roof = solved(ceiling_joists={"size": "4x8"})
    assert joint(roof, "HEEL-S-01").needed == joint(solved(), "HEEL-S-01").needed


def test_joints_balance_with_the_thrust_of_the_hand_method():
    roof = solved()
    found = joint(roof, "HEEL-S-01")
    names = roof.hand.combinations
    for name, force in zip(names, roof.hand.thrust.tie_force, strict=True):
        assert found.lateral[row(roof, name)] == pytest.approx(force, rel=1e-6)
    assert found.needed == roof.hand.thrust.nails_needed


def test_slip_lets_the_ridge_down():
    """Three hinges: each heel gives T / K, so the ridge drops (T / K) run / rise more.

    The tie force is T = 1440 lb either way, since statics alone decide it.
    """
    stiff = solved()
    soft = solved(
        heel_joint={"count": 11, "slip": "stated", "slip_stiffness": "1 kN/mm"}
    )
    ridge = stiff.framing.members["R-S-01"].nodes[-1]
    T = joint(soft, "HEEL-S-01").lateral[row(soft)]
    assert pytest.approx(1440 * POUND, rel=1e-6) == T
    drop = (
        stiff.frame.displacement[row(stiff), ridge, 2]
        - soft.frame.displacement[row(soft), ridge, 2]
    )
    assert drop == pytest.approx(T / 11e6 * (12 / 4), rel=1e-6)
    assert soft.flow().imbalance < 1e-9
    assert soft.shares().error < 1e-9
    assert set(soft.members["CJ-01-1"].by_check) == set(
        stiff.members["CJ-01-1"].by_check
    )
    assert soft.members["CJ-01-1"].by_check["bearing"] == pytest.approx(
        stiff.members["CJ-01-1"].by_check["bearing"]
    )


def test_slip_by_eurocode_5():
    """16d in SPF at our 0.42: K_ser per nail times the nails."""
    roof = solved(heel_joint={"count": 8, "slip": "eurocode_5"})
    values = roof.checked.result.table.values[0]
    one = values.density**1.5 * (0.162 * 25.4) ** 0.8 / 30 * 1e3
    assert heel_stiffness(roof.brief) == pytest.approx(8 * one, rel=1e-9)


def test_soft_heels_over_a_purlin_hand_load_to_the_strut():
    """With a braced purlin the roof is redundant: a softer tie takes less thrust."""
    frames = [
        solved(
            purlins=[{"name": n, "slope": s, "size": "2x8", "from_plate": "6 ft"}
                     for n, s in (("S", "south"), ("N", "north"))],
            struts=[{"purlin": n, "spacing": "2 ft", "start": "0 ft",
                     "foot": {"on": "point"}} for n in "SN"],
            heel_joint=heel,
        )
        for heel in ({}, {"count": 5, "slip": "stated", "slip_stiffness": "200 N/mm"})
    ]  # fmt: skip
    stiff, soft = (joint(roof, "HEEL-S-01").lateral[row(roof)] for roof in frames)
    assert soft < 0.9 * stiff


def test_kinds_and_keys_are_unique():
    roof = leaning()
    keys = [j.key for j in roof.joints]
    assert len(keys) == len(set(keys))
    kinds = {j.kind for j in roof.joints}
    assert {JointKind.HEEL, JointKind.LAP, JointKind.STRUT_FOOT} <= kinds
    assert all(np.isfinite(j.lateral).all() for j in roof.joints)
    assert all((j.lateral >= 0).all() for j in roof.joints)


def test_the_height_of_a_foot_does_not_matter_to_units():
    """The same roof stated in metres gives the same nails."""
    a = solved()
    b = solved(
        footprint={"length": f"{6 * FOOT!r} m", "width": f"{24 * FOOT!r} m"},
        rafters={"spacing": f"{24 * INCH * 1000!r} mm"},
        loads={"snow": {"roof": f"{30 * PSF!r} Pa", "unbalanced": False}},
    )
    assert joint(a, "HEEL-S-01").needed == joint(b, "HEEL-S-01").needed
