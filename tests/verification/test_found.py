"""Roofs that the random ones found to break something once."""

import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.solve import solve

HOUSE = {
    "footprint": {"length": "8 ft", "width": "8 ft"},
    "roof": {"pitch": "2:12"},
    "rafters": {"size": "2x4", "spacing": "12 in"},
    "ceiling_joists": {"size": "2x4", "spacing": "12 in", "over_walls": "lapped"},
}


def beam(name, start, end):
    return {
        "name": name, "size": "2x10", "carries_joists": True,
        "start": [start, "4 ft"], "end": [end, "4 ft"],
    }  # fmt: skip


@pytest.mark.parametrize(
    "beams",
    [
        [beam("a", "0 in", "4 ft"), beam("b", "4 ft", "8 ft")],
        [beam("a", "0 in", "12 in"), beam("b", "0 in", "12 in")],
    ],
    ids=["end to end under a joist", "one on the other"],
)
def test_a_joist_over_two_beams_in_one_place_is_cut_once(beams):
    solution = solve(read_brief({**HOUSE, "beams": beams}))
    joists = [m for m in solution.framing.members.values() if m.role == "ceiling_joist"]
    assert all(len(m.nodes) >= 2 for m in joists)
    assert {m.key for m in joists if m.key.startswith("CJ-01-")} == {
        "CJ-01-1", "CJ-01-2",
    }  # fmt: skip


def test_joists_along_the_ridge_of_a_house_wider_than_long():
    """Those farther from the south wall than the house is long were left out once."""
    data = HOUSE | {"footprint": {"length": "8 ft", "width": "20 ft"}}
    data["ceiling_joists"] = HOUSE["ceiling_joists"] | {"direction": "along"}
    framing = solve(read_brief(data)).framing
    joists = [m for m in framing.members.values() if m.role == "ceiling_joist"]
    assert len(joists) == len(framing.joist_stations) == 19
