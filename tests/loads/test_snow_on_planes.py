"""Unbalanced snow on the planes of a hip roof, against sums worked out by hand.

ASCE 7-16 7.6.1 speaks of hip and gable roofs in one breath: every slope to leeward in
turn, the one across from it to windward.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.loads.cases import CASES, Case
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT, PSF

from ..hips import hip

SNOW = {"snow": {"ground": "30 psf", "thermal": 1.0}, "self_weight": False}
PURLINS = [
    {"name": side[0].upper(), "slope": side, "size": "2x6", "from_plate": "7 ft"}
    for side in ("south", "north")
]
LENGTH, HALF, EAVE = 44.0, 14.0, 16 / 12


def roof(name="plain", **parts):
    return solve(read_brief(hip(name, loads=SNOW, **parts)))


@pytest.fixture(scope="module")
def drifted():
    """Purlins make the rafters continuous, so that the drift of 7.6.1 applies."""
    return roof(purlins=PURLINS)


def on_sides(solution, case):
    """Weight of a case on the strips of each side's rafters and on the hips, lb."""
    loads, points = solution.loads, solution.framing.points
    ends = points[loads.nodes]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    down = -loads.load[CASES.index(case), :, 2] * length
    out: dict[str, float] = {}
    for key, name, weight in zip(loads.member, loads.surface, down, strict=True):
        place = key if key.startswith("HP") else name
        out[place] = out.get(place, 0.0) + float(weight) / (PSF * FOOT**2)
    return out


def by_hand(pg, fetch, slope, balanced):
    """7.6.1 in feet and pounds: windward, lee, surcharge and how far from the top."""
    s = 1 / slope
    height = 0.43 * max(fetch, 20) ** (1 / 3) * (pg + 10) ** 0.25 - 1.5
    weight = 0.13 * pg + 14
    return (
        0.3 * balanced, balanced,
        height * weight / math.sqrt(s), 8 / 3 * height * math.sqrt(s),
    )  # fmt: skip


def test_the_whole_drift_of_a_long_side(drifted):
    """pg 30: ps 21 psf; W 14 ft, so l_u is the chart's least, 20 ft.

    The lee plane is a trapezoid 44 ft long at the eave (46.67 ft with the overhang)
    and 16 ft at the ridge; x ft below the ridge it is 16 + 2x long. The drift within
    w of the ridge weighs p (16 + w) w; lee ps over the rest, 0.3 ps to windward, ps on
    both ends, that the wind runs along.
    """
    windward, lee, more, width = by_hand(30, 14, 0.5, 21)
    assert width < HALF
    down = HALF + EAVE
    side = (16 + 44 + 2 * EAVE) / 2 * down
    end = down * down
    ours = on_sides(drifted, Case.SNOW_SOUTH)
    whole = lee * side + more * (16 + width) * width + windward * side
    whole += 2 * 21 * end
    assert sum(ours.values()) == pytest.approx(whole, rel=1e-9)
    north = sum(v for k, v in on_sides(drifted, Case.SNOW_NORTH).items())
    assert north == pytest.approx(whole, rel=1e-9)
    assert ours["roof N"] / ours["roof S"] < 0.3


def test_the_whole_drift_of_an_end(drifted):
    """The end plane is a triangle, 2x long x ft below its top; l_u is 44 - 14 ft."""
    windward, lee, more, width = by_hand(30, 30, 0.5, 21)
    down = HALF + EAVE
    side, end = (16 + 44 + 2 * EAVE) / 2 * down, down * down
    ours = on_sides(drifted, Case.SNOW_EAST)
    whole = lee * end + more * width**2 + windward * end + 2 * 21 * side
    assert sum(ours.values()) == pytest.approx(whole, rel=1e-9)
    assert ours["HP-SE"] == pytest.approx(ours["HP-NE"])
    assert ours["HP-SE"] > ours["HP-SW"]


def test_a_narrow_roof_of_simple_rafters():
    """W 14 ft without purlins: Is pg = 30 psf to leeward and none to windward."""
    plain = roof()
    south = on_sides(plain, Case.SNOW_SOUTH)
    assert south["roof N"] == pytest.approx(0, abs=1e-9)
    assert south["roof S"] > 0
    down = HALF + EAVE
    side, end = (16 + 44 + 2 * EAVE) / 2 * down, down * down
    assert sum(south.values()) == pytest.approx(30 * side + 2 * 21 * end, rel=1e-9)


def test_ends_too_steep_for_it_keep_their_balanced_snow():
    """ASCE 7-16 7.6.1: nothing over 7 in 12; the long sides still have theirs."""
    steep = roof(roof={"form": "hip", "pitch": "6:12", "end_pitch": "9:12"})
    names = steep.combinations.names
    assert "D+SuS" in names
    assert "D+SuN" in names
    assert "D+SuE" not in names
    assert "D+SuW" not in names


def test_the_drift_begins_at_a_joint_of_every_rafter(drifted):
    width = by_hand(30, 14, 0.5, 21)[3]
    framing = drifted.framing
    edge = (HALF - width) * FOOT
    for key in ("R-S-09", "J-S-06"):
        assert (np.abs(framing.points[list(framing.members[key].nodes), 1] - edge)
                < 1e-6).any(), key  # fmt: skip


def test_unbalanced_snow_governs_what_it_loads_more(drifted):
    """The lee of 30 psf is over the balanced 21: it governs a common rafter."""
    plain = roof()
    rafter = plain.members["R-S-09"]
    every = rafter.by_combination["bending"]
    assert every["D+SuS"] > every["D+S"] > every["D+SuN"]


def test_no_wind_is_asked_for_where_the_brief_declines():
    brief = hip(loads={"snow": {"ground": "30 psf", "unbalanced": False}})
    names = solve(read_brief(brief)).combinations.names
    assert names == ("D", "D+Lr", "D+S")
