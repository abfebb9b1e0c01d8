"""Outlines and specs that the tests of the form share, and what makes a roof closed."""

from __future__ import annotations

from collections import Counter

import numpy as np
from loadfall.solver.form import EdgeSpec

EAVE = EdgeSpec(0.5, overhang=0.4, rake=0.3)
GABLE = EdgeSpec(None, rake=0.3)

RECTANGLE = [(0, 0), (12, 0), (12, 8), (0, 8)]
ELL = [(0, 0), (14, 0), (14, 7), (6, 7), (6, 13), (0, 13)]
TEE = [(0, 0), (14, 0), (14, 7), (9, 7), (9, 12), (4, 12), (4, 7), (0, 7)]
YOU = [(0, 0), (14, 0), (14, 12), (9, 12), (9, 6), (5, 6), (5, 12), (0, 12)]
ZED = [(0, 0), (9, 0), (9, 4), (15, 4), (15, 10), (6, 10), (6, 6), (0, 6)]
CROSS = [
    (4, 0), (9, 0), (9, 4), (14, 4), (14, 9), (9, 9),
    (9, 13), (4, 13), (4, 9), (0, 9), (0, 4), (4, 4),
]  # fmt: skip
BAY = [(0, 0), (5, 0), (6, -1.2), (8, -1.2), (9, 0), (14, 0), (14, 8), (0, 8)]
AITCH = [
    (0, 0), (4, 0), (4, 3), (8, 3), (8, 0), (12, 0),
    (12, 9), (8, 9), (8, 6), (4, 6), (4, 9), (0, 9),
]  # fmt: skip
IRREGULAR = [
    (0, 0), (7, -1), (9, 2), (13, 1), (14, 7), (8, 6), (7, 10), (1, 9), (2, 5),
]  # fmt: skip
NEARLY_PARALLEL = [(0, 0), (12, 0.05), (24, 0), (24, 8), (0, 8.3)]
OUTLINES = {
    "rectangle": RECTANGLE,
    "L": ELL,
    "T": TEE,
    "U": YOU,
    "Z": ZED,
    "cross": CROSS,
    "bay": BAY,
    "H": AITCH,
    "irregular": IRREGULAR,
    "nearly parallel": NEARLY_PARALLEL,
}


def turned(points, degrees):
    """The points turned about the origin."""
    angle = np.radians(degrees)
    c, s = np.cos(angle), np.sin(angle)
    return np.asarray(points, dtype=float) @ np.array([[c, s], [-s, c]])


def shoelace(polygon):
    """Signed area, written out apart from the solver's."""
    total = 0.0
    for (x0, y0), (x1, y1) in zip(polygon, np.roll(polygon, -1, axis=0), strict=True):
        total += x0 * y1 - x1 * y0
    return total / 2


def places_within(form, count, seed=0):
    """Random plan points over the roof, and the plane over each."""
    chance = np.random.default_rng(seed)
    low, high = form.outline.polygon.min(axis=0), form.outline.polygon.max(axis=0)
    x, y = chance.uniform(low, high, (count, 2)).T
    plane = form.plane_at(x, y)
    inside = plane >= 0
    return x[inside], y[inside], plane[inside]


def distance_to_outline(outline, x, y):
    """Least distance of points from the sides of a polygon."""
    points = np.stack([x, y], axis=1)[:, None]
    start = outline[None]
    side = np.roll(outline, -1, axis=0)[None] - start
    along = np.clip(
        np.sum((points - start) * side, axis=2) / np.sum(side**2, axis=2), 0, 1
    )
    gap = points - start - along[..., None] * side
    return np.sqrt(np.sum(gap**2, axis=2).min(axis=1))


def assert_closed(form):
    """The planes cover the outline once, lie flat, and share their sides."""
    outline = form.outline.polygon
    area = shoelace(outline)
    areas = [shoelace(plane.polygon) for plane in form.planes]
    assert min(areas) > 0
    assert abs(sum(areas) - area) <= 1e-9 * area
    extent = np.ptp(outline, axis=0).max()
    for plane in form.planes:
        rise = (plane.polygon3 - plane.polygon3[0]) @ plane.normal
        assert np.abs(rise).max() < 1e-6 * extent
        assert abs(plane.normal[2] * np.hypot(1, plane.pitch) - 1) < 1e-12
        assert plane.polygon3[:, 2].min() > form.nodes[0, 2] - 1e-6 * extent
    sides = Counter(
        pair
        for face in (*form.planes, *form.walls)
        for pair in zip(
            face.nodes.tolist(), np.roll(face.nodes, -1).tolist(), strict=True
        )
    )
    assert set(sides.values()) == {1}
    alone = {pair for pair in sides if pair[::-1] not in sides}
    count = len(outline)
    assert alone == {(i, (i + 1) % count) for i in range(count)}
