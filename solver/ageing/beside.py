"""How far ceiling joists move against one another and against the beam beside them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..framing.model import Framing, Role
from ..idealise.model import Model
from .finish import cracking_difference
from .model import Course, Neighbours
from .points import Points

Floats = NDArray[np.float64]
POINTS = 9  # along what both have in common
_ALONG = 0.999  # cosine of the angle between neighbours
_BEAM_REACH = 1.5  # of the joist spacing: as far as a beam is beside a joist
_BEAM_HEIGHT = 0.6  # m, as far above or below the ceiling line as it still meets it


@dataclass(frozen=True, eq=False)
class Pair:
    """Two members side by side over a common stretch, as rows of the model."""

    first: str
    second: str
    apart: float
    stations: tuple[Floats, Floats]  # (POINTS,) m along each


def neighbours(
    framing: Framing,
    model: Model,
    frame: FrameResult,
    course: Course,
    dead: int,
    has_finish: bool,
) -> tuple[Neighbours, ...]:
    """Return the differences of movement of all members side by side.

    Args:
        framing: of the roof.
        model: its analysis model.
        frame: its forces.
        course: of creep.
        dead: row of the combination of the dead load alone.
        has_finish: whether there is a ceiling finish that can crack.
    """
    pairs = side_by_side(framing, model)
    if not pairs:
        return ()
    row = {key: n for n, key in enumerate(model.members)}
    keys = [(pair.first, pair.second) for pair in pairs]
    sides: list[Points] = []
    for side in (0, 1):
        member = np.repeat([row[key[side]] for key in keys], POINTS)
        station = np.concatenate([pair.stations[side] for pair in pairs])
        sides.append(Points.of(model, member, station))

    def difference(result: FrameResult) -> Floats:
        first, second = (points.displacement(result)[..., 2] for points in sides)
        return (second - first).reshape(len(first), len(pairs), POINTS)

    every = difference(frame)
    lasting = np.tensordot(course.weights, every, 1)
    if course.aged is None:
        rate = float(course.creep.max(initial=0.0))
        moved = np.multiply.outer(rate * course.shares, lasting)
        stays = lasting + moved
    else:
        aged_all = np.stack([difference(result)[0] for result in course.aged])
        stays, moved = aged_all[1:], aged_all[1:] - aged_all[0]
    later = every[None] + moved[:, None]  # (T, ncomb, pairs, POINTS)
    since = later - every[dead]
    longest = np.abs(stays).max(axis=2)
    most, grown = np.abs(later).max(axis=(1, 3)), np.abs(since).max(axis=(1, 3))
    return tuple(
        Neighbours(
            first=pair.first,
            second=pair.second,
            apart=pair.apart,
            lasting=longest[:, n],
            worst=most[:, n],
            growth=grown[:, n],
            limit=cracking_difference(pair.apart) if has_finish else None,
        )
        for n, pair in enumerate(pairs)
    )


def side_by_side(framing: Framing, model: Model) -> list[Pair]:
    """Return ceiling joists and their next, then joists and the beams beside them."""
    analysed = set(model.members)
    rows: dict[str, list[str]] = {}
    for member in framing.of_role(Role.CEILING_JOIST):
        if member.key in analysed:
            rows.setdefault(member.key.rsplit("-", 1)[1], []).append(member.key)
    lines = _Lines(framing)
    pairs: list[Pair] = []
    for keys in rows.values():
        for first, second in pairwise(keys):
            pair = lines.pair(first, second)
            if pair is not None:
                pairs.append(pair)
    marks = framing.joist_stations
    reach = _BEAM_REACH * float(np.diff(marks).max()) if len(marks) > 1 else 0.0
    joists = [key for keys in rows.values() for key in keys]
    for beam in framing.of_role(Role.BEAM):
        if beam.key not in analysed or beam.clear:
            continue
        for key in joists:
            pair = lines.pair(key, beam.key, reach)
            if pair is not None and pair.apart > 0:
                pairs.append(pair)
    return pairs


Xyz = tuple[float, float, float]


class _Lines:
    """The joint lines of members, each looked up once."""

    def __init__(self, framing: Framing):
        self._members = framing.members
        self._points: list[Xyz] = list(map(tuple, framing.points.tolist()))
        self._known: dict[str, tuple[Xyz, Xyz, Xyz, float]] = {}

    def _line(self, key: str) -> tuple[Xyz, Xyz, Xyz, float]:
        """Return start, end, unit vector and length of a member, m."""
        if key not in self._known:
            nodes = self._members[key].nodes
            a, b = self._points[nodes[0]], self._points[nodes[-1]]
            length = math.dist(a, b)
            way = (b[0] - a[0]) / length, (b[1] - a[1]) / length, (b[2] - a[2]) / length
            self._known[key] = a, b, way, length
        return self._known[key]

    def pair(self, first: str, second: str, reach: float = math.inf) -> Pair | None:
        """Return two level members as a pair, None where they are not side by side.

        Args:
            first: key of one member.
            second: key of the other.
            reach: m on plan, farther apart they are no pair.
        """
        a, _, axis, length = self._line(first)
        c, d, other, _ = self._line(second)
        turn = _dot(axis, other)
        if abs(turn) < _ALONG or abs(a[2] - c[2]) > _BEAM_HEIGHT:
            return None
        to_c, to_d = _less(c, a), _less(d, a)
        start, end = _dot(to_c, axis), _dot(to_d, axis)
        low, high = max(0.0, min(start, end)), min(length, max(start, end))
        apart = math.hypot(to_c[0] - start * axis[0], to_c[1] - start * axis[1])
        if high - low < 1e-3 or apart > reach:
            return None
        station = np.linspace(low, high, POINTS)
        there = (station - start) * (1 if turn > 0 else -1)
        return Pair(first, second, apart, (station, there))


def _dot(a: Xyz, b: Xyz) -> float:
    """Return the scalar product of two vectors."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _less(a: Xyz, b: Xyz) -> Xyz:
    """Return the vector from one point to another."""
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]
