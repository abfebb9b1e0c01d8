"""Where purlins can have legal braces: the closed form against trying every place."""

from __future__ import annotations

import math

import numpy as np
import pytest
from loadfall.solver.audit.zone import purlin_zone
from loadfall.solver.brief import read_brief
from loadfall.solver.units import FOOT, INCH

from ..solve.houses import BUNGALOW, COTTAGE, changed


def strips(house, wall="W-spine", slope="S"):
    zone = purlin_zone(read_brief(house))
    return [z for z in zone if z.wall == wall and z.slope == slope]


def tried(pitch, away, run):
    """Places whose brace is 45 degrees or steeper, 8 ft or shorter (IRC R802.4.5)."""
    p = np.linspace(1e-4, run - 3 * INCH, 200_001)
    height, level = pitch * p, np.abs(p - away)
    legal = (height >= level) & (np.hypot(height, level) <= 8 * FOOT)
    return (p[legal][0], p[legal][-1]) if legal.any() else None


@pytest.mark.parametrize("pitch", [2, 4, 5, 6, 8, 10, 12, 14, 18])
@pytest.mark.parametrize("wall", [4, 9, 13, 17, 22])
def test_the_strip_is_where_trying_finds_it(pitch, wall):
    line = [{"name": "spine", "start": ["0 ft", f"{wall} ft"],
             "end": ["32 ft", f"{wall} ft"]}]  # fmt: skip
    house = changed(
        COTTAGE, roof={"pitch": f"{pitch}:12"}, walls=line, struts=[], purlins=[]
    )
    for slope, away in (("S", wall * FOOT), ("N", (26 - wall) * FOOT)):
        (strip,) = strips(house, slope=slope)
        found = tried(pitch / 12, away, 13 * FOOT)
        if found is None or found[1] - found[0] < INCH:
            assert strip.nearest is None
            assert strip.why_none
        else:
            assert strip.nearest == pytest.approx(found[0], abs=2e-3)
            assert strip.farthest == pytest.approx(found[1], abs=2e-3)
            assert strip.why_none is None


def test_a_wide_roof_has_no_place_at_all():
    """6:12 over a spine wall 20 ft from the plate: plumb braces are 9 ft and more."""
    wide = changed(
        COTTAGE,
        footprint={"width": "40 ft"},
        walls=[
            {"name": "spine", "start": ["0 ft", "20 ft"], "end": ["32 ft", "20 ft"]}
        ],
    )
    (strip,) = strips(wide)
    assert strip.nearest_any_length == pytest.approx(20 * FOOT / 1.5)
    assert strip.nearest is None
    assert "8 ft" in strip.why_none


def test_a_gap_in_the_wall_is_a_gap_in_the_strip():
    found = strips(BUNGALOW)
    assert [(z.start, z.end) for z in found] == [
        (0.0, pytest.approx(14 * FOOT)),
        (pytest.approx(30 * FOOT), pytest.approx(44 * FOOT)),
    ]


def test_partitions_and_walls_across_hold_no_braces():
    walls = [
        BUNGALOW["walls"][0] | {"bearing": False},
        {"name": "across", "start": ["20 ft", "0 ft"], "end": ["20 ft", "30 ft"]},
    ]
    house = changed(BUNGALOW, walls=walls, struts=[], purlins=[])
    assert {z.wall for z in purlin_zone(read_brief(house))} == {"W-SOUTH", "W-NORTH"}


def test_45_degrees_begins_where_heights_and_distance_meet():
    """t x = a - x, so x = a / (1 + t): 13 ft / 1.5 at 6:12."""
    (strip,) = strips(COTTAGE)
    assert strip.nearest_any_length == pytest.approx(13 * FOOT / 1.5)
    assert math.atan2(0.5 * strip.nearest, 13 * FOOT - strip.nearest) == pytest.approx(
        math.pi / 4
    )
