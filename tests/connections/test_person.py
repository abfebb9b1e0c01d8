"""A person of 300 lb anywhere: simple beams by hand, whole roofs by brute force."""

import numpy as np
import pytest
from loadfall.solver.analysis import LoadSet
from loadfall.solver.analysis import solve as solve_frame
from loadfall.solver.units import FOOT, INCH, POUND, POUND_FOOT, PSI
from loadfall.solver.verdict import person
from loadfall.solver.verdict.person import person_rows

from .roofs import solved

P = 300 * POUND


def rows(solution):
    found = person_rows(
        solution.framing, solution.model, solution.frame, solution.checked.result,
        solution.combinations.row("D"),
    )  # fmt: skip
    return {
        solution.model.members[member]: {
            name: values[n] for name, values in vars(found).items()
        }
        for n, member in enumerate(found.member)
    }


@pytest.fixture(scope="module")
def plain():
    """Joists of 24 ft between the plates, 5 psf on them, nothing else near."""
    return solved(loads={"person": True})


def test_simple_joist_by_hand(plain):
    """2x8, 24 ft, 10 plf: M = 10 x 24^2 / 8 + 300 x 24 / 4 = 720 + 1800 lb-ft.

    S = 13.14 in3; Fb' = 875 x 1.2 x 1.25 = 1312.5 psi, no C_r; shear 120 + 300 lb at
    Fv' = 135 x 1.25.
    """
    joist = rows(plain)["CJ-01-1"]
    assert joist["moment_dead"] / POUND_FOOT == pytest.approx(720, rel=1e-6)
    assert joist["moment_person"] / POUND_FOOT == pytest.approx(1800, rel=1e-6)
    assert joist["station"] / FOOT == pytest.approx(12, rel=1e-9)
    assert joist["stands"] / FOOT == pytest.approx(12, rel=1e-9)
    S = 1.5 * 7.25**2 / 6
    assert joist["bending"] == pytest.approx(2520 * 12 / S / 1312.5, rel=1e-6)
    assert joist["bending_capacity"] / PSI == pytest.approx(1312.5, rel=1e-9)
    V = 1.5 * 420 / (1.5 * 7.25) / (135 * 1.25)
    assert joist["shear"] == pytest.approx(V, rel=1e-6)


def test_a_rafter_bends_by_the_part_square_to_it(plain):
    """12 ft on plan at 4:12: 300 lb at mid-length bend it by 300 x 12 / 4 = 900 lb-ft.

    On plan the lever arm is level, so the slope drops out; dead load is 20 plf on plan.
    """
    rafter = rows(plain)["R-S-01"]
    assert rafter["moment_person"] / POUND_FOOT == pytest.approx(900, rel=1e-6)
    assert rafter["moment_dead"] / POUND_FOOT == pytest.approx(20 * 144 / 8, rel=1e-6)


def test_it_is_a_check_where_the_brief_asks_for_it(plain):
    quiet = solved()
    assert "person" not in quiet.members["CJ-01-1"].by_check
    m = plain.members["CJ-01-1"]
    joist = rows(plain)["CJ-01-1"]
    assert m.by_check["person"] == pytest.approx(joist["bending"], rel=1e-12)
    assert m.governing_check == "person"
    assert "300 lb" in m.clause
    assert (
        plain.members["PL-S"].by_check is None
        or not plain.members["PL-S"].by_check["person"]
    )


def braced(**changes):
    return solved(
        roof={"overhang": "12 in", "pitch": "6:12"},
        walls=[{"name": "w", "start": ["0 ft", "14 ft"], "end": ["6 ft", "14 ft"]}],
        purlins=[{"name": n, "slope": s, "size": "2x6", "from_plate": "5 ft"}
                 for n, s in (("S", "south"), ("N", "north"))],
        struts=[{"purlin": n, "spacing": "2 ft", "start": "2 ft", "end": "4 ft",
                 "foot": {"on": "ceiling_joist"}} for n in "SN"],
        **changes,
    )  # fmt: skip


def with_person_at(solution, key, joint):
    """The frame solved again under dead load and a person on a joint of a member."""
    model, dead = solution.model, solution.combinations.row("D")
    node = solution.framing.members[key].nodes[joint]
    factors = solution.combinations.factors[dead]
    load = np.tensordot(factors, model.loads.element_load, 1)[None]
    point = np.tensordot(factors, model.loads.node_load, 1)[None].copy()
    point[0, node, 2] -= P
    return solve_frame(model.frame, LoadSet(("D+P",), load, point), np.ones((1, 1)))


@pytest.mark.parametrize(
    ("key", "joint"), [("CJ-01-1", 1), ("R-S-01", 2), ("R-N-02", 2), ("CJ-02-2", 1)]
)
def test_person_on_a_joint_by_brute_force(key, joint):
    """Over the strut's foot and over the purlin, where the whole roof takes part."""
    roof = braced()
    brute = with_person_at(roof, key, joint)
    dead = roof.combinations.row("D")
    elements, n = roof.model.rows_of(key), roof.model.members.index(key)
    again = brute.stations(9).M_strong[0, elements, 0]
    own = roof.frame.stations(9).M_strong[dead, elements, 0]
    run = person._Run(roof.model, roof.frame, roof.checked.result, dead)
    over, line = run.lines(brute, [(n, 0)])[n]
    found = over + P * line[:, 9 * joint]  # the joint: first point of its element
    assert found[:-1] == pytest.approx(again, abs=1e-6 * P * FOOT)
    assert np.abs(again - own).max() > 10 * POUND_FOOT


def test_worst_place_is_no_better_than_any_joint():
    roof = braced()
    worst = rows(roof)
    for key, joint in [("CJ-01-1", 1), ("R-S-01", 2), ("R-S-01", 1)]:
        brute = with_person_at(roof, key, joint)
        elements = roof.model.rows_of(key)
        M = np.abs(brute.stations(9).M_strong[0, elements]).max()
        own = worst[key]
        S = roof.checked.result.table.section_modulus[roof.model.members.index(key)]
        assert own["bending"] >= M / S / own["bending_capacity"] * (1 - 1e-6)


def test_a_strut_that_goes_slack_leaves_the_joist_alone():
    """The strut's foot lifts: 10 plf and 300 lb on 14 ft, 245 + 1050 lb-ft by hand.

    In the state of the dead load alone the strut would seem to hold the joist up.
    """
    roof = braced()
    dead = roof.combinations.row("D")
    n = roof.model.members.index("CJ-01-1")
    run = person._Run(roof.model, roof.frame, roof.checked.result, dead)
    kept = run.worst(run.lines(roof.frame, [(n, dead)]))
    joist = rows(roof)["CJ-01-1"]
    together = joist["moment_dead"] + joist["moment_person"]
    assert together / POUND_FOOT == pytest.approx(1295, rel=2e-3)
    assert kept.bending[0] < 0.8 * joist["bending"]


def test_a_tail_carries_the_person_as_a_cantilever():
    """12 in of overhang on plan: 300 lb at its end hog 300 lb-ft over the plate."""
    roof = braced(rafters={"size": "2x12"})
    tail = rows(roof)["R-S-01"]
    assert tail["bending"] > 0
    n = roof.model.members.index("R-S-01")
    dead = roof.combinations.row("D")
    run = person._Run(roof.model, roof.frame, roof.checked.result, dead)
    _, line = run.lines(roof.frame, [(n, dead)])[n]
    assert line[1, 0] == pytest.approx(-12 * INCH, rel=1e-6)


def test_more_members_than_fit_at_once_change_nothing(monkeypatch):
    roof = braced()
    whole = rows(roof)
    monkeypatch.setattr(person, "_AT_ONCE", 1)
    for key, row in rows(roof).items():
        for name, value in row.items():
            assert value == pytest.approx(whole[key][name], rel=1e-12, abs=1e-9), name


def test_a_stronger_joist_is_used_less():
    light, heavy = (
        rows(solved(ceiling_joists={"size": size}))["CJ-01-1"]["bending"]
        for size in ("2x6", "2x8")
    )
    assert heavy < light


def test_jacks_and_hips_carry_a_person_too():
    """A jack from plate to hip is a simple span on plan: 300 lb bend it by P L / 4."""
    roof = solved(
        footprint={"length": "40 ft", "width": "28 ft"},
        roof={"form": "hip", "pitch": "6:12"}, loads={"person": True},
    )  # fmt: skip
    found = rows(roof)
    kinds = {roof.members[key].role for key in found}
    assert {"rafter", "jack_rafter", "hip_rafter", "ceiling_joist"} <= kinds
    for key, row in found.items():
        record = roof.members[key]
        assert record.by_check["person"] == pytest.approx(
            max(row["bending"], row["shear"]), rel=1e-9
        )
    jack = next(k for k in found if roof.members[k].role == "jack_rafter")
    ends = roof.framing.ends(jack)
    level = float(np.hypot(*(ends[1] - ends[0])[:2]))
    assert found[jack]["moment_person"] == pytest.approx(P * level / 4, rel=0.02)
