"""Remedies go by where struts stand as framed, however the brief states their feet."""

from __future__ import annotations

import re

import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.remedy import remedies
from loadfall.solver.remedy.compare import proposals
from loadfall.solver.remedy.feet import propose as feet_to_wall
from loadfall.solver.remedy.plies import propose as plies
from loadfall.solver.remedy.posts import propose as posts
from loadfall.solver.remedy.rows import foot_rows
from loadfall.solver.remedy.standing import split_runs
from loadfall.solver.remedy.trouble import failures
from loadfall.solver.remedy.walls import propose as walls
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT

from ..solve.houses import COTTAGE, changed

JOISTS = {"on": "ceiling_joist"}
SPINE = [{"name": "spine", "start": ["0 ft", "13 ft"], "end": ["16 ft", "13 ft"]}]
SHORT = changed(
    COTTAGE, footprint={"length": "16 ft", "width": "26 ft"}, walls=SPINE, struts=[]
)


def grouped(foot, **more):
    """The short cottage with one group of struts on every purlin line."""
    struts = [{"purlin": p, "spacing": "4 ft", "foot": foot} for p in "SN"]
    return solve(read_brief(changed(SHORT, struts=struts, **more)))


def uses(solution):
    """Utilisation of every member that has one."""
    every = {key: m.utilisation for key, m in solution.members.items()}
    return {key: use for key, use in every.items() if use is not None}


def rungs_pass(ladder):
    """The solution of the strongest rung, which must leave no bad feet."""
    found = solve(ladder.rungs[-1].brief)
    assert foot_rows(found) == []
    return found


def test_struts_that_find_no_wall_stand_on_the_joists_that_the_brief_names():
    stated = grouped(JOISTS)
    found = grouped({"on": "nearest_wall", "otherwise": "ceiling_joist"})
    assert [row.keys for row in foot_rows(found)] == [
        row.keys for row in foot_rows(stated)
    ]
    for propose in (walls, posts, plies, feet_to_wall):
        ours, theirs = propose(found), propose(stated)
        assert [one.key for one in ours] == [one.key for one in theirs]
        assert [r.size for r in ours[0].rungs] == [r.size for r in theirs[0].rungs]


@pytest.mark.parametrize("propose", [walls, posts], ids=["walls", "posts"])
def test_struts_without_any_foot_get_one(propose):
    bare = grouped({"on": "nearest_wall"})
    assert bare.overall == "no load path"
    assert not any(row.on_joists for row in foot_rows(bare))
    assert plies(bare) == []
    mended = rungs_pass(propose(bare)[0])
    assert not mended.path.faults


@pytest.mark.parametrize("propose", [walls, posts], ids=["walls", "posts"])
def test_added_struts_on_joists_get_other_feet_and_keep_their_keys(propose):
    added = [{"purlin": p, "name": "one", "at": "8 ft", "foot": JOISTS} for p in "SN"]
    before = solve(read_brief(changed(SHORT, added_struts=added)))
    assert [row.keys for row in foot_rows(before)] == [("ST-S-one",), ("ST-N-one",)]
    after = rungs_pass(propose(before)[0])
    assert {"ST-S-one", "ST-N-one"} <= set(after.framing.members)


def test_a_group_partly_on_joists_is_split_and_stays_the_same_roof():
    moved = [{"member": "ST-S-02", "foot": {"on": "point"}}]
    before = grouped(JOISTS, overrides=moved)
    brief = split_runs(before.brief, before.framing)
    assert len(brief.struts) == 4  # the southern one in three
    after = solve(brief)
    assert uses(after) == pytest.approx(uses(before), rel=1e-9)
    keys = [key for row in foot_rows(after) for key in row.keys]
    assert "ST-S-02" not in keys
    assert "ST-S-01" in keys
    mended = rungs_pass(walls(after)[0])
    assert mended.framing.members["ST-S-02"].foot.on == "point"


def test_an_override_that_put_a_foot_on_a_joist_gives_way():
    moved = [{"member": "ST-S-02", "foot": JOISTS, "plies": 2}]
    before = grouped({"on": "point"}, overrides=moved)
    before = solve(split_runs(before.brief, before.framing))
    assert [row.keys for row in foot_rows(before)] == [("ST-S-02",)]
    after = rungs_pass(walls(before)[0])
    assert after.framing.members["ST-S-02"].section.plies == 2


def test_struts_too_slender_for_a_firm_foot_are_held_with_the_wall():
    # A wall does not give as joists do: what the rafters took comes back to the struts.
    steep = changed(
        SHORT, roof={"pitch": "9:12"}, purlins=[
            {"name": p, "slope": slope, "size": "2x8", "from_plate": "8 ft"}
            for p, slope in (("S", "south"), ("N", "north"))
        ],
        struts=[{"purlin": p, "spacing": "4 ft", "foot": JOISTS} for p in "SN"],
        loads={"roof_dead": "15 psf", "snow": {"ground": "40 psf"}},
    )  # fmt: skip
    found = remedies(read_brief(steep), propose=walls)
    wall = next(one for one in found.remedies if one.key == "bearing-wall")
    alone = solve(walls(found.before)[0].rungs[0].brief)
    assert {m.role for m in failures(alone)} == {"strut"}
    assert wall.solves
    assert "struts held at mid-length" in wall.size
    assert wall.build.endswith("runner from strut to strut.")
    assert all(group.held_at_mid for group in wall.brief.struts)


def test_feet_go_to_a_wall_that_only_a_brace_held_at_mid_length_reaches():
    # 9:12, wall 16 ft in: 45 degrees begin 9.14 ft from the plate, where the brace is
    # 9.7 ft long, over the 8 ft of IRC 2018 R802.4.5 without a lateral brace.
    wide = changed(
        SHORT, footprint={"length": "16 ft", "width": "32 ft"}, roof={"pitch": "9:12"},
        walls=[SPINE[0] | {"start": ["0 ft", "16 ft"], "end": ["16 ft", "16 ft"]}],
        struts=[{"purlin": p, "spacing": "4 ft", "foot": JOISTS} for p in "SN"],
    )  # fmt: skip
    ladder = feet_to_wall(solve(read_brief(wide)))[0]
    assert [group.held_at_mid for group in ladder.rungs[0].brief.struts] == [True, True]
    assert ladder.rungs[0].brief.purlins[0].from_plate > 16 * FOOT / 1.75
    moved = solve(ladder.rungs[0].brief)
    brace = [f for f in moved.findings if f.rule in ("brace_angle", "brace_length")]
    assert brace
    assert all(finding.passed for finding in brace)


def test_a_metric_roof_is_told_what_to_build_in_metres():
    metric = grouped({"on": "nearest_wall"}, units="metric", rafters={"size": "2x4"})
    for ladder in proposals(metric):
        said = [ladder.build, *(f"{r.size} {r.build}" for r in ladder.rungs)]
        for words in said:
            assert not re.search(r"\d ft|\d'|\d\"", words), words
