"""Forms whose every figure follows from a line of plane geometry."""

import math

import numpy as np
import pytest
from loadfall.solver.form import (
    EdgeSpec,
    LineKind,
    roof_from_outline,
    roof_from_rectangle,
)

from .shapes import AITCH, CROSS, EAVE, ELL, GABLE, RECTANGLE, assert_closed, turned

FOOT = 0.3048


def points_of(line):
    return {tuple(np.round(p, 9) + 0.0) for p in (line.start, line.end)}


def test_gable_rectangle_is_exact():
    form = roof_from_rectangle(12, 8, EAVE, GABLE, EAVE, GABLE)
    (ridge,) = form.ridges
    assert points_of(ridge) == {(0, 4, 2), (12, 4, 2)}
    assert form.hips == form.valleys == ()
    assert [plane.edges for plane in form.planes] == [(0,), (2,)]
    assert form.slope_area == 12 * 8 * math.sqrt(1.25)
    south = form.planes[0]
    assert south.polygon3.tolist() == [[0, 0, 0], [12, 0, 0], [12, 4, 2], [0, 4, 2]]
    np.testing.assert_allclose(
        south.normal, np.array([0, -1, 2]) / math.sqrt(5), rtol=1e-15
    )
    assert {(w.edge, w.polygon3[:, 2].max()) for w in form.walls} == {(1, 2), (3, 2)}
    assert len(form.rakes) == 4
    assert all(rake.length == math.hypot(4, 2) for rake in form.rakes)


def test_hip_rectangle():
    """Ridge = length less width; hips bisect the corners on plan at equal pitch."""
    form = roof_from_outline(RECTANGLE, EAVE)
    (ridge,) = form.ridges
    assert points_of(ridge) == {(4, 4, 2), (8, 4, 2)}
    assert len(form.hips) == 4
    for hip in form.hips:
        run = hip.end - hip.start
        assert abs(run[0]) == pytest.approx(abs(run[1]), rel=1e-12)
        assert hip.rise / hip.run == pytest.approx(0.5 / math.sqrt(2), rel=1e-12)
    assert form.slope_area == pytest.approx(96 * math.sqrt(1.25), rel=1e-12)
    assert sorted(len(plane.nodes) for plane in form.planes) == [3, 3, 4, 4]


@pytest.mark.parametrize(
    ("rise_in_12", "hip_per_foot_of_run"),
    [(4, 17.44), (6, 18.00), (8, 18.76), (12, 20.78)],
)
def test_hip_length_as_on_the_framing_square(rise_in_12, hip_per_foot_of_run):
    """Length of hip or valley per foot of common run, in.

    Source: the second line of the rafter table stamped on a framing square (from
    memory; it is the square root of 12^2 + 12^2 + rise^2).
    """
    form = roof_from_outline(RECTANGLE, EdgeSpec(rise_in_12 / 12))
    for hip in form.hips:
        common_run_ft = 4.0 / FOOT
        hip_in = hip.length / FOOT * 12
        assert hip_in / common_run_ft == pytest.approx(hip_per_foot_of_run, abs=0.005)


def test_hip_of_the_28_by_44_foot_house():
    """6 in 12 over 28 x 44 ft: hips 19.8 ft on plan at 19.47 degrees, peak 7 ft."""
    form = roof_from_rectangle(44 * FOOT, 28 * FOOT, *[EdgeSpec(0.5)] * 4)
    for hip in form.hips:
        assert hip.run / FOOT == pytest.approx(19.80, abs=0.005)
        assert math.degrees(math.atan(hip.rise / hip.run)) == pytest.approx(
            19.47, abs=0.005
        )
    assert form.ridges[0].length / FOOT == pytest.approx(16)
    assert form.ridges[0].start[2] / FOOT == pytest.approx(7)


@pytest.mark.parametrize(("south", "west"), [(0.5, 1.0), (1.0, 0.25), (0.4, 0.7)])
def test_unequal_pitches_turn_the_hip(south, west):
    """On plan tan(angle from the south eave) = pitch of west / pitch of south."""
    form = roof_from_rectangle(
        40, 8, EdgeSpec(south), EAVE, EdgeSpec(south), EdgeSpec(west)
    )
    hip = next(h for h in form.hips if np.allclose(h.start, 0))
    x, y, z = hip.end
    assert y / x == pytest.approx(west / south, rel=1e-12)
    assert z == pytest.approx(south * y, rel=1e-12)


def test_ridge_of_unequal_sides():
    """Two slopes meet where their heights agree: width / (1/p + 1/q)."""
    form = roof_from_rectangle(12, 9, EdgeSpec(0.5), GABLE, EdgeSpec(1.0), GABLE)
    (ridge,) = form.ridges
    assert points_of(ridge) == {(0, 6, 3), (12, 6, 3)}


@pytest.mark.parametrize("degrees", [0, 30, 45, 77.7])
def test_pyramid_has_one_peak(degrees):
    form = roof_from_outline(turned([(0, 0), (6, 0), (6, 6), (0, 6)], degrees), EAVE)
    assert len(form.nodes) == 5
    assert form.ridges == ()
    assert len(form.hips) == 4
    assert form.nodes[4, 2] == pytest.approx(1.5)


@pytest.mark.parametrize("degrees", [0, 17, 45])
@pytest.mark.parametrize("sides", [3, 5, 8, 12])
def test_regular_polygon_has_one_peak(sides, degrees):
    angle = 2 * np.pi * np.arange(sides) / sides
    points = turned(np.c_[np.cos(angle), np.sin(angle)] * 5, degrees)
    form = roof_from_outline(points, EdgeSpec(0.75))
    assert len(form.nodes) == sides + 1
    assert form.nodes[-1, 2] == pytest.approx(0.75 * 5 * math.cos(math.pi / sides))


@pytest.mark.parametrize("degrees", [0, 33])
def test_cross_gable_has_four_valleys_in_one_point(degrees):
    gables = [GABLE if i % 3 == 0 else EAVE for i in range(12)]
    form = roof_from_outline(turned(CROSS, degrees), gables)
    assert len(form.valleys) == 4
    assert len(form.ridges) == 4
    assert len({line.end_node for line in form.valleys}) == 1
    assert form.hips == ()


def test_ell_with_gables():
    """A narrower wing: valley at 45 degrees, its ridge lower, a broken hip to the
    main ridge."""
    form = roof_from_outline(ELL, [EAVE, GABLE, EAVE, EAVE, GABLE, EAVE])
    (valley,) = form.valleys
    assert points_of(valley) == {(6, 7, 0), (3, 4, 1.5)}
    (broken,) = (hip for hip in form.hips if hip.start_node >= 6)
    assert points_of(broken) == {(3, 4, 1.5), (3.5, 3.5, 1.75)}
    assert {points_of(r) == {(3, 4, 1.5), (3, 13, 1.5)} for r in form.ridges} == {
        True,
        False,
    }


def test_planes_of_one_slope_are_one():
    """Above the bar of an H the four side planes of the wings join two and two."""
    form = roof_from_outline(AITCH, EAVE)
    joined = [plane for plane in form.planes if len(plane.edges) > 1]
    assert sorted(plane.edges for plane in joined) == [(1, 9), (3, 7)]
    assert_closed(form)


RECTANGLES = [
    (12, 8, EAVE, EAVE, EAVE, EAVE),
    (8, 12, EAVE, EAVE, EAVE, EAVE),
    (8, 8, EAVE, EAVE, EAVE, EAVE),
    (12, 8, EAVE, GABLE, EAVE, GABLE),
    (12, 8, GABLE, EAVE, GABLE, EAVE),
    (12, 8, EAVE, GABLE, EAVE, EAVE),
    (12, 8, EdgeSpec(0.3), EdgeSpec(0.9), EdgeSpec(0.6), EdgeSpec(0.2)),
    (12, 8, EdgeSpec(1.5), EdgeSpec(0.1), EdgeSpec(1.6), EdgeSpec(0.2)),
    (12, 8, EdgeSpec(0.5, plate=2), GABLE, EdgeSpec(0.5, plate=2), GABLE),
    (12, 8, EAVE, GABLE, GABLE, GABLE),
    (12, 8, EAVE, EAVE, GABLE, GABLE),
]


@pytest.mark.parametrize("case", RECTANGLES, ids=range(len(RECTANGLES)))
def test_rectangle_agrees_with_the_general_method(case):
    length, width, *specs = case
    closed = roof_from_rectangle(*case)
    swept = roof_from_outline([(0, 0), (length, 0), (length, width), (0, width)], specs)
    assert_closed(closed)

    def lines(form):
        return sorted(
            (line.kind.value, *sorted(points_of(line)), line.edge, len(line.planes))
            for line in form.lines
            if line.edge is not None
        ) + sorted(
            (line.kind.value, *sorted(points_of(line)))
            for line in form.lines
            if line.edge is None
        )

    assert lines(closed) == lines(swept)
    for one, other in zip(closed.planes, swept.planes, strict=True):
        assert one.edges == other.edges
        assert len(one.overhang3) == len(other.overhang3)
        np.testing.assert_allclose(one.overhang3, other.overhang3, atol=1e-9)


def test_every_outline_has_eaves_all_round():
    form = roof_from_outline(ELL, EAVE)
    assert sorted(line.edge for line in form.eaves) == list(range(6))
    assert {line.kind for line in form.lines} == {
        LineKind.EAVE,
        LineKind.HIP,
        LineKind.RIDGE,
        LineKind.VALLEY,
    }
