"""Whether closed faces make a roof over an outline.

Finds fault; mends nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .inside import following
from .model import Floats, RoofPlane, RoofWall, polygon_area

AREA = 1e-9  # of the outline's area
LIFT = 1e-6  # a node's distance from its plane, of the outline's extent


def faults(
    outline: Floats,
    nodes: Floats,
    planes: Sequence[RoofPlane],
    walls: Sequence[RoofWall],
) -> list[str]:
    """Return what keeps the faces from being a roof, in words; empty if nothing does.

    Args:
        outline: (n, 2) m, counter-clockwise.
        nodes: (N, 3) m, the outline's points first.
        planes: the sloped faces.
        walls: the plumb faces.
    """
    extent = float(np.ptp(outline, axis=0).max())
    base = float(nodes[0, 2])
    found: list[str] = []
    for plane in planes:
        name = f"the plane over edges {list(plane.edges)}"
        if plane.plan_area <= 0:
            found.append(f"{name} is inside out")
        if crosses_itself(plane.polygon):
            found.append(f"{name} crosses itself")
        x, y, z = plane.polygon3.T
        if np.abs(plane.height(x, y) - z).max() > LIFT * extent:
            found.append(f"{name} is not flat")
        if z.min() < base - LIFT * extent:
            found.append(f"{name} dips below its plate")
    whole = polygon_area(outline)
    covered = sum(plane.plan_area for plane in planes)
    if abs(covered - whole) > AREA * whole:
        found.append(f"the planes cover {covered:.9g} m2 of {whole:.9g} m2")
    return found + _open_sides(len(outline), [*planes, *walls])


def _open_sides(count: int, faces: Sequence[RoofPlane | RoofWall]) -> list[str]:
    """Return the sides that are not shared by two faces or by one and the outline."""
    sides = [
        (a, b)
        for face in faces
        for a, b in zip(
            face.nodes.tolist(), following(face.nodes).tolist(), strict=True
        )
    ]
    once = set(sides)
    if len(once) < len(sides):
        return ["two faces lie on the same side of a line"]
    alone = {(a, b) for a, b in once if (b, a) not in once}
    round_it = {(i, (i + 1) % count) for i in range(count)}
    if alone != round_it:
        return [f"sides {sorted(alone ^ round_it)} are open"]
    return []


def crosses_itself(polygon: Floats) -> bool:
    """Return whether two sides of a plan polygon cross."""
    start, end = polygon, following(polygon)
    side = end - start

    def turn(points: Floats) -> Floats:
        offset = points[None] - start[:, None]
        cross = side[:, :1] * offset[..., 1] - side[:, 1:] * offset[..., 0]
        scale = np.hypot(*side.T)[:, None] * (1e-300 + np.hypot(*offset.T).T)
        return np.where(np.abs(cross) < 1e-9 * scale, 0.0, np.sign(cross))

    splits = turn(start) * turn(end) < 0
    return bool((splits & splits.T).any())
