"""The prescriptive rules at their limits: kept on one side, broken on the other.

Sections are those of the IRC 2018: R802.4.2 to R802.4.5 and R802.5.2.
"""

from __future__ import annotations

import pytest
from loadfall.solver.audit.model import key_range

from ..solve.houses import COTTAGE, changed, solved

PURLIN = COTTAGE["purlins"][0]


def rule(solution, name, key=None):
    """Whether a rule is kept, of a member or of all."""
    found = [
        f
        for f in solution.findings
        if f.rule == name and (key is None or key in f.members)
    ]
    assert found, name
    assert all("IRC 2018 R802" in f.section for f in found)
    assert all(f.words.endswith(".") and f.value and f.limit for f in found)
    return all(f.passed for f in found)


def braced(pitch="6:12", plan="6 ft 6 in", foot=None, **group):
    purlin = PURLIN | {"from_plate": plan}
    struts = [{"purlin": "S", "foot": foot or {"on": "point"}} | group]
    return solved(COTTAGE, roof={"pitch": pitch}, purlins=[purlin], struts=struts)


@pytest.mark.parametrize(
    ("from_plate", "kept"), [("9 ft 9 in", True), ("9 ft 9 1/2 in", False)]
)
def test_braces_at_45_degrees(from_plate, kept):
    """The purlin stands 3 ft 3 in high, so its foot may lie 3 ft 3 in away."""
    foot = {"on": "point", "from_plate": from_plate}
    assert rule(braced(foot=foot), "brace_angle") is kept


@pytest.mark.parametrize(
    ("plan", "held", "kept"),
    [("8 ft", False, True), ("8 ft 1 in", False, False), ("8 ft 1 in", True, True)],
)
def test_braces_of_eight_feet(plan, held, kept):
    """Plumb at 12:12 a brace is as long as the purlin is far from the plate."""
    solution = braced("12:12", plan, held_at_mid=held)
    assert rule(solution, "brace_length") is kept


@pytest.mark.parametrize(("spacing", "kept"), [("4 ft", True), ("49 in", False)])
def test_braces_four_feet_apart(spacing, kept):
    assert rule(braced(spacing=spacing), "brace_spacing", "P-S") is kept


def test_a_purlin_end_without_a_brace_near():
    assert not rule(braced(start="6 ft"), "brace_spacing", "P-S")


@pytest.mark.parametrize(
    ("rafter", "purlin", "kept"),
    [("2x6", "2x6", True), ("2x6", "2x8", True), ("2x8", "2x6", False)],
)
def test_purlins_no_smaller_than_rafters(rafter, purlin, kept):
    solution = solved(
        COTTAGE, rafters={"size": rafter}, purlins=[PURLIN | {"size": purlin}],
        struts=[COTTAGE["struts"][0]],
    )  # fmt: skip
    assert rule(solution, "purlin_size", "P-S") is kept


@pytest.mark.parametrize(("size", "kept"), [("2x4", True), ("2x3", False)])
def test_braces_no_smaller_than_2x4(size, kept):
    assert rule(braced(size=size), "brace_size") is kept


FEET = {
    "a bearing wall": ({"on": "wall", "name": "spine"}, True),
    "a ceiling joist": ({"on": "ceiling_joist"}, False),
    "a joist over the wall": ({"on": "ceiling_joist", "from_plate": "13 ft"}, True),
    "a stated point": ({"on": "point"}, False),
}


@pytest.mark.parametrize("name", FEET)
def test_braces_stand_on_bearing_walls(name):
    foot, kept = FEET[name]
    assert rule(braced(plan="10 ft", foot=foot), "brace_foot") is kept


@pytest.mark.parametrize(("pitch", "kept"), [("3:12", True), ("2.9:12", False)])
def test_a_board_for_a_ridge_from_three_in_twelve(pitch, kept):
    solution = solved(COTTAGE, roof={"pitch": pitch}, purlins=[], struts=[])
    assert rule(solution, "ridge_may_be_board", "RIDGE") is kept


@pytest.mark.parametrize(("size", "kept"), [("2x8", True), ("2x6", False)])
def test_the_ridge_is_as_deep_as_the_cut(size, kept):
    """A 2x6 rafter at 6:12 is cut 6.15 in deep; a 2x8 covers that, a 2x6 does not."""
    solution = solved(COTTAGE, ridge={"kind": "board", "size": size})
    assert rule(solution, "ridge_depth", "RIDGE") is kept


def test_ties_four_feet_apart():
    parts = {"ceiling_joists": None, "purlins": [], "struts": [], "walls": []}
    for spacing, kept in (("4 ft", True), ("6 ft", False)):
        ties = {"size": "2x6", "height_ratio": 0.0, "spacing": spacing}
        solution = solved(COTTAGE, rafter_ties=ties, **parts)
        assert rule(solution, "tie_spacing") is kept


def test_a_rule_kept_and_a_rule_broken_are_both_findings():
    solution = braced("12:12", "8 ft")
    found = {f.rule: f.passed for f in solution.findings if "ST-S-01" in f.members}
    assert found["brace_length"] is True
    assert found["brace_foot"] is False
    order = [f.passed for f in solution.findings]
    assert order == sorted(order, key=lambda passed: passed is not False)


def test_an_override_of_no_member_is_noted():
    over = [{"member": "R-S-99", "plies": 2}]
    solution = solved(changed(COTTAGE, overrides=over))
    notes = [f for f in solution.findings if f.rule == "override_dropped"]
    assert [n.value for n in notes] == ["R-S-99"]
    assert solution.framing.dropped_overrides == ("R-S-99",)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        (("R-S-01",), "R-S-01"),
        (("R-S-01", "R-S-02", "R-S-03"), "R-S-01 to R-S-03"),
        (("R-S-01", "R-N-02"), "R-S-01 and R-N-02"),
        (("CJ-08-1", "CJ-08-2", "CJ-09-1", "CJ-09-2"),
         "CJ-08-1 to CJ-09-1 and CJ-08-2 to CJ-09-2"),
        (("R-S-09", "R-S-10", "R-S-12", "RIDGE"), "R-S-09 to R-S-10, R-S-12 and RIDGE"),
        ((), ""),
    ],
)  # fmt: skip
def test_names_of_neighbours_are_drawn_together(keys, words):
    assert key_range(keys) == words
