"""Purlins under rafters that span too far, braced to the walls that are there."""

from __future__ import annotations

import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.remedy import remedies
from loadfall.solver.remedy.purlins import propose
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT

WIDE = {
    "footprint": {"length": "16 ft", "width": "28 ft"},
    "roof": {"pitch": "6:12"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ceiling_joists": {"size": "2x6", "spacing": "24 in"},
    "walls": [{"name": "spine", "start": ["0 ft", "14 ft"], "end": ["16 ft", "14 ft"]}],
}


@pytest.fixture(scope="module")
def found():
    return remedies(read_brief(WIDE), propose=propose)


def test_purlins_braced_to_the_spine_carry_rafters_that_span_too_far(found):
    assert found.before.overall == "over its limit"
    (one,) = found.remedies
    assert one.solves
    rule = [f for f in one.solution.findings if f.rule.startswith("brace_")]
    assert {f.rule for f in rule} >= {"brace_angle", "brace_foot", "brace_spacing"}
    assert all(f.passed for f in rule)


def test_the_line_stands_where_braces_just_keep_45_degrees(found):
    # By hand: 14 ft to the spine under 6:12; x from the plate is as high as the brace
    # runs level where x / 2 = 14 - x, 9 ft 4 in; the middle of the rafter, 7 ft, would
    # have braces of 27 degrees (IRC 2018 R802.4.5).
    (line, other) = found.remedies[0].brief.purlins
    assert line.height == other.height == pytest.approx(28 / 6 * FOOT, rel=0.01)


def test_nothing_is_proposed_where_lines_or_walls_make_no_sense():
    assert propose(solve(read_brief(WIDE | {"walls": []}))) == []
    lined = WIDE | {
        "purlins": [{"name": "S", "slope": "south", "size": "2x6", "height": "4 ft"}]
    }
    assert propose(solve(read_brief(lined))) == []
    assert propose(solve(read_brief(WIDE | {"rafters": {"size": "2x12"}}))) == []
