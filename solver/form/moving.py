"""The moving lines of an outline's edges, tier by tier, in whole numbers.

Every line is turned and shifted by less than anyone could measure (about 1e-24), so
that no three events fall together by chance of symmetry: what would be one meeting of
many lines becomes a quick succession of meetings of three, which `faces` joins again.
Where two edges of one direction but different pitch come to lie end to end, the turns
make the corner between them an outside one as a rule: the lower pitch runs on.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass

from .exact import UNIT_BITS, MovingLine
from .model import Floats
from .spec import EdgeSpec

LINE_BITS = 72  # extra bits of the lines' coefficients
PARALLEL_BITS = 40  # directions within 2^-40 rad are one
TURN_BITS = 84  # the turn between neighbouring edges is about 2^-84 rad
Point = tuple[int, int]


@dataclass(frozen=True)
class Face:
    """One tier of one edge: a plane, or a plumb wall.

    Attributes:
        edge: index of the edge.
        tier: index of the tier, -1 for the wall under a raised plate.
        pitch: rise over run, or None for a wall.
        line: its moving line.
        start: exact height from which it stands, in units.
    """

    edge: int
    tier: int
    pitch: float | None
    line: MovingLine
    start: int


def whole_points(points: Floats) -> list[Point]:
    """Return points on the grid, as even whole numbers of units."""
    scale = 2.0 ** (UNIT_BITS - 1)
    return [(2 * round(x * scale), 2 * round(y * scale)) for x, y in points.tolist()]


def whole(length: float) -> int:
    """Return a length in units."""
    return 2 * round(length * 2.0 ** (UNIT_BITS - 1))


def faces_of(points: list[Point], specs: list[EdgeSpec], seed: int) -> list[list[Face]]:
    """Return the faces of every edge, lowest first.

    Args:
        points: the corners, counter-clockwise; edge i runs from point i to the next.
        specs: one for each edge.
        seed: of the small turns and shifts; the same seed gives the same roof.
    """
    chance = random.Random(seed)
    base = min(whole(spec.plate) for spec in specs if not spec.is_gable)
    count = len(points)
    directions = _directions(points)
    first = points.index(min(points))  # so that it is the same wherever a list starts
    found: list[list[Face]] = [[] for _ in points]
    for rank in range(count):
        edge = (first + rank) % count
        low, high = points[edge], points[(edge + 1) % count]
        middle = (low[0] + high[0]) // 2, (low[1] + high[1]) // 2
        turn = (rank + 1) * 2**10 + chance.randrange(2**9)
        lift = chance.randrange(2**8)
        line = _line_through(middle, directions[edge], turn, lift)
        found[edge] = _tiers(edge, line, directions[edge][2], specs[edge], base)
    return found


def _directions(points: list[Point]) -> list[tuple[int, int, int]]:
    """Return (dx, dy, length) of every edge, in 2^-LINE_BITS of a unit.

    Edges that are parallel but for the rounding of their corners get one direction.
    """
    found: list[tuple[int, int, int]] = []
    known: list[tuple[int, int, int]] = []
    for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True):
        dx, dy = x1 - x0, y1 - y0
        length = math.isqrt((dx * dx + dy * dy) << (2 * LINE_BITS))
        for kx, ky, size in known:
            if abs(dx * ky - dy * kx) << (LINE_BITS + PARALLEL_BITS) <= length * size:
                way = length if dx * kx + dy * ky > 0 else -length
                found.append((kx * way // size, ky * way // size, length))
                break
        else:
            known.append((dx << LINE_BITS, dy << LINE_BITS, length))
            found.append(known[-1])
    return found


def _line_through(
    middle: Point, direction: tuple[int, int, int], turn: int, lift: int
) -> MovingLine:
    """Return a line at rest through an edge, turned and shifted by a hair."""
    dx, dy, length = direction
    A = -dy - ((dx * turn) >> (TURN_BITS + 10))
    B = dx - ((dy * turn) >> (TURN_BITS + 10))
    C = -(A * middle[0] + B * middle[1]) - ((length * lift) >> 48)
    return MovingLine(A, B, C, 0)


def _tiers(
    edge: int, line: MovingLine, length: int, spec: EdgeSpec, base: int
) -> list[Face]:
    """Return the faces of one edge, lowest first."""
    tiers: list[tuple[int, int, float | None]] = [
        (tier, whole(height), pitch)
        for tier, (height, pitch) in enumerate(spec.profile)
    ]
    if spec.pitch is None:
        tiers[0] = (0, base, None)
    elif tiers[0][1] > base:
        tiers.insert(0, (-1, base, None))
    found: list[Face] = []
    inset, speed, reached = 0, 0, base
    for tier, height, pitch in tiers:
        inset += speed * (height - reached)
        speed, reached = _speed(length, pitch), height
        moved = line._replace(C=line.C - inset + speed * height, W=speed)
        found.append(Face(edge, tier, pitch, moved, height))
    return found


def _speed(length: int, pitch: float | None) -> int:
    """Return how fast a line of a given length moves: run over rise."""
    if pitch is None:
        return 0
    rise, run = pitch.as_integer_ratio()
    return length * run // rise
