"""Which of several plan polygons a point lies in.

Knows nothing of roofs.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

TOUCH = 1e-7
Number = TypeVar("Number", np.float64, np.int64)


def plane_under(
    polygons: Sequence[NDArray[np.float64]], x: ArrayLike, y: ArrayLike
) -> NDArray[np.int64]:
    """Return the index of the polygon that holds each point, -1 where none does.

    Args:
        polygons: (k, 2) m each; they may share sides but do not overlap.
        x: m.
        y: m, broadcastable against x.

    Returns:
        Broadcast shape. A point within 0.1 micrometre of a polygon counts as in it.
    """
    x, y = np.broadcast_arrays(
        np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
    )
    points = np.stack([x.ravel(), y.ravel()], axis=1)
    found = np.full(len(points), -1, dtype=np.int64)
    for index, polygon in enumerate(polygons):
        left = np.flatnonzero(found < 0)
        found[left[winds_round(polygon, points[left])]] = index
    for index, polygon in enumerate(polygons):
        left = np.flatnonzero(found < 0)
        if not len(left):
            break
        found[left[distance_to_sides(polygon, points[left]) <= TOUCH]] = index
    return found.reshape(x.shape)


def following(rows: NDArray[Number]) -> NDArray[Number]:
    """Return each row's next one, the first after the last (np.roll, but quick)."""
    return rows[np.arange(1, len(rows) + 1) % len(rows)]


def winds_round(
    polygon: NDArray[np.float64], points: NDArray[np.float64]
) -> NDArray[np.bool_]:
    """Return whether each point is inside by the crossing rule, (p,) bool."""
    start = polygon
    end = following(polygon)
    x, y = points[:, :1], points[:, 1:]
    straddles = (start[:, 1] > y) != (end[:, 1] > y)
    rise = end[:, 1] - start[:, 1]
    rise = np.where(rise == 0, 1.0, rise)
    crossing = start[:, 0] + (y - start[:, 1]) / rise * (end[:, 0] - start[:, 0])
    return np.count_nonzero(straddles & (x < crossing), axis=1) % 2 == 1


def distance_to_sides(
    polygon: NDArray[np.float64], points: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the distance of each point from the nearest side, (p,) m."""
    side = following(polygon) - polygon
    length2 = np.maximum(np.sum(side**2, axis=1), 1e-300)
    offset = points[:, None] - polygon
    along = np.clip(np.sum(offset * side, axis=2) / length2, 0.0, 1.0)
    gap = offset - along[..., None] * side
    return np.sqrt(np.min(np.sum(gap**2, axis=2), axis=1))
