"""How high a person can walk through the attic, along the ridge.

The clear walking envelope is the tallest opening, 22 in wide, through which one sees
from end to end of the attic looking along the ridge: between the tops of the ceiling
joists and the undersides of the rafters, clear of every other member. The width is
that of an attic passage (IRC 2018 R807.1 and M1305.1.2, from memory).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..basis.sections import section
from ..framing.model import Role
from ..framing.solids import solids
from ..solve import Solution
from ..units import INCH

PASSAGE = 22 * INCH
_STEP = 1 * INCH
_ENVELOPE = (
    Role.RAFTER,
    Role.JACK_RAFTER,
    Role.HIP_RAFTER,
    Role.VALLEY_RAFTER,
    Role.CEILING_JOIST,
    Role.STUB_JOIST,
    Role.PLATE,
)
Floats = NDArray[np.float64]


def clear_height(solution: Solution) -> float:
    """Return the height of the clear walking envelope, m."""
    brief, framing = solution.brief, solution.framing
    width = brief.footprint.width
    joists = brief.ceiling_joists
    floor = 0.0 if joists is None else section(joists.size).depth
    top = brief.roof.pitch * width / 2
    y = np.arange(_STEP / 2, width, _STEP)
    z = np.arange(floor + _STEP / 2, max(top, floor + _STEP), _STEP)
    under = brief.roof.pitch * np.minimum(y, width - y) - brief.rafters.seat_depth
    blocked = z[None, :] > under[:, None]
    seen: set[tuple[float, ...]] = set()
    within = [k for k, m in framing.members.items() if m.role not in _ENVELOPE]
    for solid in solids(brief, framing, within).values():
        shape = solid.vertices[:, 1:]
        name = tuple(np.round(shape, 3).ravel().tolist())
        if name not in seen:
            seen.add(name)
            _shade(blocked, y, z, shape)
    return _tallest(blocked, round(PASSAGE / _STEP))


def _shade(blocked: NDArray[np.bool_], y: Floats, z: Floats, points: Floats) -> None:
    """Mark the cells that the outline of a piece covers."""
    low, high = points.min(axis=0), points.max(axis=0)
    ys = np.flatnonzero((y >= low[0]) & (y <= high[0]))
    zs = np.flatnonzero((z >= low[1]) & (z <= high[1]))
    if not len(ys) or not len(zs):
        return
    inside = np.ones((len(ys), len(zs)), dtype=bool)
    hull = _hull(points)
    for (ay, az), (by, bz) in zip(hull, np.roll(hull, -1, axis=0), strict=True):
        turn = (by - ay) * (z[zs][None, :] - az) - (bz - az) * (y[ys][:, None] - ay)
        inside &= turn >= -1e-9
    blocked[np.ix_(ys, zs)] |= inside


def _hull(points: Floats) -> Floats:
    """Return the convex outline of plan points, counter-clockwise."""
    rows = sorted({(round(float(a), 6), round(float(b), 6)) for a, b in points})

    def half(ordered: list[tuple[float, float]]) -> list[tuple[float, float]]:
        out: list[tuple[float, float]] = []
        for p in ordered:
            while len(out) > 1 and _turn(out[-2], out[-1], p) <= 0:
                out.pop()
            out.append(p)
        return out[:-1]

    return np.array(half(rows) + half(rows[::-1]) or rows)


def _turn(
    a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]
) -> float:
    """Return twice the signed area of a triangle, positive counter-clockwise."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _tallest(blocked: NDArray[np.bool_], columns: int) -> float:
    """Return the height of the tallest free opening of so many columns, m."""
    if len(blocked) < columns:
        return 0.0
    counts = np.cumsum(np.vstack([np.zeros(blocked.shape[1], int), blocked]), axis=0)
    free = counts[columns:] == counts[:-columns]  # (places, z): nothing in the way
    best, run = np.zeros(len(free), int), np.zeros(len(free), int)
    for column in free.T:
        run = np.where(column, run + 1, 0)
        best = np.maximum(best, run)
    return float(best.max()) * _STEP
