"""Sheds, gambrels, Dutch and clipped gables, wings, and walls within the roof."""

import math

import numpy as np
import pytest
from loadfall.solver.form import (
    EdgeSpec,
    LineKind,
    Tier,
    Wing,
    clipped_gable_end,
    dutch_gable_roof,
    gambrel_roof,
    gambrel_side,
    roof_from_outline,
    roof_from_rectangle,
    shed_roof,
    winged_roof,
)

from .shapes import EAVE, ELL, GABLE, assert_closed, turned


def ends_of(lines):
    return sorted(
        sorted(tuple((np.round(p, 6) + 0.0).tolist()) for p in (line.start, line.end))
        for line in lines
    )


def test_shed_is_one_plane():
    form = shed_roof(8, 5, 0.25, overhang=0.4, rake=0.3)
    assert_closed(form)
    (plane,) = form.planes
    assert plane.slope_area == pytest.approx(40 * math.hypot(1, 0.25))
    assert plane.polygon3[:, 2].max() == pytest.approx(1.25)
    assert len(form.walls) == 3
    assert len(form.of_kind(LineKind.CORNER)) == 2
    low, high = plane.overhang3.min(axis=0), plane.overhang3.max(axis=0)
    np.testing.assert_allclose(low, [-0.3, -0.4, -0.1], atol=1e-9)
    np.testing.assert_allclose(high, [8.3, 5.3, 1.325], atol=1e-9)


def test_gambrel():
    """Breaks at run 1.5 m, height 1.5 x 1.5; ridge 0.4 x 2.5 m above them."""
    form = gambrel_roof(12, 8, lower=1.5, upper=0.4, run=1.5)
    assert_closed(form)
    assert ends_of(form.of_kind(LineKind.BREAK)) == [
        [(0, 1.5, 2.25), (12, 1.5, 2.25)],
        [(0, 6.5, 2.25), (12, 6.5, 2.25)],
    ]
    assert ends_of(form.ridges) == [[(0, 4, 3.25), (12, 4, 3.25)]]
    assert [(p.edges, p.tier, p.pitch) for p in form.planes] == [
        ((0,), 0, 1.5),
        ((0,), 1, 0.4),
        ((2,), 0, 1.5),
        ((2,), 1, 0.4),
    ]
    assert len(form.of_kind(LineKind.RAKE)) == 8


def test_mansard_over_an_ell():
    form = roof_from_outline(ELL, gambrel_side(1.5, 0.35, 1.2))
    assert_closed(form)
    breaks = form.of_kind(LineKind.BREAK)
    assert len(breaks) == 6
    assert all(np.allclose([b.start[2], b.end[2]], 1.8) for b in breaks)
    assert {plane.tier for plane in form.planes} == {0, 1}


def test_dutch_gable():
    form = dutch_gable_roof(12, 8, 0.5, 2.0)
    assert_closed(form)
    assert ends_of(form.ridges) == [[(2, 4, 2), (10, 4, 2)]]
    assert ends_of(form.of_kind(LineKind.ABUTMENT)) == [
        [(2, 2, 1), (2, 6, 1)],
        [(10, 2, 1), (10, 6, 1)],
    ]
    assert {hip.rise for hip in form.hips} == {1.0}
    assert [wall.polygon3[:, 2].max() for wall in form.walls] == [2.0, 2.0]
    assert len(form.rakes) == 4


def test_clipped_gable():
    end = clipped_gable_end(1.2, 0.8)
    form = roof_from_rectangle(12, 8, EAVE, end, EAVE, end)
    assert_closed(form)
    upper = [line for line in form.eaves if line.start[2] > 0]
    assert ends_of(upper) == [
        [(0, 2.4, 1.2), (0, 5.6, 1.2)],
        [(12, 2.4, 1.2), (12, 5.6, 1.2)],
    ]
    assert ends_of(form.ridges) == [[(1, 4, 2), (11, 4, 2)]]


def test_change_above_the_ridge_is_reported():
    high = EdgeSpec(0.5, above=(Tier(5.0, None),))
    form = roof_from_rectangle(12, 8, EAVE, high, EAVE, GABLE)
    assert form.unreached == ((1, 1),)
    assert roof_from_rectangle(12, 8, EAVE, GABLE, EAVE, GABLE).unreached == ()
    assert dutch_gable_roof(12, 8, 0.5, 2.0).unreached == ()


def wing(plate, pitch=0.75):
    spec = EdgeSpec(pitch, overhang=0.3, plate=plate)
    return Wing(0, 5.0, 5.0, 5.0, spec, spec, GABLE)


MAIN = [EAVE, GABLE, EAVE, GABLE]


def test_wing_level_with_the_main_roof():
    """Valleys start at the inside corners and meet where the wing's ridge ends."""
    form = winged_roof(14, 8, MAIN, [wing(0.0)])
    assert_closed(form)
    # Ridge of the wing 0.75 x 2.5 high, met by the main slope at 1.875 / 0.5.
    assert ends_of(form.valleys) == [
        [(5, 0, 0), (7.5, 3.75, 1.875)],
        [(7.5, 3.75, 1.875), (10, 0, 0)],
    ]
    assert sorted(p.edges for p in form.planes) == [(0, 4), (1,), (3,), (6,)]


def test_lower_wing_dies_into_the_main_roof():
    form = winged_roof(14, 8, MAIN, [wing(-0.8)])
    assert_closed(form)
    # The wing's slopes run up the main wall to its plate, 0.8 / 0.75 along it.
    along = 0.8 / 0.75
    expected = [
        [(5, 0, -0.8), (5 + along, 0, 0)],
        [(10 - along, 0, 0), (10, 0, -0.8)],
    ]
    np.testing.assert_allclose(
        ends_of(form.of_kind(LineKind.ABUTMENT)), expected, atol=1e-5
    )
    peak = max(v.end[2] for v in form.valleys)
    assert peak == pytest.approx(0.75 * 2.5 - 0.8)


def test_higher_wing_stands_out_of_the_main_roof():
    form = winged_roof(14, 8, MAIN, [wing(0.8)])
    assert_closed(form)
    sides = [a for a in form.of_kind(LineKind.ABUTMENT) if a.start[0] == 5]
    # Its west wall goes on inward over the main slope to the wing's plate: 0.8 / 0.5.
    assert ends_of(sides) == [[(5, 0, 0), (5, 1.6, 0.8)]]
    inner = [e for e in form.eaves if e.start[2] > 0.5]
    assert ends_of(inner) == [
        [(5, -5, 0.8), (5, 1.6, 0.8)],
        [(10, -5, 0.8), (10, 1.6, 0.8)],
    ]


def test_wings_on_all_sides():
    wings = [
        Wing(0, 1, 4, 3, EAVE, EAVE, GABLE),
        Wing(0, 9, 6, 4, EdgeSpec(0.6), EdgeSpec(0.6), EAVE),
        Wing(1, 2, 5, 2, EAVE, EAVE, GABLE),
        Wing(2, 5, 5, 3, EdgeSpec(1.0), EdgeSpec(1.0), GABLE),
        Wing(3, 1, 6, 3, EAVE, EAVE, EAVE),
    ]
    form = winged_roof(16, 9, [EAVE] * 4, wings)
    assert_closed(form)
    assert form.outline.area == pytest.approx(16 * 9 + 12 + 24 + 10 + 15 + 18)


def test_wing_flush_with_a_corner_makes_an_ell():
    form = winged_roof(14, 7, [EAVE] * 4, [Wing(2, 8, 6, 6, EAVE, EAVE, EAVE)])
    plain = roof_from_outline(ELL, EAVE)
    assert_closed(form)
    assert form.slope_area == pytest.approx(plain.slope_area)
    assert ends_of(form.ridges) == ends_of(plain.ridges)


def test_gable_wall_goes_on_above_a_lower_roof():
    """A gable beside a lower bump: its wall rises from the bump's slope."""
    points = [(0, 0), (10, 0), (10, 4), (8, 4), (8, 6), (0, 6)]
    form = roof_from_outline(points, [EAVE, GABLE] * 3)
    assert_closed(form)
    assert ends_of(form.of_kind(LineKind.ABUTMENT)) == [[(8, 2, 1), (8, 4, 0)]]
    wall = next(w for w in form.walls if w.edge == 3)
    assert sorted(np.round(wall.polygon3, 9).tolist()) == [
        [8, 2, 1], [8, 3, 1.5], [8, 4, 0], [8, 6, 0],
    ]  # fmt: skip
    assert form.height_at(8.01, 3.0) == pytest.approx(0.5)
    assert form.height_at(7.99, 3.0) == pytest.approx(1.5)


@pytest.mark.parametrize("first", range(6))
@pytest.mark.parametrize(("east", "degrees"), [(1, 0), (-1, 0), (1, 30), (1, 77.7)])
def test_lower_pitch_runs_on_over_a_steeper_one(east, degrees, first):
    """Where the step between two wall lines has died out, the lower pitch goes on.

    The outer wall's roof (pitch 0.5, 0.5 m further out) reaches the inner wall's
    (pitch 1) at a height of 0.5 m; which of them goes on is free, and this is ours.
    """
    points = np.array([(0, 0), (6, 0), (6, -0.5), (12, -0.5), (12, 8), (0, 8)])
    specs = [EdgeSpec(1.0), EAVE, EAVE, GABLE, EAVE, GABLE]
    specs = [specs[(i - first) % 6] for i in range(6)]
    points = turned(points * [east, 1], degrees)
    form = roof_from_outline(np.roll(points, first, axis=0), specs)
    assert_closed(form)
    x, y = np.array([1.0, 3.0, 5.0, 9.0]), 2.0
    plan = turned(np.c_[x * east, np.full(4, y)], degrees)
    np.testing.assert_allclose(form.height_at(*plan.T), 0.5 * (y + 0.5))
    (line,) = form.of_kind(LineKind.BREAK)
    assert line.start[2] == pytest.approx(0.5)


def test_points_outside_have_no_height():
    form = roof_from_outline(ELL, EAVE)
    assert form.plane_at([10.0, -1.0, 20.0], [10.0, 1.0, 1.0]).tolist() == [-1] * 3
    assert np.isnan(form.height_at(10.0, 10.0))
    assert form.height_at(np.array([[3.5, 0.0]]), 3.5).shape == (1, 2)
    assert form.plane_at(0.0, 0.0) >= 0
