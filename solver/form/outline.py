"""Reading a plan outline: what is refused, and the polygon that is kept.

Gives a simple, counter-clockwise polygon with one spec to each edge. Drops nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from ..errors import BriefError
from .inside import distance_to_sides, following
from .model import Floats, Ints, Outline, polygon_area
from .spec import EdgeSpec, check_spec

CLOSEST = 1e-6  # points and sides nearer than this touch, m
STRAIGHT = 2e-3  # corners that turn by less are one straight line, rad
LARGEST = 10_000.0


def read_outline(
    points: ArrayLike,
    edges: EdgeSpec | Sequence[EdgeSpec],
    holes: Sequence[ArrayLike] = (),
) -> tuple[Outline, tuple[EdgeSpec, ...]]:
    """Return the outline and its edges' specs, counter-clockwise.

    Args:
        points: (n, 2) m, the corners in order, either way round, not closed.
        edges: one spec for all edges, or one each: edge i runs from point i to the
            next. A clockwise outline is turned round, its edges with it.
        holes: must be empty: a courtyard is refused.

    Raises:
        BriefError: naming the point, edge or field that cannot be used.
    """
    if len(holes):
        raise BriefError(
            "holes",
            len(holes),
            "an outline without courtyards",
            "Split the plan into outlines without holes.",
        )
    polygon = _read_points(points)
    specs: tuple[EdgeSpec, ...] = _read_specs(edges, len(polygon))
    _refuse_touching(polygon)
    area = polygon_area(polygon)
    size = float(np.ptp(polygon, axis=0).max())
    if abs(area) < CLOSEST * size:
        raise BriefError("outline", area, "an outline with an area")
    given: Ints = np.arange(len(polygon))
    if area < 0:
        polygon = polygon[::-1].copy()
        given = np.roll(given[::-1], -1)
        specs = tuple(specs[int(i)] for i in given.tolist())
    outline = Outline(polygon, given)
    _refuse_broken_lines(outline, specs)
    if all(spec.is_gable for spec in specs):
        raise BriefError(
            "edges", "gables only", "at least one eave", "Give one edge a pitch."
        )
    return outline, specs


def _read_points(points: ArrayLike) -> Floats:
    """Return the points as (n, 2) floats, each checked."""
    try:
        polygon = np.array(points, dtype=np.float64)
    except (TypeError, ValueError) as error:
        raise BriefError("outline", points, "a list of points (x, y)") from error
    if polygon.ndim != 2 or polygon.shape[1:] != (2,):
        raise BriefError("outline", polygon.shape, "a list of points (x, y)")
    if len(polygon) < 3:
        raise BriefError("outline", len(polygon), "three or more points")
    for index, point in enumerate(polygon):
        if not np.isfinite(point).all():
            raise BriefError(f"outline[{index}]", tuple(point), "two finite numbers")
    if np.ptp(polygon, axis=0).max() > LARGEST:
        raise BriefError("outline", "its extent", f"at most {LARGEST:g} m across")
    gaps = np.hypot(*(following(polygon) - polygon).T)
    short = np.flatnonzero(gaps < CLOSEST)
    if len(short):
        index = int(short[0] + 1) % len(polygon)
        raise BriefError(
            f"outline[{index}]",
            tuple(polygon[index].tolist()),
            "a point away from the one before it",
            "Remove the duplicate; an outline closes by itself.",
        )
    return polygon


def _read_specs(
    edges: EdgeSpec | Sequence[EdgeSpec], count: int
) -> tuple[EdgeSpec, ...]:
    """Return one checked spec for every edge."""
    if isinstance(edges, EdgeSpec):
        check_spec(edges, "edges")
        return (edges,) * count
    if len(edges) != count:
        raise BriefError("edges", len(edges), f"one for each of the {count} edges")
    for index, spec in enumerate(edges):
        check_spec(spec, f"edges[{index}]")
    return tuple(edges)


def _refuse_touching(polygon: Floats) -> None:
    """Refuse an outline that crosses or touches itself."""
    count = len(polygon)
    for index in range(count):
        others = np.delete(np.arange(count), [index, (index + 1) % count])
        side = polygon[[index, (index + 1) % count]]
        near = distance_to_sides(side, polygon[others]) < CLOSEST
        if near.any():
            point = int(others[np.flatnonzero(near)[0]])
            raise BriefError(
                f"outline[{point}]",
                tuple(polygon[point].tolist()),
                f"a point away from edge {index}",
                "The outline touches itself there.",
            )
    crossing = np.argwhere(np.triu(_crossings(polygon)))
    if len(crossing):
        first, second = (int(i) for i in crossing[0])
        raise BriefError(
            f"outline[{first}]",
            tuple(polygon[first].tolist()),
            "an outline that does not cross itself",
            f"Its edges {first} and {second} cross.",
        )


def _crossings(polygon: Floats) -> np.ndarray:
    """Return which pairs of edges cross, (n, n) bool."""
    start, end = polygon, following(polygon)
    side = end - start

    def turn(points: Floats) -> np.ndarray:
        offset = points[None] - start[:, None]
        return np.sign(side[:, :1] * offset[..., 1] - side[:, 1:] * offset[..., 0])

    splits = turn(start) * turn(end) < 0
    return splits & splits.T


def _refuse_broken_lines(outline: Outline, specs: tuple[EdgeSpec, ...]) -> None:
    """Refuse two roofs that would start from one straight wall line."""
    side = following(outline.polygon) - outline.polygon
    before = np.roll(side, 1, axis=0)
    turn = before[:, 0] * side[:, 1] - before[:, 1] * side[:, 0]
    straight = np.abs(turn) < STRAIGHT * np.hypot(*side.T) * np.hypot(*before.T)
    for index in np.flatnonzero(straight):
        one, other = specs[index - 1], specs[index]
        if same_roof(one, other):
            continue
        names = (int(outline.given[index - 1]), int(outline.given[index]))
        raise BriefError(
            f"edges[{names[1]}]",
            other.profile,
            f"the same plate and pitches as edge {names[0]}, with which it makes one "
            "straight line",
            "Give both the same, or set a corner between them.",
        )


def same_roof(one: EdgeSpec, other: EdgeSpec) -> bool:
    """Return whether two specs differ in their overhangs at most."""
    return replace(one, overhang=0.0, rake=0.0) == replace(
        other, overhang=0.0, rake=0.0
    )
