"""How far ceiling joists move against one another and against the beam beside them."""

from __future__ import annotations

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
    out: list[Neighbours] = []
    for n, pair in enumerate(pairs):
        later = every[None, :, n] + moved[:, None, n]  # (T, ncomb, POINTS)
        since = later - every[dead, n]
        out.append(
            Neighbours(
                first=pair.first,
                second=pair.second,
                apart=pair.apart,
                lasting=np.abs(stays[:, n]).max(axis=1),
                worst=np.abs(later).max(axis=(1, 2)),
                growth=np.abs(since).max(axis=(1, 2)),
                limit=cracking_difference(pair.apart) if has_finish else None,
            )
        )
    return tuple(out)


def side_by_side(framing: Framing, model: Model) -> list[Pair]:
    """Return ceiling joists and their next, then joists and the beams beside them."""
    rows: dict[str, list[str]] = {}
    for member in framing.of_role(Role.CEILING_JOIST):
        if member.key in set(model.members):
            rows.setdefault(member.key.rsplit("-", 1)[1], []).append(member.key)
    pairs: list[Pair] = []
    for keys in rows.values():
        for first, second in pairwise(keys):
            pair = _pair(framing, first, second)
            if pair is not None:
                pairs.append(pair)
    marks = framing.joist_stations
    reach = _BEAM_REACH * float(np.diff(marks).max()) if len(marks) > 1 else 0.0
    analysed = set(model.members)
    joists = [key for keys in rows.values() for key in keys]
    for beam in framing.of_role(Role.BEAM):
        if beam.key not in analysed or beam.clear:
            continue
        for key in joists:
            pair = _pair(framing, key, beam.key)
            if pair is not None and 0 < pair.apart <= reach:
                pairs.append(pair)
    return pairs


def _pair(framing: Framing, first: str, second: str) -> Pair | None:
    """Return two level members as a pair, None where they are not side by side."""
    (a, b), (c, d) = framing.ends(first), framing.ends(second)
    length = framing.length(first)
    axis = (b - a) / length
    other = (d - c) / framing.length(second)
    turn = float(axis @ other)
    if abs(turn) < _ALONG or abs(a[2] - c[2]) > _BEAM_HEIGHT:
        return None
    ends = sorted(float((p - a) @ axis) for p in (c, d))
    low, high = max(0.0, ends[0]), min(length, ends[1])
    if high - low < 1e-3:
        return None
    station = np.linspace(low, high, POINTS)
    apart = float(np.linalg.norm((c - a - ((c - a) @ axis) * axis)[:2]))
    there = (station - float((c - a) @ axis)) * (1 if turn > 0 else -1)
    return Pair(first, second, apart, (station, there))
