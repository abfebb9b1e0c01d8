"""Changes of single members: they stay with their stick, or are dropped by name.

Sources: none outside; what is asserted is the promise itself. A change may follow its
stick, be dropped with a reason, and nothing else: no exception, no other stick.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from loadfall.solver.brief import read_brief
from loadfall.solver.framing import frame_roof
from loadfall.solver.framing.changes import (
    goes_by_number,
    place_of,
    placed,
    row_of,
)
from loadfall.solver.framing.model import Role
from loadfall.solver.report.results import results
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT

from ..solve.houses import COTTAGE, changed

INCH = FOOT / 12
OUTER = 2 * FOOT  # rafters and joists at 2 ft: the stick at 10 ft is number 5


def framed(**parts):
    return frame_roof(read_brief(changed(COTTAGE, **parts)))


def shown(point):
    return [f"{v / FOOT!r} ft" for v in point]


def change_of(framing, key, **change):
    return {"member": key, "near": shown(place_of(framing, key)), **change}


@pytest.mark.parametrize(
    ("key", "row"),
    [
        ("CJ-05-1", "CJ-#-1"), ("R-S-05", "R-S-#"), ("J-W-03", "R-W-#"),
        ("ST-S-02", "ST-S-#"), ("ST-1-02", "ST-1-#"), ("ST-S-extra", "ST-S-extra"),
        ("P-1", "P-1"), ("B-2", "B-2"), ("RIDGE", "RIDGE"),
    ],
)  # fmt: skip
def test_the_row_of_a_key(key, row):
    assert row_of(key) == row


def test_a_change_follows_its_stick_through_another_spacing():
    """The joist at 10 ft is number 5 at 24 in, 10 at 12 in; number 5 is another."""
    before = framed()
    stated = change_of(before, "CJ-05-1", plies=3)
    dense = framed(
        rafters={"size": "2x6", "spacing": "12 in"},
        ceiling_joists={"size": "2x6", "spacing": "12 in"},
        overrides=[stated],
    )
    assert dense.change_holders == {"CJ-05-1": "CJ-10-1"}
    assert dense.members["CJ-10-1"].section.plies == 3
    assert dense.members["CJ-05-1"].section.plies == 1
    assert dense.ends("CJ-10-1")[0][0] == pytest.approx(10 * FOOT)


def test_a_change_whose_stick_is_gone_is_dropped_by_name():
    """At 16 in no joist stands at 10 ft: the nearest are at 9 ft 4 and 10 ft 8."""
    stated = change_of(framed(), "CJ-05-1", plies=3)
    brief = changed(
        COTTAGE,
        rafters={"size": "2x6", "spacing": "16 in"},
        ceiling_joists={"size": "2x6", "spacing": "16 in"},
        overrides=[stated],
    )
    solution = solve(read_brief(brief))
    assert all(m.plies == 1 for m in solution.members.values() if m.role != "plate")
    assert solution.framing.dropped_overrides == ("CJ-05-1",)
    found = results(solution)["overrides"]["CJ-05-1"]
    assert found["member"] is None
    assert "no stick of its row" in found["dropped"]
    notes = [f for f in solution.findings if f.rule == "override_dropped"]
    assert len(notes) == 1
    assert "CJ-05-1" in notes[0].words


def test_a_key_without_a_place_counts_as_it_is():
    over = [{"member": "CJ-05-1", "plies": 2}]
    dense = framed(ceiling_joists={"size": "2x6", "spacing": "12 in"}, overrides=over)
    assert dense.members["CJ-05-1"].section.plies == 2


def test_a_strut_keeps_its_change_when_others_are_put_before_it():
    stated = change_of(framed(), "ST-S-03", size="2x6")
    more = [
        {"purlin": "S", "spacing": "4 ft", "start": "6 in", "end": "6 in",
         "foot": {"on": "ceiling_joist"}},
        *COTTAGE["struts"],
    ]  # fmt: skip
    now = framed(struts=more, overrides=[stated])
    assert now.change_holders == {"ST-S-03": "ST-S-04"}
    assert now.members["ST-S-04"].section.name == "2x6"


def test_one_foot_is_moved_to_a_wall_a_beam_a_joist_and_a_point():
    base = {
        "walls": COTTAGE["walls"],
        "beams": [
            {"name": "b", "start": ["0 ft", "9 ft"], "end": ["32 ft", "9 ft"],
             "size": "2x10", "plies": 3, "carries_joists": False}
        ],
    }  # fmt: skip
    for foot, kind, y in (
        ({"on": "wall", "name": "spine"}, "wall", 13.0),
        ({"on": "beam", "name": "b"}, "beam", 9.0),
        ({"on": "ceiling_joist", "at": ["10 ft", "3 ft"]}, "ceiling_joist", 3.0),
        ({"on": "point", "at": ["11 ft", "4 ft"]}, "point", 4.0),
    ):
        over = [{"member": "ST-S-03", "foot": foot}]
        solution = solve(read_brief(changed(COTTAGE, **base, overrides=over)))
        on = solution.members["ST-S-03"].stands_on
        assert on is not None
        assert on.kind == kind
        assert solution.framing.ends("ST-S-03")[0][1] == pytest.approx(y * FOOT)
        others = [m for m in solution.members.values() if m.role == "strut"]
        moved = [m.key for m in others if m.stands_on and m.stands_on.kind == kind]
        assert moved == ["ST-S-03"] or kind == "ceiling_joist"


def test_a_foot_on_a_wall_that_is_gone_is_dropped_and_the_size_stays():
    over = [{"member": "ST-S-03", "size": "2x6", "foot": {"on": "wall", "name": "x"}}]
    framing = framed(overrides=over)
    assert framing.members["ST-S-03"].section.name == "2x6"
    assert framing.members["ST-S-03"].foot.on.value == "ceiling_joist"
    assert "there is no wall x" in framing.change_notes["ST-S-03"]


def test_an_added_strut_has_a_key_of_its_own_and_moves_no_number():
    before = framed()
    extra = {"name": "extra", "purlin": "S", "at": "11 ft",
             "foot": {"on": "wall", "name": "spine"}}  # fmt: skip
    now = framed(added_struts=[extra])
    assert now.ends("ST-S-extra")[1][0] == pytest.approx(11 * FOOT)
    assert set(now.members) - set(before.members) == {"ST-S-extra"}
    for key in before.members:
        assert now.ends(key)[0] == pytest.approx(before.ends(key)[0])


@pytest.mark.parametrize(
    ("parts", "why"),
    [
        ({"purlins": [COTTAGE["purlins"][1]], "struts": []}, "no purlin line S"),
        ({"footprint": {"length": "10 ft", "width": "26 ft"},
          "walls": [], "struts": []}, "does not reach"),
    ],
)  # fmt: skip
def test_an_added_strut_without_a_place_is_dropped_by_name(parts, why):
    extra = {"name": "extra", "purlin": "S", "at": "11 ft", "foot": {"on": "point"}}
    solution = solve(read_brief(changed(COTTAGE, **parts, added_struts=[extra])))
    assert why in solution.framing.change_notes["ST-S-extra"]
    assert why in results(solution)["overrides"]["ST-S-extra"]["dropped"]


def test_a_purlin_line_is_pinned_and_its_struts_go_along():
    over = [{"member": "P-S", "from_plate": "9 ft"}]
    framing = framed(overrides=over)
    assert framing.ends("P-S")[0][1] == pytest.approx(9 * FOOT)
    assert framing.ends("ST-S-01")[0][1] == pytest.approx(9 * FOOT)
    narrow = framed(
        footprint={"length": "32 ft", "width": "16 ft"}, walls=[], overrides=over,
        purlins=[
            {"name": "S", "slope": "south", "size": "2x6", "from_plate": "4 ft"},
            {"name": "N", "slope": "north", "size": "2x6", "from_plate": "4 ft"},
        ],
    )  # fmt: skip
    assert narrow.ends("P-S")[0][1] == pytest.approx(4 * FOOT)
    assert "between plate and ridge" in narrow.change_notes["P-S"]


KEYS = ("CJ-05-1", "CJ-03-2", "R-S-04", "R-N-07", "ST-S-03", "ST-N-01", "RIDGE", "P-S")
PLACE = 1.01 * INCH


def along(framing, key):
    """What marks a member in its row: x, which no edit below moves."""
    return place_of(framing, key)[0]


@settings(max_examples=60, deadline=None)
@given(
    pitch=st.integers(3, 12),
    spacing=st.sampled_from((12, 16, 19.2, 24, 32)),
    struts=st.sampled_from((3, 4, 4.5, 6)),
    length=st.integers(8, 44),
    width=st.integers(20, 40),
    form=st.sampled_from(("gable", "gable", "hip")),
)
def test_no_edit_gives_a_change_to_another_stick(
    pitch, spacing, struts, length, width, form
):
    before = framed()
    stated = [change_of(before, key, grade="No.1") for key in KEYS]
    stated[-1]["from_plate"] = "8 ft"
    if form == "hip":
        length = max(length, width + 4)
    brief = changed(
        COTTAGE,
        roof={"pitch": f"{pitch}:12", "form": form},
        rafters={"size": "2x6", "spacing": f"{spacing} in"},
        ceiling_joists={"size": "2x6", "spacing": f"{spacing} in"},
        footprint={"length": f"{length} ft", "width": f"{width} ft"},
        walls=[
            {"name": "spine", "start": ["0 ft", f"{width / 2} ft"],
             "end": [f"{length} ft", f"{width / 2} ft"]}
        ],
        struts=[
            {"purlin": p, "spacing": f"{struts} ft", "foot": {"on": "ceiling_joist"}}
            for p in "SN"
        ],
        overrides=stated,
    )  # fmt: skip
    framing = frame_roof(read_brief(brief))
    holders, notes = framing.change_holders, framing.change_notes
    for key in KEYS:
        assert (key in holders) != (key in framing.dropped_overrides)
        assert key in holders or notes[key]
    changed_ones = {k for k, m in framing.members.items() if m.grade == "No.1"}
    assert changed_ones == set(holders.values())
    for key, now in holders.items():
        assert row_of(key) == row_of(now)
        if "#" in row_of(key):
            assert abs(along(framing, now) - along(before, key)) < PLACE
    for key in set(KEYS) - set(holders):  # dropped: no stick of its row stands there
        near = [
            k for k in framing.members
            if row_of(k) == row_of(key)
            and abs(along(framing, k) - along(before, key)) < 0.9 * INCH
        ]  # fmt: skip
        assert not near


def test_every_strut_says_what_its_foot_was_stated_to_be():
    for strut in framed().of_role(Role.STRUT):
        assert strut.foot is not None


def test_a_change_by_number_says_so_and_how_to_keep_it():
    solution = solve(
        read_brief(changed(COTTAGE, overrides=[{"member": "CJ-05-1", "plies": 2}]))
    )
    note = next(f for f in solution.findings if f.rule == "override_by_number")
    assert note.members == ("CJ-05-1",)
    assert "State near (CJ-05-1 stands at 10' 0\", 6' 6\")" in note.words
    near = results(solution)["overrides"]["CJ-05-1"]["near"]
    assert near == pytest.approx([10, 6.5])


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    keys=st.sets(st.sampled_from(KEYS), min_size=1),
    pitch=st.integers(3, 12),
    spacing=st.sampled_from((12, 16, 19.2, 24, 32)),
    length=st.integers(8, 44),
)
def test_once_placed_no_layout_gives_it_to_another_stick(keys, pitch, spacing, length):
    """Stated by number, placed in the layout that they were stated for."""
    over = [{"member": key, "grade": "No.1"} for key in sorted(keys)]
    brief = read_brief(changed(COTTAGE, overrides=over))
    before = frame_roof(brief)
    kept = placed(brief, before)
    assert all(not goes_by_number(o) for o in kept.overrides)
    assert frame_roof(kept).change_holders == before.change_holders
    after = frame_roof(
        replace(
            kept,
            footprint=replace(kept.footprint, length=length * FOOT),
            roof=replace(kept.roof, pitch=pitch / 12),
            rafters=replace(kept.rafters, spacing=spacing * INCH),
            ceiling_joists=replace(kept.ceiling_joists, spacing=spacing * INCH),
            walls=(),
        )
    )
    for key, now in after.change_holders.items():
        if "#" in row_of(key):
            assert abs(along(after, now) - along(before, key)) < PLACE
    for key in keys:
        assert key in after.change_holders or after.change_notes[key]
