"""Walls at an angle on plan: joists, struts, beams and headers find them.

Checked by hand (simple spans, plane geometry) and as the limit of a square wall.
"""

from __future__ import annotations

import json
import math

import numpy as np
import pytest
from loadfall.solver.brief import read_brief, save_text
from loadfall.solver.report.html import report_html
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT, POUND, POUND_FOOT

from ..outlines import outline
from .houses import COTTAGE, changed

# From (0, 11) to (32, 15) ft: it rises 1 in 8 and stands at 13 ft in the middle.
ANGLED = {"name": "spine", "start": ["0 ft", "11 ft"], "end": ["32 ft", "15 ft"]}
CEILING = {"roof_dead": "10 psf", "roof_live": "20 psf", "ceiling_dead": "5 psf",
           "attic_live": "10 psf", "self_weight": False}  # fmt: skip


def solved(wall=None, **parts):
    return solve(read_brief(changed(COTTAGE, **({"walls": [wall or ANGLED]} | parts))))


@pytest.fixture(scope="module")
def ceiling():
    return solved(purlins=[], struts=[], loads=CEILING)


def test_joists_lap_over_it_where_they_cross_it(ceiling):
    """At 8 ft the wall stands at 12 ft: spans 12 and 14 ft of 30 lb/ft.

    M = 30 x 14^2 / 8 = 735 lb ft; the wall gives 30 x 13 = 390 lb.
    """
    first, second = ceiling.framing.ends("CJ-04-1"), ceiling.framing.ends("CJ-04-2")
    assert first[1] / FOOT == pytest.approx([8, 12, 0])
    assert second[0] / FOOT == pytest.approx([8, 12, 0])
    assert ceiling.members["CJ-04-2"].moment / POUND_FOOT == pytest.approx(
        735, rel=1e-3
    )
    row = ceiling.combinations.row("D+L")
    node = ceiling.framing.members["CJ-04-1"].nodes[-1]
    up = sum(
        ceiling.frame.link_force[row, r.link]
        for r in ceiling.model.ground
        if r.owner == "W-spine" and r.node == node and r.link >= 0
    )
    assert up / POUND == pytest.approx(390, rel=1e-3)


def test_loads_and_reactions_balance(ceiling):
    for roof in (ceiling, solved()):
        flow = roof.flow("D+L")
        assert flow.ground_imbalance < 1e-10
        assert roof.shares().error < 1e-8


def test_a_wall_that_is_all_but_square_is_as_a_square_one():
    """A hundredth of an inch off over 32 ft."""
    square = solved(ANGLED | {"start": ["0 ft", "13 ft"], "end": ["32 ft", "13 ft"]})
    askew = solved(
        ANGLED | {"start": ["0 ft", "13 ft"], "end": ["384 in", "156.01 in"]}
    )
    for key, member in square.members.items():
        if member.utilisation is not None:
            near = askew.members[key].utilisation
            assert near == pytest.approx(member.utilisation, rel=2e-3, abs=1e-4), key


def test_struts_find_the_foot_square_to_it():
    """Purlin at 9 ft from the plate, 4.5 ft up; the wall at 10 ft is at 12.25 ft.

    Square to a line that rises 1 in 8 the gap is 3.25 x 8 / sqrt(65) = 3.225 ft.
    """
    purlins = [p | {"from_plate": "9 ft"} for p in COTTAGE["purlins"]]
    struts = [{"purlin": p, "foot": {"on": "nearest_wall"}} for p in "SN"]
    roof = solved(purlins=purlins, struts=struts)
    foot, top = roof.framing.ends("ST-S-03")
    run = np.hypot(*(top - foot)[:2])
    assert run / FOOT == pytest.approx(3.25 * 8 / math.sqrt(65))
    assert roof.members["ST-S-03"].stands_on.name == "W-spine"


def test_a_header_in_it_spans_along_it():
    """A gap of 6 ft along the wall, jack studs of 1.5 in: 6 ft 1.5 in on the slant."""
    gap = {"start": "12 ft", "end": "18 ft", "header": {}}
    roof = solved(ANGLED | {"openings": [gap]})
    header = roof.members["HD-spine-1"]
    assert header.length == pytest.approx(6.125 * FOOT)
    start, end = roof.framing.ends("HD-spine-1")
    assert (end - start)[1] / (end - start)[0] == pytest.approx(1 / 8)
    assert header.utilisation > 0.1
    assert not roof.path.faults
    ways = {h.taker for h in roof.flow("D+L").path_down("HD-spine-1")}
    assert "W-spine" in ways


def test_a_beam_bears_on_it_where_it_crosses():
    """Along x at 13 ft it crosses the wall at 16 ft."""
    beam = {"name": "b", "size": "2x12", "plies": 2, "carries_joists": False,
            "start": ["0 ft", "13 ft"], "end": ["32 ft", "13 ft"]}  # fmt: skip
    roof = solved(beams=[beam])
    places = {
        round(float(roof.framing.points[s.node][0] / FOOT), 6)
        for s in roof.framing.supports
        if s.member == "B-b" and s.owner == "W-spine"
    }
    assert places == {16.0}


def test_it_is_drawn_and_reads_back(ceiling):
    page = report_html(ceiling)
    assert "wall spine" in page
    brief = ceiling.brief
    assert read_brief(json.loads(save_text(brief))) == brief


def test_a_drawn_outline_has_walls_at_an_angle_and_headers_too():
    """An L; the wall rises 1 in 7 across its left leg and is open from 4 to 9 ft."""
    wall = {"name": "w", "start": ["0 ft", "11 ft"], "end": ["14 ft", "13 ft"],
            "openings": [{"start": "4 ft", "end": "9 ft", "header": {}}]}  # fmt: skip
    ridge = {"kind": "beam", "size": "3.5x16", "species": "LVL", "grade": "2.0E"}
    roof = solve(read_brief(outline("L", ridge=ridge, walls=[wall])))
    assert not roof.path.faults
    first = roof.framing.ends("CJ-1000-1")
    assert first[1] / FOOT == pytest.approx([2, 11 + 2 / 7, 0])
    assert roof.members["HD-w-1"].utilisation > 0.05
    assert (
        roof.flow("D+L" if "D+L" in roof.combinations.names else "D").imbalance < 1e-9
    )
