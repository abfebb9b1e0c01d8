"""Lengths, cuts and board feet against what is stamped on framing squares."""

from __future__ import annotations

import json
import math
from functools import cache

import numpy as np
import pytest
from loadfall.solver.basis.sections import section
from loadfall.solver.brief import example_text, read_brief
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.framing.solids import solids
from loadfall.solver.schedule import board_feet, cut_pieces
from loadfall.solver.units import DEGREE, FOOT, INCH

from ..hips import HIPS, hip

# Rafter table of a framing square, from memory: rise in 12 of run to length of a hip
# for each foot of common run, difference of jacks at 2 ft centres, side cut of jacks
# (inches on the blade to 12 on the tongue). In inches, rounded as stamped.
SQUARE = {
    4: (17.44, 25.30, 11.38),
    6: (18.00, 26.83, 10.75),
    8: (18.76, 28.84, 10.00),
    12: (20.78, 33.94, 8.50),
}


@cache
def pieces_of(name: str, pitch: str = "6:12"):
    roof = hip(name)["roof"] | {"pitch": pitch}
    brief = read_brief(hip(name, roof=roof))
    framing = frame_roof(brief)
    return brief, framing, cut_pieces(brief, framing)


@pytest.mark.parametrize("rise", SQUARE)
def test_jacks_step_and_are_cut_as_the_square_says(rise):
    _, step, side_cut = SQUARE[rise]
    _, _, pieces = pieces_of("plain", f"{rise}:12")
    jacks = {p.member: p for p in pieces if p.role is Role.JACK_RAFTER}
    lengths = sorted({round(p.length, 6) for p in jacks.values()})
    steps = np.diff(lengths) / INCH
    assert len(steps) >= 4
    assert steps == pytest.approx(step, abs=0.01)
    for piece in jacks.values():
        assert abs(math.tan(piece.first.face)) * 12 == pytest.approx(rise)
        assert abs(math.tan(piece.last.face)) * 12 == pytest.approx(rise)
        assert 12 / abs(math.tan(piece.last.edge)) == pytest.approx(side_cut, abs=0.03)
        assert abs(piece.last.tilt) == pytest.approx(45 * DEGREE)


@pytest.mark.parametrize("rise", SQUARE)
def test_a_hip_is_cut_as_the_square_says(rise):
    brief, _, pieces = pieces_of("plain", f"{rise}:12")
    hips = [p for p in pieces if p.role is Role.HIP_RAFTER]
    assert len(hips) == 4
    per_foot = SQUARE[rise][0]
    for piece in hips:
        assert abs(math.tan(piece.first.face)) == pytest.approx(
            rise / (12 * math.sqrt(2))
        )
        run = brief.footprint.width / 2 + brief.roof.overhang
        line = per_foot * run / FOOT * INCH
        # Cut back at the ridge and out at the tail by its neighbours' thickness.
        assert piece.length == pytest.approx(line, abs=6 * INCH)
    # A foot more of run is what the table says, all else alike.
    wide = read_brief(
        hip(
            "plain",
            footprint={"length": "44 ft", "width": "30 ft"},
            roof=hip("plain")["roof"] | {"pitch": f"{rise}:12"},
            walls=[],
        )
    )
    longer = [
        p for p in cut_pieces(wide, frame_roof(wide)) if p.role is Role.HIP_RAFTER
    ]
    gained = (longer[0].length - hips[0].length) / INCH
    assert gained == pytest.approx(per_foot, abs=0.01)


@pytest.mark.parametrize(("rise", "stamped"), [(4, 12.65), (6, 13.42), (12, 16.97)])
def test_a_common_rafter_is_as_long_as_the_square_says(rise, stamped):
    data = json.loads(example_text())
    data["roof"]["pitch"] = f"{rise}:12"
    data |= {"purlins": [], "struts": []}
    brief = read_brief(data)
    pieces = cut_pieces(brief, frame_roof(brief))
    rafter = next(p for p in pieces if p.role is Role.RAFTER)
    run = brief.footprint.width / 2 + brief.roof.overhang
    run -= section(brief.ridge.size).breadth / 2
    plumb_to_plumb = stamped * run / FOOT * INCH
    slope = math.atan(rise / 12)
    drop = rafter.section.depth * math.tan(slope)  # a plumb cut's long point
    assert rafter.length == pytest.approx(plumb_to_plumb + drop, abs=0.01 * FOOT)
    tail = brief.roof.overhang / math.cos(slope)
    assert rafter.seat == pytest.approx(tail)
    assert rafter.seat_depth == pytest.approx(brief.rafters.seat_depth)


@pytest.mark.parametrize(
    ("size", "feet", "wanted"),
    [
        ("2x4", 16, 10 + 2 / 3), ("2x6", 12, 12.0), ("2x8", 12, 16.0),
        ("2x10", 18, 30.0), ("4x6", 10, 20.0), ("1x8", 12, 8.0), ("6x6", 10, 30.0),
    ],
)  # fmt: skip
def test_board_feet(size, feet, wanted):
    """As in any lumber yard's board-foot table; from memory."""
    assert board_feet(section(size, 3), feet * FOOT) == pytest.approx(wanted)


def test_sizes_that_are_not_nominal_count_as_they_measure():
    lvl = section("1.75x11.875")
    assert board_feet(lvl, 12 * FOOT) == pytest.approx(1.75 * 11.875)
    metric = section("47x150 mm")
    inches = 47 / 25.4 * 150 / 25.4
    assert board_feet(metric, 12 * FOOT) == pytest.approx(inches)


@pytest.mark.parametrize("name", HIPS)
def test_no_piece_is_shorter_than_the_wood_drawn(name):
    """The volume of the drawn pieces is what the lengths say, less their cuts."""
    brief, framing, pieces = pieces_of(name)
    drawn = solids(brief, framing)
    for key, solid in drawn.items():
        mine = [p for p in pieces if p.member == key]
        assert [p.number for p in mine] == list(range(1, len(mine) + 1))
        assert {p.of for p in mine} == {len(mine)}
        block = solid.vertices[:8]
        way = block[4:].mean(axis=0) - block[:4].mean(axis=0)
        reach = block @ (way / np.linalg.norm(way))
        plies = len(solid.vertices) // 8
        assert sum(p.length for p in mine) == pytest.approx(
            plies * float(np.ptp(reach))
        )


def test_a_long_purlin_is_spliced_over_its_struts():
    _, framing, pieces = pieces_of("purlins")
    runs = [p for p in pieces if p.member == "P-S"]
    assert len(runs) > 1
    assert all(p.spliced and p.length <= 24 * FOOT for p in runs)
    x, _, _ = framing.ends("P-S")[0]
    tops = {
        round(float(framing.ends(m.key)[1][0] - x), 6)
        for m in framing.of_role(Role.STRUT)
        if m.group == "S"
    }
    assert round(runs[0].length, 6) in tops
