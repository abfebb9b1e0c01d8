"""A solution made from the one before it is the solution made from scratch.

Random roofs and random edits of them: other loads, a strut's foot, a post, another
size. Every figure agrees within 1e-9 of the largest of its kind.
"""

from __future__ import annotations

import copy
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import Phase, assume, event, given, settings
from hypothesis import strategies as st
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.solve import solve
from loadfall.tests.solve import strategies
from loadfall.tests.solve.hip_strategies import roofs
from loadfall.tests.solve.houses import BUNGALOW, COTTAGE, changed
from loadfall.tests.verification.trying import tries

KINDS = (
    ("axial", "shear", "strut_load"),
    ("moment",),
    ("sag_now", "sag_long_term", "sag_dead", "sag_against_neighbour"),
    ("tributary_area",),
    ("length", "sag_span"),
    ("utilisation",),
)
WORDS = ("role", "size", "verdict", "reason", "rule_passes", "stands_on", "findings")
WITHIN = 1e-9


def figures(solution, names):
    """Figures of one kind, (members, names); nan where a member has none."""
    rows = [[getattr(m, n) for n in names] for m in solution.members.values()]
    return np.array(rows, dtype=float)


def agree(found, afresh):
    """Assert that two solutions of one brief say the same."""
    assert found.refusal == afresh.refusal
    assert list(found.members) == list(afresh.members)
    assert found.combinations.names == afresh.combinations.names
    assert [f.rule for f in found.findings] == [f.rule for f in afresh.findings]
    for kind in KINDS:
        ours, fresh = (figures(s, kind) for s in (found, afresh))
        assert (np.isnan(ours) == np.isnan(fresh)).all(), kind
        # Of two extremes of one size, rounding says which is named: sizes are compared.
        ours, fresh = np.abs(np.nan_to_num(ours)), np.abs(np.nan_to_num(fresh))
        largest = fresh.max(initial=1e-6)
        assert np.abs(ours - fresh).max(initial=0.0) <= WITHIN * largest, kind
    for name in WORDS:
        for ours, fresh in zip(
            found.members.values(), afresh.members.values(), strict=True
        ):
            assert getattr(ours, name) == getattr(fresh, name), (ours.key, name)
    assert found.overall == afresh.overall
    if afresh.frame is None:
        assert found.frame is None
        return
    for name in ("link_force", "reaction", "displacement"):
        a, b = (getattr(s.frame, name) for s in (found, afresh))
        assert a.shape == b.shape
        assert np.abs(a - b).max(initial=0.0) <= WITHIN * np.abs(b).max(initial=0.0)


@st.composite
def edits(draw, data):
    """The same house with one thing changed."""
    house = copy.deepcopy(data)
    kind = draw(st.sampled_from(("loads", "loads", "feet", "post", "size", "pitch")))
    if kind == "loads":
        house["loads"] = draw(strategies.loads())
    elif kind == "feet":
        assume(house.get("struts"))
        group = draw(st.sampled_from(house["struts"]))
        group["spacing"] = draw(strategies.inches(36, 96))
        group["foot"] = {"on": "ceiling_joist"}
    elif kind == "post":
        x, y = (draw(strategies.inches(12, 240)) for _ in range(2))
        post = {"name": "new", "at": [x, y]}
        house["posts"] = [*(house.get("posts") or ()), post]
    elif kind == "size":
        house["rafters"]["size"] = draw(st.sampled_from(("2x6", "2x8", "2x10")))
    else:
        house["roof"]["pitch"] = draw(st.sampled_from(("4:12", "7:12", "10:12")))
    return kind, house


@settings(tries(40), phases=[Phase.generate])
@given(st.data())
def test_a_random_edit_of_a_random_roof(data):
    """Whatever changes, the earlier solution leaves no trace in the later one."""
    house = data.draw(roofs())
    kind, other = data.draw(edits(house))
    try:
        first, second = read_brief(house), read_brief(other)
        before, afresh = solve(first), solve(second)
    except BriefError:
        assume(False)
    event(kind)
    agree(solve(second, before), afresh)


def test_a_drag_through_many_loads():
    """Twelve loads, each from the solution before: nothing adds up on the way."""
    loads = [
        {"roof_dead": f"{8 + n} psf", "attic_live": f"{10 * (n % 3)} psf",
         "wind_uplift": f"{12 * (n % 2)} psf", "person": n % 5 == 4,
         "roof_live_reduction": "slope_and_area" if n % 4 == 3 else "none"}
        for n in range(12)
    ]  # fmt: skip
    before = None
    for own in loads:
        brief = read_brief(changed(BUNGALOW, loads=own))
        before = solve(brief, before)
        agree(before, solve(brief))


def test_what_serves_again_is_the_same_object():
    """Other loads leave framing, frame and plan of the checks as they are."""
    heel = {"slip": "eurocode_5", "count": 4}
    briefs = [
        read_brief(changed(COTTAGE, heel_joint=heel, loads=loads))
        for loads in ({"roof_dead": "10 psf"}, {"roof_dead": "15 psf"})
    ]
    one = solve(briefs[0])
    two = solve(briefs[1], one)
    assert two.framing is one.framing
    assert two.model.frame is one.model.frame
    assert two.checked.plan is one.checked.plan
    assert two.frame.layout is one.frame.layout


@pytest.mark.parametrize("house", [COTTAGE, BUNGALOW])
def test_a_foot_there_and_back(house):
    """A foot that moves and comes home brings the first solution back."""
    moved = copy.deepcopy(house)
    moved["struts"][0]["foot"] = {"on": "wall", "name": "spine"}
    steps = [read_brief(h) for h in (house, moved, house)]
    solutions = [solve(steps[0])]
    for (_, brief), previous in zip(pairwise(steps), (0, 1), strict=True):
        solutions.append(solve(brief, solutions[previous]))
    agree(solutions[1], solve(steps[1]))
    agree(solutions[2], solutions[0])
