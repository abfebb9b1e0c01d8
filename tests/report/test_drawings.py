"""Drawings: to scale, about the right members, and readable without colour."""

from __future__ import annotations

import re

import pytest
from loadfall.solver.report.cross_section import cross_section, worst_cut
from loadfall.solver.report.plan import ceiling_plan, roof_plan, zone_words
from loadfall.solver.report.sketch import Sketch, hull
from loadfall.solver.units import FOOT

from .briefs import ALL, solved
from .reading import read


def test_a_sketch_is_to_scale():
    sketch = Sketch((-1.0, 0.0), (9.0, 4.0), width=500, margin=(50, 20, 50, 30))
    assert sketch.scale == pytest.approx(40.0)
    assert sketch.at((-1.0, 4.0)) == pytest.approx((50.0, 20.0))
    assert sketch.at((9.0, 0.0)) == pytest.approx((450.0, 180.0))
    assert (sketch.width, sketch.height) == pytest.approx((500.0, 210.0))
    tall = Sketch((0.0, 0.0), (10.0, 10.0), width=500, tallest=300)
    assert tall.height == pytest.approx(300.0)


def test_a_hull_is_the_outline():
    corners = [(0, 0), (2, 0), (2, 1), (0, 1)]
    assert set(hull([*corners, (1, 0.5), (1, 0), (2, 0)])) == set(corners)


def test_a_dimension_is_as_long_as_what_it_measures():
    sketch = Sketch((0.0, 0.0), (10.0, 5.0))
    sketch.dimension((1.0, 1.0), (4.0, 1.0), "3 m", 20)
    lines = re.findall(r'd="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"', "".join(
        sketch.svg("t").text.split("\n")))  # fmt: skip
    lengths = [abs(float(b) - float(a)) for a, _, b, _ in lines]
    assert any(v == pytest.approx(3 * sketch.scale, abs=0.2) for v in lengths)


@pytest.mark.parametrize("name", list(ALL))
@pytest.mark.parametrize("draw", [cross_section, ceiling_plan, roof_plan])
def test_every_drawing_is_well_made(name, draw):
    drawn = draw(solved(name)).text
    page = read(drawn)
    assert page.faults == []
    assert "nan" not in drawn
    assert "inf" not in re.sub(r"<[^>]*aria[^>]*>|<title>.*?</title>", "", drawn)


def test_the_section_is_taken_through_the_worst_strut():
    solution = solved("cottage")
    cut = worst_cut(solution)
    under = solution.members[cut.about].stands_on.name
    most = max(
        m.utilisation
        for m in solution.members.values()
        if m.role == "ceiling_joist" and m.strut_load > 0
    )
    assert solution.members[under].utilisation == pytest.approx(most)
    text = read(cross_section(solution).text).text
    for words in (cut.about, "26' 0\"", "6' 6\"", "by hand 1,050 lb", "6:12"):
        assert words in text


def test_a_strut_without_load_path_is_drawn_first_and_without_force():
    solution = solved("opened")
    cut = worst_cut(solution)
    assert cut.about in solution.path.faults
    text = read(cross_section(solution).text).text
    assert f"{cut.about}: no load path" in text
    assert not re.search(rf"{cut.about}  [\d,]+ lb", text)


def test_plan_marks_every_failing_member():
    solution = solved("opened")
    both = ceiling_plan(solution).text + roof_plan(solution).text
    drawn = {"ceiling_joist", "beam", "strut", "rafter", "purlin", "collar_tie"}
    failing = [
        m
        for m in solution.members.values()
        if m.role in drawn and (m.analysis_passes is False or m.reason)
    ]
    found = len(re.findall(r"#mark-(?:over|none|keeps)", both))
    assert found == len(failing)


def test_strut_forces_stand_on_the_plan():
    solution = solved("cottage")
    text = read(ceiling_plan(solution).text).text
    assert len(re.findall(r"\d lb", text)) == len(solution.hand.struts)


def test_the_legal_strip_is_where_the_zone_says():
    solution = solved("cottage")
    strips = [s for s in solution.zone if s.nearest is not None]
    assert roof_plan(solution).text.count("#hatch-legal") == len(strips)
    near = min(s.nearest for s in strips if s.wall == "W-spine")
    # t p = run - p: 6:12 over a run of 13 ft
    assert near == pytest.approx(13 / 1.5 * FOOT, rel=1e-9)
    assert "8' 0\"" in zone_words(solution)


def test_a_roof_without_a_legal_strip_says_why():
    solution = solved("ridge beam")
    if not any(s.nearest is not None for s in solution.zone):
        assert "Nowhere" in zone_words(solution)
