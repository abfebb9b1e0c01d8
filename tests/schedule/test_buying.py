"""Marks and lumber to buy: nothing lost, nothing counted twice, nothing too short."""

from __future__ import annotations

import json
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from loadfall.solver.basis.sections import section
from loadfall.solver.brief import example_text, read_brief
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.schedule import (
    EndAngles,
    Piece,
    buy,
    cut_pieces,
    lumber_of,
    mark_pieces,
)
from loadfall.solver.schedule.buying import KERF
from loadfall.solver.schedule.lengths import splits, stock_length
from loadfall.solver.schedule.marks import marks_by_member
from loadfall.solver.units import DEGREE, FOOT, INCH, System

from ..hips import HIPS, hip


def piece(length, **parts):
    of = {
        "member": "R-S-00", "number": 1, "of": 1, "role": Role.RAFTER,
        "section": section("2x6"), "species": "Spruce-Pine-Fir", "grade": "No.2",
        "length": length, "first": EndAngles(), "last": EndAngles(),
    }  # fmt: skip
    return Piece(**(of | parts))


lengths = st.lists(st.floats(0.2, 9.0), min_size=1, max_size=40)


@settings(max_examples=80, deadline=None)
@given(lengths, st.sampled_from(System))
def test_every_piece_is_cut_once_from_a_stick_that_holds_it(found, system):
    pieces = [piece(length) for length in found]
    sticks = buy(pieces, system)
    held = [id(p) for stick in sticks for p in stick.pieces]
    assert Counter(held) == Counter(id(p) for p in pieces)
    for stick in sticks:
        need = sum(p.length for p in stick.pieces) + KERF * (len(stick.pieces) - 1)
        assert need <= stick.length + 1e-9
        if stick.sold:
            assert stick.length <= 24 * FOOT + 1e-6
            again = stock_length(stick.length, stick.species, system)
            assert again == pytest.approx(stick.length)
        else:
            assert len(stick.pieces) == 1
            assert stick.pieces[0].length > 24 * FOOT - 0.3
    bought = sum(s.board_feet for s in sticks)
    assert bought >= sum(p.board_feet for p in pieces) - 1e-9


def test_short_pieces_share_a_stick():
    sticks = buy([piece(3 * FOOT) for _ in range(10)], System.IMPERIAL)
    assert [len(s.pieces) for s in sticks] == [5, 5]
    assert [s.length / FOOT for s in sticks] == pytest.approx([16, 16])


@pytest.mark.parametrize(
    ("length", "species", "system", "wanted"),
    [
        (13.4 * FOOT, "SPF", System.IMPERIAL, 14 * FOOT),
        (14 * FOOT, "SPF", System.IMPERIAL, 14 * FOOT),
        (2 * FOOT, "SPF", System.IMPERIAL, 8 * FOOT),
        (25 * FOOT, "SPF", System.IMPERIAL, None),
        (25 * FOOT, "LVL", System.IMPERIAL, 26 * FOOT),
        (4.25, "SPF", System.METRIC, 4.5),
        (4.5, "SPF", System.METRIC, 4.5),
    ],
)
def test_lengths_as_they_are_sold(length, species, system, wanted):
    assert stock_length(length, species, system) == (
        None if wanted is None else pytest.approx(wanted)
    )


def test_splices_stand_on_marks_alone():
    assert splits(40 * FOOT, 24 * FOOT, None) == pytest.approx(
        [40 * FOOT / 3, 80 * FOOT / 3]
    )
    assert splits(30.0, 7.3, [4.0, 11.0, 26.0]) == [4.0, 11.0, 26.0]
    assert splits(30.0, 7.3, []) == []


def test_marks_gather_what_is_cut_alike():
    up, down = EndAngles(face=20 * DEGREE), EndAngles(face=-20 * DEGREE)
    alike = [
        piece(2.0, first=up, last=up),
        piece(2.0, first=down, last=down),  # the same stick turned over
        piece(2.0 + INCH / 100, first=up, last=up),
    ]
    others = [
        piece(2.0, first=up, last=down),
        piece(2.1, first=up, last=up),
        piece(2.0, first=up, last=up, grade="No.1"),
        piece(2.0, first=up, last=up, seat=0.5),
    ]
    marks = mark_pieces([*alike, *others])
    assert [len(m.pieces) for m in marks if m.first is alike[0]] == [3]
    assert len(marks) == 1 + len(others)
    assert len({m.name for m in marks}) == len(marks)


def test_mirror_pictures_share_a_number_and_differ_by_hand():
    cheek = EndAngles(face=20 * DEGREE, edge=40 * DEGREE, tilt=35 * DEGREE)
    other = EndAngles(face=20 * DEGREE, edge=-40 * DEGREE, tilt=-35 * DEGREE)
    marks = mark_pieces(
        [piece(2.0, last=cheek, seat=0.4), piece(2.0, last=other, seat=0.4)]
    )
    assert {m.name for m in marks} == {"R1L", "R1R"}


@pytest.mark.parametrize("name", HIPS)
def test_a_roof_is_whole_in_marks_sticks_and_totals(name):
    brief = read_brief(hip(name))
    framing = frame_roof(brief)
    pieces = cut_pieces(brief, framing)
    marks, sticks = mark_pieces(pieces), buy(pieces, brief.units)
    assert sum(len(m.pieces) for m in marks) == len(pieces)
    assert set(marks_by_member(marks)) == set(framing.members)
    total = lumber_of(brief, framing)
    assert total.board_feet == pytest.approx(sum(m.board_feet for m in marks))
    assert total.board_feet_to_buy == pytest.approx(sum(s.board_feet for s in sticks))
    assert total.board_feet <= total.board_feet_to_buy
    jacks = [m for m in marks if m.first.role is Role.JACK_RAFTER]
    left = sum(len(m.pieces) for m in jacks if m.name.endswith("L"))
    assert left == sum(len(m.pieces) for m in jacks if m.name.endswith("R"))


def test_metric_roofs_are_bought_in_metric_lengths():
    brief = read_brief(json.loads(example_text()) | {"units": "metric"})
    sticks = buy(cut_pieces(brief, frame_roof(brief)), brief.units)
    assert all(s.length / 0.3 == pytest.approx(round(s.length / 0.3)) for s in sticks)
