"""Every outline and spec that cannot be used is refused by name."""

import math

import pytest
from loadfall.solver.errors import BriefError, FramingError
from loadfall.solver.form import (
    EdgeSpec,
    Tier,
    Wing,
    dutch_gable_roof,
    gambrel_roof,
    roof_from_outline,
    winged_roof,
)

from .shapes import EAVE, ELL, GABLE, RECTANGLE, assert_closed, shoelace

SQUARE = [(0, 0), (4, 0), (4, 4), (0, 4)]


@pytest.mark.parametrize(
    ("points", "field"),
    [
        ([(0, 0), (4, 4), (4, 0), (0, 4)], "outline[0]"),
        ([(0, 0), (4, 0), (4, 0), (4, 4)], "outline[2]"),
        ([*SQUARE, (0, 0)], "outline[0]"),
        ([(0, 0), (4, 0), (math.nan, 4)], "outline[2]"),
        ([(0, 0), (4, math.inf), (4, 4)], "outline[1]"),
        ([(0, 0), (4, 0)], "outline"),
        ([(0, 0), (4, 0), (8, 0)], "outline[1]"),
        ([(0, 0), (4, 0), (2, 0), (2, 3)], "outline[2]"),
        ([(0, 0, 0), (4, 0, 0), (4, 4, 0)], "outline"),
        ("rectangle", "outline"),
        ([(0, 0), (4, 0), (4, 4), (2, 0), (0, 4)], "outline[3]"),
        ([(0, 0), (4e5, 0), (4, 4)], "outline"),
    ],
)
def test_outline(points, field):
    with pytest.raises(BriefError) as refused:
        roof_from_outline(points, EAVE)
    assert refused.value.field == field


@pytest.mark.parametrize(
    ("spec", "field"),
    [
        (EdgeSpec(0.0), "edges[2].pitch"),
        (EdgeSpec(-0.5), "edges[2].pitch"),
        (EdgeSpec(math.nan), "edges[2].pitch"),
        (EdgeSpec(math.inf), "edges[2].pitch"),
        (EdgeSpec("6:12"), "edges[2].pitch"),
        (EdgeSpec(True), "edges[2].pitch"),
        (EdgeSpec(0.5, overhang=-0.1), "edges[2].overhang"),
        (EdgeSpec(0.5, rake=math.nan), "edges[2].rake"),
        (EdgeSpec(0.5, plate=math.inf), "edges[2].plate"),
        (EdgeSpec(0.5, above=(Tier(0.0, 1.0),)), "edges[2].above[0].start"),
        (
            EdgeSpec(0.5, above=(Tier(1.0, 1.0), Tier(1.0, 0.5))),
            "edges[2].above[1].start",
        ),
        (EdgeSpec(0.5, above=(Tier(1.0, 0.0),)), "edges[2].above[0].pitch"),
    ],
)
def test_edge(spec, field):
    with pytest.raises(BriefError) as refused:
        roof_from_outline(SQUARE, [EAVE, EAVE, spec, EAVE])
    assert refused.value.field == field


def test_number_of_edges():
    with pytest.raises(BriefError, match="one for each of the 4 edges"):
        roof_from_outline(SQUARE, [EAVE] * 3)


def test_courtyard():
    with pytest.raises(BriefError, match="holes"):
        roof_from_outline(SQUARE, EAVE, holes=[[(1, 1), (2, 1), (2, 2)]])


def test_gables_only():
    with pytest.raises(BriefError, match="at least one eave"):
        roof_from_outline(SQUARE, GABLE)


@pytest.mark.parametrize("other", [EdgeSpec(0.75), GABLE, EdgeSpec(0.5, plate=1.0)])
def test_two_roofs_from_one_straight_wall(other):
    points = [(0, 0), (2, 0), (4, 0), (4, 4), (0, 4)]
    with pytest.raises(BriefError, match="one straight line") as refused:
        roof_from_outline(points, [EAVE, other, EAVE, EAVE, EAVE])
    assert refused.value.field == "edges[1]"
    assert "edge 0" in str(refused.value)


def test_overhangs_may_differ_on_one_straight_wall():
    points = [(0, 0), (2, 0), (4, 0), (4, 4), (0, 4)]
    specs = [EAVE, EdgeSpec(0.5, overhang=0.8), EAVE, EAVE, EAVE]
    form = roof_from_outline(points, specs)
    assert_closed(form)
    assert form.planes[0].edges == (0, 1)
    reached = {round(y, 9) for y in form.planes[0].overhang3[:, 1]}
    assert {-0.8, -0.4} <= reached


def test_gables_round_a_part_of_the_plan():
    """One eave at the foot of an L cannot reach round its corner."""
    specs = [GABLE] * 6
    specs[3] = EAVE
    with pytest.raises(FramingError, match="do not cover") as refused:
        roof_from_outline(ELL, specs)
    assert "edges [" in str(refused.value)


def test_clockwise_is_turned_round_with_its_edges():
    points = SQUARE[::-1]
    specs = [EdgeSpec(0.1 * (i + 1)) for i in range(4)]
    form = roof_from_outline(points, specs)
    assert shoelace(form.outline.polygon) > 0
    for edge, spec in enumerate(form.edges):
        given = int(form.outline.given[edge])
        assert spec == specs[given]
        ends = {points[given], points[(given + 1) % 4]}
        start = form.outline.polygon[edge]
        end = form.outline.polygon[(edge + 1) % 4]
        assert {tuple(start), tuple(end)} == ends


def test_clockwise_errors_name_the_given_edge():
    points = [(0, 0), (2, 0), (4, 0), (4, 4), (0, 4)][::-1]
    specs = [EAVE, EAVE, EAVE, EdgeSpec(0.75), EAVE]
    with pytest.raises(BriefError, match="one straight line") as refused:
        roof_from_outline(points, specs)
    assert {refused.value.field, "edges[2]"} <= {"edges[2]", "edges[3]"}
    assert "edge 2" in str(refused.value) or "edge 3" in str(refused.value)


@pytest.mark.parametrize("setback", [0.0, -1.0, 4.0, 9.0])
def test_dutch_gable_beyond_its_ridge(setback):
    with pytest.raises(BriefError, match="setback"):
        dutch_gable_roof(12, 8, 0.5, setback)


@pytest.mark.parametrize("run", [0.0, 4.0, -1.0])
def test_gambrel_break_beyond_its_ridge(run):
    with pytest.raises(BriefError, match="run"):
        gambrel_roof(12, 8, 1.5, 0.4, run)


@pytest.mark.parametrize(
    ("start", "width", "length", "field"),
    [
        (-1, 4, 3, "wings[1].start"),
        (4, 4, 3, "wings[1].start"),
        (10, 4, 3, "wings[1].start"),
        (6, 0, 3, "wings[1].width"),
        (6, 4, math.nan, "wings[1].length"),
    ],
)
def test_wing_that_does_not_fit(start, width, length, field):
    first = Wing(0, 1.0, 4.0, 3.0, EAVE, EAVE, GABLE)
    second = Wing(0, start, width, length, EAVE, EAVE, GABLE)
    with pytest.raises(BriefError) as refused:
        winged_roof(12, 8, [EAVE] * 4, [first, second])
    assert refused.value.field in {field, "wings[0].start"}


def test_a_good_outline_is_not_refused():
    assert_closed(roof_from_outline(RECTANGLE, EAVE))
