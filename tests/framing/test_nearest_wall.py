"""Braces that find their own foot: the nearest bearing wall that the rule allows.

Source of the rule: IRC 2018 R802.4.5 (45 degrees, 8 ft unbraced, a bearing wall). The
places are computed by hand in each test.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import frame_roof
from loadfall.solver.framing.landing import legal_reach, nearest_landing
from loadfall.solver.framing.struts import is_held_at_mid
from loadfall.solver.report.results import results
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT
from loadfall.solver.verdict.model import Verdict

from ..solve.houses import COTTAGE, changed

SPINE = COTTAGE["walls"][0]
NEAREST = {"on": "nearest_wall"}


def house(from_plate="9 ft", foot=None, **parts):
    """The cottage, 26 ft wide at 6:12, its purlins and feet as asked."""
    purlins = [p | {"from_plate": from_plate} for p in COTTAGE["purlins"]]
    struts = [{"purlin": p, "spacing": "4 ft", "foot": foot or NEAREST} for p in "SN"]
    return read_brief(
        changed(COTTAGE, **({"purlins": purlins, "struts": struts} | parts))
    )


def strut(brief, key):
    framing = frame_roof(brief)
    return framing.members[key], *framing.ends(key)


def test_each_stands_on_the_wall_straight_across():
    """9 ft from the plate the purlin is 4.5 ft high, the spine 4 ft aside: 48.4 deg."""
    member, foot, top = strut(house(), "ST-S-03")
    assert foot / FOOT == pytest.approx([10, 13, 0])
    assert (top - foot) / FOOT == pytest.approx([0, -4, 4.5])
    assert not member.held


def test_over_a_gap_it_leans_along_the_wall_to_where_that_stands():
    """Gap from 12 to 18 ft: from 14 ft it goes 2 ft aside, run 4.472 ft of 4.5 ft.

    From 15 ft it would be 5 ft, flatter than 45 degrees: no legal foot.
    """
    gap = [{"start": "12 ft", "end": "18 ft"}]
    brief = house(walls=[SPINE | {"openings": gap}])
    _, foot, top = strut(brief, "ST-S-04")
    assert top[0] / FOOT == pytest.approx(14)
    assert foot / FOOT == pytest.approx([12, 13, 0])
    at_15 = nearest_landing(brief, np.array([15, 9, 4.5]) * FOOT)
    assert not at_15.legal
    assert at_15.run / FOOT == pytest.approx(5)


def test_a_long_one_gets_a_lateral_brace():
    """12:12, 10 ft from the plate: 10 ft high and 3 ft aside, 10.44 ft long."""
    brief = house("10 ft", roof={"pitch": "12:12"})
    member, foot, top = strut(brief, "ST-S-01")
    assert np.linalg.norm(top - foot) / FOOT == pytest.approx(math.hypot(10, 3))
    assert member.held
    assert is_held_at_mid(brief, member)
    found = solve(brief)
    rules = {f.rule: f for f in found.findings if "ST-S-01" in f.members}
    assert rules["brace_length"].passed
    assert rules["brace_angle"].passed
    assert rules["brace_foot"].passed


def test_where_none_is_legal_it_says_so_and_stands_on_nothing():
    """6.5 ft from the plate: 3.25 ft high, 6.5 ft aside, 26.6 degrees."""
    found = solve(house("6 ft 6 in"))
    assert found.overall is Verdict.NO_LOAD_PATH
    reason = found.members["ST-S-01"].reason
    assert "spine, lies 6' 6\" aside: 27 degrees from level where 45 is asked" in reason


def test_otherwise_it_lands_on_the_joists_as_if_stated_so():
    """The consequence is shown: the same roof as with struts stated on the joists."""
    found = solve(house("6 ft 6 in", NEAREST | {"otherwise": "ceiling_joist"}))
    stated = solve(house("6 ft 6 in", {"on": "ceiling_joist"}))
    for key, member in stated.members.items():
        assert found.members[key].utilisation == member.utilisation
    assert found.members["ST-S-01"].rule_passes is False


def test_otherwise_it_lands_on_the_nearest_beam():
    beams = [
        {"name": name, "size": "2x12", "plies": 2, "carries_joists": False,
         "start": ["0 ft", f"{y} ft"], "end": ["32 ft", f"{y} ft"]}
        for name, y in (("a", 7), ("b", 20))
    ]  # fmt: skip
    foot = NEAREST | {"otherwise": "beam"}
    _, foot, _ = strut(house("6 ft 6 in", foot, beams=beams), "ST-S-02")
    assert foot / FOOT == pytest.approx([6, 7, 0])


def test_results_and_findings_name_the_nearest_legal_landing():
    """Struts on joists at 9 ft: the spine is legal, 4 ft from each foot."""
    found = solve(house(foot={"on": "ceiling_joist"}))
    landing = results(found)["struts"]["ST-S-01"]["landing"]
    assert landing["legal"] is True
    assert landing["wall"] == "spine"
    assert landing["from_foot"] == pytest.approx(4)
    assert landing["angle"] == pytest.approx(math.degrees(math.atan2(4.5, 4)))
    assert landing["length"] == pytest.approx(math.hypot(4.5, 4))
    broken = next(
        f for f in found.findings
        if f.rule == "brace_foot" and "ST-S-01" in f.members
    )  # fmt: skip
    assert (
        "The nearest legal landing is wall spine, 4' 0\" from this foot" in broken.words
    )
    none = solve(house("6 ft 6 in", {"on": "ceiling_joist"}))
    landing = results(none)["struts"]["ST-S-01"]["landing"]
    assert landing["legal"] is False
    assert "27 degrees" in landing["why_not"]
    assert any("It has no legal landing" in f.words for f in none.findings)


@pytest.mark.parametrize(
    ("foot", "field"),
    [
        ({"name": "spine"}, "name"),
        ({"from_plate": "3 ft"}, "from_plate"),
        ({"at": ["3 ft", "3 ft"]}, "at"),
        ({"otherwise": "beam"}, "otherwise"),
    ],
)
def test_it_takes_no_place_of_its_own(foot, field):
    with pytest.raises(BriefError) as caught:
        house(foot=NEAREST | foot)
    assert caught.value.field == f"struts[0].foot.{field}"


@settings(max_examples=200, deadline=None, derandomize=True)
@given(
    st.floats(0, 32), st.floats(0.5, 25.5), st.floats(0.5, 12),
    st.floats(1, 14), st.floats(16, 30),
)  # fmt: skip
def test_no_point_of_the_wall_is_nearer_or_legal_where_none_is_found(
    x, y, z, low, high
):
    """Against every inch of the wall, tried one by one."""
    gap = [{"start": f"{low} ft", "end": f"{high} ft"}]
    brief = house(walls=[SPINE | {"openings": gap}], foot={"on": "ceiling_joist"})
    top = np.array([x, y, z]) * FOOT
    found = nearest_landing(brief, top)
    u = np.arange(0, 32.0001, 1 / 12)
    u = u[(u <= low) | (u >= high)]
    run = np.hypot(u - x, 13 - y) * FOOT
    assert found.run <= run.min() + 1e-9
    length = np.hypot(run, z * FOOT)
    legal = (run <= z * FOOT + 1e-12) & (length <= 16 * FOOT)
    assert found.legal or not legal.any()
    bare = (run <= z * FOOT) & (length <= 8 * FOOT)
    assert not (found.held and bare.any())


def test_the_reach_by_hand():
    """3 ft high: 3 ft by angle. 7 ft high: sqrt(64 - 49) = 3.873 ft by length."""
    assert legal_reach(3 * FOOT) / FOOT == pytest.approx(3)
    assert legal_reach(7 * FOOT) / FOOT == pytest.approx(math.sqrt(15))
    assert legal_reach(9 * FOOT) < 0
    assert legal_reach(9 * FOOT, held=True) / FOOT == pytest.approx(9)
