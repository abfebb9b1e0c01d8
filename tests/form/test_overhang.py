"""Overhangs follow their planes and meet at the corners."""

import numpy as np
import pytest
from loadfall.solver.form import EdgeSpec, roof_from_outline, roof_from_rectangle

from .shapes import EAVE, ELL, GABLE, IRREGULAR, OUTLINES, shoelace


def eave_offset_area(form):
    """Area of the outline with every side moved out by its own reach."""
    outline = form.outline.polygon
    edge = np.roll(outline, -1, axis=0) - outline
    normal = np.c_[edge[:, 1], -edge[:, 0]] / np.hypot(*edge.T)[:, None]
    reach = np.array([s.overhang if s.pitch else s.rake for s in form.edges])
    level = np.sum(normal * outline, axis=1) + reach
    corners = [
        np.linalg.solve([normal[i - 1], normal[i]], [level[i - 1], level[i]])
        for i in range(len(outline))
    ]
    return shoelace(np.array(corners))


def test_gable_roof_overhangs_all_round():
    south = EdgeSpec(0.5, overhang=0.4)
    north = EdgeSpec(0.5, overhang=0.6)
    form = roof_from_rectangle(12, 8, south, GABLE, north, GABLE)
    expected = [[-0.3, -0.4, -0.2], [12.3, -0.4, -0.2], [12.3, 4, 2], [-0.3, 4, 2]]
    np.testing.assert_allclose(form.planes[0].overhang3, expected, atol=1e-12)
    assert form.planes[1].overhang3[:, 1].max() == pytest.approx(8.6)
    assert form.planes[1].overhang3[:, 2].min() == pytest.approx(-0.3)


@pytest.mark.parametrize("name", [n for n in OUTLINES if n != "nearly parallel"])
def test_equal_overhangs_cover_the_grown_outline_once(name):
    form = roof_from_outline(OUTLINES[name], EAVE)
    areas = [shoelace(plane.overhang3[:, :2]) for plane in form.planes]
    assert min(areas) > 0
    assert sum(areas) == pytest.approx(eave_offset_area(form), rel=1e-9)


@pytest.mark.parametrize("points", [ELL, IRREGULAR], ids=["L", "irregular"])
def test_unequal_overhangs_and_pitches_cover_it_once_too(points):
    chance = np.random.default_rng(4)
    for _ in range(20):
        specs = [
            EdgeSpec(float(pitch), overhang=float(reach))
            for pitch, reach in zip(
                chance.choice([0.4, 0.5, 0.75, 1.0], len(points)),
                chance.choice([0.0, 0.2, 0.4, 0.6], len(points)),
                strict=True,
            )
        ]
        form = roof_from_outline(points, specs)
        areas = [shoelace(plane.overhang3[:, :2]) for plane in form.planes]
        assert sum(areas) == pytest.approx(eave_offset_area(form), rel=1e-9)


@pytest.mark.parametrize("name", OUTLINES)
def test_overhangs_lie_in_their_planes(name):
    form = roof_from_outline(OUTLINES[name], EAVE)
    for plane in form.planes:
        x, y, z = plane.overhang3.T
        np.testing.assert_allclose(plane.height(x, y), z, atol=1e-9)
        assert z.min() == pytest.approx(-0.5 * 0.4, abs=1e-9)


def test_hip_goes_on_to_the_nearer_fascia():
    """Equal overhang, unequal pitch: the steeper side's fascia meets the hip first."""
    steep, flat = EdgeSpec(1.0, overhang=0.5), EdgeSpec(0.5, overhang=0.5)
    form = roof_from_rectangle(12, 8, steep, flat, steep, flat)
    south = form.planes[0].overhang3
    west = form.planes[3].overhang3
    corner = [-0.25, -0.5]  # hip on plan: x (flat) = 2 y ... heights 1.0 y = 0.5 x
    meets = [np.abs(p[:, :2] - corner).sum(axis=1).min() for p in (south, west)]
    assert meets[0] > 0.1
    assert meets[1] > 0.1
    on_hip = [-0.5, -0.25]
    for polygon in (south, west):
        assert np.abs(polygon[:, :2] - on_hip).sum(axis=1).min() < 1e-9
    mitre = [-0.5, -0.5]
    assert np.abs(south[:, :2] - mitre).sum(axis=1).min() < 1e-9
