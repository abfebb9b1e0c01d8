"""The roof against an independent straight-skeleton library, SFCGAL (PySFCGAL).

SFCGAL is a general-purpose geometry library; its skeleton comes from CGAL's exact
kernel, and its weights are the tangents of the faces' slopes.
"""

import numpy as np
import pytest
from loadfall.solver.form import EdgeSpec, roof_from_outline

from .shapes import OUTLINES, turned

peer = pytest.importorskip("pysfcgal.geometry")


def peer_vertices(points, pitches):
    """(k, 3) vertices of the library's roof over a counter-clockwise outline."""
    polygon = peer.Polygon([tuple(map(float, point)) for point in points])
    weights = [
        *pitches[-1:],
        *pitches[:-1],
    ]  # its weight i is of the side that ends at i
    roof = polygon.extrude_straight_skeleton_with_weights(1e4, [weights])
    rings = [ring for face in roof for ring in face.to_coordinates()]
    return np.array([vertex for ring in rings for vertex in ring])


def assert_same_roof(points, pitches):
    form = roof_from_outline(points, [EdgeSpec(pitch) for pitch in pitches])
    theirs = peer_vertices(form.outline.polygon, pitches)
    extent = np.ptp(form.outline.polygon, axis=0).max()
    ours = form.height_at(theirs[:, 0], theirs[:, 1])
    np.testing.assert_allclose(ours, theirs[:, 2], atol=1e-6 * extent)
    gap = np.linalg.norm(form.nodes[:, None] - theirs[None], axis=2).min(axis=1)
    assert gap.max() < 1e-6 * extent  # every node of ours is one of theirs


@pytest.mark.parametrize("degrees", [0, 30, 61.3])
@pytest.mark.parametrize("name", [n for n in OUTLINES if n != "nearly parallel"])
def test_named_outlines(name, degrees):
    points = turned(OUTLINES[name], degrees)
    assert_same_roof(points, [0.5] * len(points))


@pytest.mark.parametrize("seed", range(60))
def test_random_outlines(seed):
    """Corners about a centre; odd seeds give every edge its own pitch."""
    chance = np.random.default_rng(seed)
    count = int(chance.integers(3, 26))
    gaps = chance.uniform(0.2, 1.0, count)
    angle = np.cumsum(gaps) / gaps.sum() * 2 * np.pi
    reach = chance.uniform(2, 10, count)
    points = np.c_[np.cos(angle), np.sin(angle)] * reach[:, None]
    pitches = [0.5] * count
    if seed % 2:
        pitches = chance.uniform(0.25, 1.0, count).tolist()
    assert_same_roof(points, pitches)
