"""Roofs that cannot stand: a verdict that names the members, and no number for them.

What is left of each roof is solved all the same.
"""

import json

import pytest
from loadfall.solver.cli import main
from loadfall.solver.report import results
from loadfall.solver.verdict.model import Verdict

from .houses import BUNGALOW, COTTAGE, changed, solved

GAP = {
    "walls": [BUNGALOW["walls"][0] | {"openings": [{"start": "10 ft", "end": "20 ft"}]}]
}
NO_BEAM = {"beams": []}


def faults(solution, *keys):
    """The reasons of the members named, each judged and left without a number."""
    for key in keys:
        member = solution.members[key]
        assert member.verdict is Verdict.NO_LOAD_PATH, key
        assert member.utilisation is None, key
        assert member.by_check is None, key
        assert member.reason == solution.path.faults[key]
    assert solution.overall is Verdict.NO_LOAD_PATH
    return {solution.path.faults[key] for key in keys}


def rest_is_solved(solution, *keys):
    """Other members carry numbers, and they balance."""
    assert not solution.refusal
    for key in keys:
        assert solution.members[key].utilisation > 0, key
    assert solution.flow().ground_imbalance < 1e-9
    assert solution.shares().error < 1e-9


def words(solution):
    return [f.words for f in solution.findings if f.kind.value == "no load path"]


def test_lapped_joists_over_a_gap_in_the_wall():
    solution = solved(BUNGALOW, **NO_BEAM)
    over = [f"CJ-{k:02d}-{bay}" for k in range(8, 15) for bay in (1, 2)]
    assert faults(solution, *over) == {"the joist ends over the gap in wall spine"}
    rest_is_solved(solution, "CJ-06-1", "CJ-16-2", "R-S-02")
    # The rafters beside them have no tie any more, the last of them within reach of
    # ties that stand.
    assert faults(solution, "R-S-09", "R-N-11") == {
        "its thrust is held by nothing: it has no tie and no structural ridge"
    }
    assert solution.members["R-S-03"].verdict is not Verdict.NO_LOAD_PATH


def test_continuous_joists_span_the_gap():
    joists = {"over_walls": "continuous"}
    solution = solved(BUNGALOW, **NO_BEAM, ceiling_joists=joists)
    assert not solution.path.faults
    assert solution.overall is Verdict.OVER_LIMIT


def test_struts_on_joists_without_a_load_path_have_none():
    solution = solved(BUNGALOW, **NO_BEAM)
    struts = [k for k, m in solution.members.items() if m.role == "strut"]
    on_gap = [k for k in struts if solution.members[k].stands_on.name in
              solution.path.faults]  # fmt: skip
    assert len(on_gap) >= 6
    reasons = faults(solution, *on_gap)
    assert all("has no load path" in reason for reason in reasons)
    sound = set(struts) - set(solution.path.faults)
    assert "ST-N-01" in sound
    rest_is_solved(solution, *sound)


@pytest.mark.parametrize(
    ("walls", "reason"),
    [
        (GAP["walls"], "it stands over the gap in wall spine"),
        (
            [BUNGALOW["walls"][0] | {"bearing": False, "openings": []}],
            "it stands on partition spine, which is no bearing wall",
        ),
    ],
    ids=["gap", "partition"],
)
def test_struts_on_what_does_not_bear(walls, reason):
    struts = [
        {"purlin": "N", "spacing": "4 ft", "foot": {"on": "wall", "name": "spine"}}
    ]
    joists = {"over_walls": "continuous"}
    solution = solved(
        BUNGALOW, walls=walls, beams=[], struts=struts, ceiling_joists=joists
    )
    loose = [k for k, why in solution.path.faults.items() if k.startswith("ST-")]
    assert len(loose) == (2 if "gap" in reason else 11)
    assert faults(solution, *loose) == {reason}
    # Purlin N keeps what struts it has; the rafters span past it.
    rest_is_solved(solution, "R-N-10", "R-S-10")


def test_a_strut_whose_joist_was_taken_out():
    solution = solved(COTTAGE)
    under = solution.members["ST-S-03"].stands_on.name
    gone = solved(COTTAGE, overrides=[{"member": under, "removed": True}])
    struts = [k for k, why in gone.path.faults.items() if k.startswith("ST-")]
    assert struts == ["ST-S-03"]
    assert faults(gone, "ST-S-03") == {"no ceiling joist is left under it"}
    rest_is_solved(gone, "ST-S-02", "ST-S-04", "P-S")
    assert gone.framing.removed == (under,)


def test_the_end_of_a_beam_in_the_air():
    beam = BUNGALOW["beams"][0] | {"end": ["26 ft", "15 ft"]}
    solution = solved(BUNGALOW, beams=[beam])
    assert faults(solution, "B-living") == {
        "the end of beam living has neither wall nor post under it"
    }
    assert faults(solution, "CJ-08-1", "CJ-10-2") == {
        "it ends on B-living, which has no load path"
    }
    assert faults(solution, "CJ-14-1") == {"the joist ends over the gap in wall spine"}
    rest_is_solved(solution, "CJ-03-1", "R-S-02")


def test_a_beam_that_two_walls_hold_may_run_on_into_the_air():
    """It is a cantilever; its far end needs nothing under it."""
    walls = [
        *BUNGALOW["walls"],
        {"name": "a", "start": ["12 ft", "0 ft"], "end": ["12 ft", "30 ft"]},
        {"name": "b", "start": ["20 ft", "0 ft"], "end": ["20 ft", "30 ft"]},
    ]
    beam = BUNGALOW["beams"][0] | {
        "start": ["10 ft", "9 ft"], "end": ["22 ft", "9 ft"], "carries_joists": False,
    }  # fmt: skip
    solution = solved(BUNGALOW, walls=walls, beams=[BUNGALOW["beams"][0], beam |
                                                    {"name": "out"}])  # fmt: skip
    assert not solution.path.faults
    assert solution.members["B-out"].utilisation > 0


def test_a_post_on_nothing_takes_its_beam_and_all_on_it_along():
    walls = [BUNGALOW["walls"][0] | {"openings": [{"start": "14 ft", "end": "44 ft"}]}]
    post = {"name": "A", "at": ["30 ft", "15 ft"]}
    beam = BUNGALOW["beams"]
    stands = solved(BUNGALOW, walls=walls, posts=[post], beams=beam)
    assert "B-living" not in stands.path.faults
    falls = solved(
        BUNGALOW, walls=walls, posts=[post | {"foot": "nothing"}], beams=beam
    )
    assert faults(falls, "PO-A") == {"post A stands on nothing"}
    assert faults(falls, "B-living") == {"it ends on PO-A, which has no load path"}
    assert faults(falls, "CJ-10-1") == {"it ends on B-living, which has no load path"}
    rest_is_solved(falls, "CJ-03-1")


def test_posts_under_a_beam_without_a_load_path_are_named_with_it():
    walls = [BUNGALOW["walls"][0] | {"openings": [{"start": "10 ft", "end": "44 ft"}]}]
    post = {"name": "A", "at": ["30 ft", "15 ft"]}
    solution = solved(BUNGALOW, walls=walls, posts=[post])
    assert faults(solution, "PO-A") == {"it holds B-living, which has no load path"}


def test_a_post_under_nothing_carries_nothing_and_is_noted():
    post = {"name": "A", "at": ["5 ft", "5 ft"]}
    solution = solved(COTTAGE, posts=[post])
    assert solution.members["PO-A"].verdict is Verdict.NOT_COUNTED
    assert not solution.path.faults
    notes = [f.words for f in solution.findings if f.rule == "post_idle"]
    assert notes == [
        "Post A carries nothing: no beam and no strut stands on it."
    ]  # fmt: skip


@pytest.mark.parametrize("direction", [None, "along"])
def test_rafters_that_nobody_ties_are_named_as_ranges(direction):
    joists = {"direction": direction} if direction else None
    parts = {} if direction else {"struts": [], "purlins": []}
    solution = solved(COTTAGE, ceiling_joists=joists, **parts)
    keys = [f"R-{side}-{k:02d}" for side in "SN" for k in range(17)]
    faults(solution, *keys)
    assert words(solution)[0] == (
        "Rafters R-S-00 to R-S-16 and R-N-00 to R-N-16 have no tie and no structural "
        "ridge."
    )


def test_rafter_ties_or_a_ridge_beam_save_the_same_roof():
    along = {"direction": "along"}
    ties = {"size": "2x6", "height_ratio": 0.0, "spacing": "4 ft"}
    beam = {"kind": "beam", "size": "1.75x14", "species": "LVL",
            "grade": "2.0E-2600Fb", "plies": 3,
            "posts": ["10 ft", "20 ft"]}  # fmt: skip
    for parts in ({"rafter_ties": ties}, {"ridge": beam}):
        solution = solved(COTTAGE, ceiling_joists=along, **parts)
        assert not solution.path.faults
        assert solution.members["R-S-08"].utilisation > 0


def test_ties_too_far_apart_leave_the_rafters_between_them():
    """IRC 2018 R802.5.2 has ties at most 4 ft apart."""
    along = {"direction": "along"}
    ties = {"size": "2x6", "height_ratio": 0.0, "spacing": "8 ft"}
    solution = solved(COTTAGE, ceiling_joists=along, rafter_ties=ties)
    assert faults(solution, "R-S-01", "R-S-02", "R-N-03")
    assert "R-S-04" not in solution.path.faults
    assert "R-S-00 and R-S-04" not in " ".join(words(solution))


def test_a_lone_rafter_with_no_partner_is_loose_and_nothing_else_is():
    solution = solved(
        COTTAGE,
        purlins=[],
        struts=[],
        overrides=[{"member": "R-S-08", "removed": True}],
    )
    assert set(solution.path.faults) == {"R-N-08"}
    rest_is_solved(solution, "R-S-07", "R-N-09")


def test_what_cannot_stand_is_a_result_on_the_command_line(tmp_path, capsys):
    file = tmp_path / "brief.json"
    file.write_text(json.dumps(changed(BUNGALOW, **NO_BEAM)), "utf-8")
    assert main(["run", str(file), "--out", str(tmp_path)]) == 0
    said = capsys.readouterr().out
    assert "no load path" in said
    assert "CJ-08-1 to CJ-14-1" in said
    found = json.loads((tmp_path / "results.json").read_text("utf-8"))
    assert found["overall"] == "no load path"
    for key in {entry["member"] for entry in found["no_load_path"]}:
        assert found["members"][key]["utilisation"] is None
        assert found["members"][key]["verdict"] == "no load path"
    assert found["members"]["R-S-02"]["utilisation"] > 0


def test_beams_on_posts_alone_stand():
    """The ceiling holds them sideways; once such a beam was called loose."""
    beam = {
        "name": "top", "start": ["8 ft", "9 ft"], "end": ["24 ft", "9 ft"],
        "size": "2x12", "plies": 3, "carries_joists": False,
    }  # fmt: skip
    posts = [{"name": n, "at": [x, "9 ft"]} for n, x in (("A", "8 ft"), ("B", "24 ft"))]
    struts = [
        COTTAGE["struts"][1],
        {
            "purlin": "S", "spacing": "4 ft", "start": "8 ft", "end": "24 ft",
            "foot": {"on": "beam", "name": "top"},
        },
    ]  # fmt: skip
    solution = solved(COTTAGE, beams=[beam], posts=posts, struts=struts)
    assert not solution.path.faults
    assert solution.members["B-top"].strut_load > 1000
    held = results(solution)["supports"]["H-CEILING"]
    assert max(abs(v) for v in held["vertical"].values()) == 0
    # Purlin S stands 6.5 ft from its plate, the beam 9 ft: the struts lean and push.
    assert max(abs(v) for v in held["sideways"].values()) > 100
