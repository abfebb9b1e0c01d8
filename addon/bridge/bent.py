"""Members as bent pieces: the drawn piece cut into rings, and where each ring goes.

Receives an outcome; plain arrays out, in m and the roof's own axes. Pure: the bent
lines are the solver's, nothing is computed of statics here.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...solver.ageing import (
    Ageing,
    MemberShape,
    Shapes,
    Winters,
    age_roof,
    deflected_shapes,
    lasting_shapes,
    winters,
)
from ...solver.basis.nds.creep import CREEP_EXPONENT, creep_share
from ...solver.framing.solids import Solid
from .pipeline import Outcome

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

__all__ = ["CREEP_EXPONENT", "Winters"]

YEARS = (0.0, 10.0, 50.0)
_STRAIGHT = 1e-6  # m from its chord: not worth a ring
_SIDES = ((0, 1), (1, 2), (2, 3), (3, 0))  # long faces between corner lines


@dataclass(frozen=True, eq=False)
class Slice:
    """What a cut-away leaves: a slab of the house.

    Attributes:
        point: (3,) m.
        normal: (3,) unit.
        low, high: m from the point along the normal.
    """

    point: Floats
    normal: Floats
    low: float
    high: float

    def part(self, start: Floats, end: Floats) -> tuple[float, float] | None:
        """Return the part of a line within the slab, 0 to 1; None where none is."""
        a, b = (float((p - self.point) @ self.normal) for p in (start, end))
        if abs(b - a) < 0.05:
            return (0.0, 1.0) if self.low <= (a + b) / 2 <= self.high else None
        first, last = sorted(((self.low - a) / (b - a), (self.high - a) / (b - a)))
        first, last = max(first, 0.0), min(last, 1.0)
        return (first, last) if last - first > 1e-3 else None


@dataclass(frozen=True, eq=False, kw_only=True)
class Bent:
    """Members as one mesh of quads.

    Attributes:
        keys: (n,) member keys.
        vertices: (v, 3) m, as framed.
        moved: (T, v, 3) m, true displacement at each time.
        quads: (q, 4) vertices, outward.
        owner: (v,) row in ``keys``.
        place: (v, 3) m along the member, across it and up its depth.
        edge: (q, 4, 4) m from each corner of a face to the face's four edges that are
            edges of the piece too; far where there is none.
    """

    keys: tuple[str, ...]
    vertices: Floats
    moved: Floats
    quads: Ints
    owner: Ints
    place: Floats
    edge: Floats


@dataclass(frozen=True)
class Lasting:
    """The load that lasts, and snow on it or none.

    Attributes:
        snow: combination of dead load and the snow that lies; None for a summer.
    """

    snow: str | None = None


Load = str | Lasting | None
"""A combination by name, what lasts, or None: the one of the largest long-term sag."""


def shapes_of(outcome: Outcome, load: Load = None) -> Shapes | None:
    """Return the bent lines of a roof at ``YEARS``, None where none was analysed.

    Args:
        outcome: the solved roof.
        load: that bends it.
    """
    if isinstance(load, Lasting):
        snow = load.snow
        return outcome.once(
            ("shapes", load), lambda: lasting_shapes(outcome.solution, YEARS, snow)
        )
    return outcome.once(
        ("shapes", load), lambda: deflected_shapes(outcome.solution, YEARS, load)
    )


def moved_at(
    outcome: Outcome, key: str, part: float, time: int, load: Load = None
) -> Floats:
    """Return (3,) m, true displacement of a place along a member at a time.

    Args:
        outcome: the solved roof.
        key: of the member; one without a result does not move.
        part: 0 to 1 along its joint line.
        time: index in ``YEARS``.
        load: that bends it.
    """
    shapes = shapes_of(outcome, load)
    if shapes is None or key not in shapes.members:
        return np.zeros(3)
    shape = shapes.members[key]
    moved, _ = shape.at(np.array([part * shape.station[-1]]))
    return moved[time, 0]


@dataclass(frozen=True)
class Sags:
    """The sag of one member over the years, of its largest span, m.

    Attributes:
        now, ten, fifty: on the first day, and after so many years.
        span: m.
        combination: that it is of.
    """

    now: float
    ten: float
    fifty: float
    span: float
    combination: str


def sags_of(outcome: Outcome, key: str) -> Sags | None:
    """Return the sags of a member, None where it has none."""
    aged = ages_of(outcome)
    if aged is None:
        return None
    spans = aged.spans
    mine = [n for n, member in enumerate(spans.member) if member == key]
    if not mine:
        return None
    n = max(mine, key=lambda k: float(spans.sag[-1, k]))
    ten = aged.names.index("10 years")
    return Sags(
        now=float(spans.rest[n] + spans.lasting[n]),
        ten=float(spans.sag[ten, n]),
        fifty=float(spans.sag[-1, n]),
        span=float(spans.end[n] - spans.start[n]),
        combination=spans.combination[n],
    )


def ages_of(outcome: Outcome) -> Ageing | None:
    """Return a roof over the years, None where none was analysed."""
    return outcome.once("ages", lambda: age_roof(outcome.solution))


def winters_of(outcome: Outcome) -> Winters | None:
    """Return a roof with and without snow at ``YEARS``, None where no snow lies."""
    return outcome.once("winters", lambda: winters(outcome.solution, YEARS))


def crept(first: int, last: int, part: float) -> float:
    """Return how far creep has come from one of ``YEARS`` to another, 0 to 1.

    Args:
        first: index in ``YEARS``.
        last: a later one.
        part: of the time between them that has passed, 0 to 1.
    """
    ends = YEARS[first], YEARS[last]
    year = ends[0] + part * (ends[1] - ends[0])
    low, here, high = creep_share(np.array([ends[0], year, ends[1]]))
    return float((here - low) / (high - low))


def bent(
    outcome: Outcome,
    keys: Iterable[str],
    kept: Slice | None = None,
    load: Load = None,
) -> Bent:
    """Return members as one mesh, with its displacements at ``YEARS``.

    Args:
        outcome: the solved roof.
        keys: of its members; those without a result stay straight.
        kept: what is not cut away; left out, all of it.
        load: that bends them.
    """
    keys = tuple(key for key in keys if kept is None or _lies_in(outcome, key, kept))
    shapes = shapes_of(outcome, load)
    known = shapes.members if shapes is not None else {}
    framing = outcome.solution.framing
    pieces = [
        _piece(outcome.solids[key], known.get(key), *framing.ends(key), kept)
        for key in keys
    ]
    count = [len(p.vertices) for p in pieces]
    first = np.cumsum([0, *count])[:-1]
    return Bent(
        keys=keys,
        vertices=_joined([p.vertices for p in pieces], (0, 3)),
        moved=_joined([p.moved for p in pieces], (len(YEARS), 0, 3), axis=1),
        quads=_joined(
            [p.quads + n for p, n in zip(pieces, first, strict=True)], (0, 4)
        ).astype(np.int64),
        owner=np.repeat(np.arange(len(keys)), count),
        place=_joined([p.place for p in pieces], (0, 3)),
        edge=_joined([p.edge for p in pieces], (0, 4, 4)),
    )


def _lies_in(outcome: Outcome, key: str, kept: Slice) -> bool:
    """Return whether any of a member is not cut away."""
    return kept.part(*_middles(outcome.solids[key].vertices[:8])) is not None


def _middles(corners: Floats) -> tuple[Floats, Floats]:
    """Return the middles of a ply's two ends."""
    first, last = corners.reshape(2, 4, 3).mean(axis=1)
    return first, last


def _joined(parts: Sequence[NDArray], empty: tuple[int, ...], axis: int = 0) -> NDArray:
    """Return arrays joined; one of a given shape where there are none."""
    return np.concatenate(parts, axis=axis) if parts else np.zeros(empty)


def _piece(
    solid: Solid,
    shape: MemberShape | None,
    start: Floats,
    end: Floats,
    kept: Slice | None,
) -> Bent:
    """Return one member, ply by ply."""
    span = (0.0, 1.0)
    if kept is not None:
        span = kept.part(*_middles(solid.vertices[:8])) or span
    blocks = [
        _block(solid, n, shape, start, end, span)
        for n in range(len(solid.vertices) // 8)
    ]
    size = len(blocks[0].vertices)
    return Bent(
        keys=(),
        vertices=np.concatenate([b.vertices for b in blocks]),
        moved=np.concatenate([b.moved for b in blocks], axis=1),
        quads=np.concatenate([b.quads + n * size for n, b in enumerate(blocks)]),
        owner=np.zeros(0, dtype=np.int64),
        place=np.concatenate([b.place for b in blocks]),
        edge=np.concatenate([b.edge for b in blocks]),
    )


def _block(
    solid: Solid,
    ply: int,
    shape: MemberShape | None,
    start: Floats,
    end: Floats,
    span: tuple[float, float],
) -> Bent:
    """Return one ply: rings of four corners where its line has a station."""
    corners = solid.vertices[8 * ply : 8 * ply + 8]
    along = solid.along[8 * ply : 8 * ply + 8]
    length = float(np.linalg.norm(end - start))
    part = _rings(shape, along.reshape(2, 4).mean(axis=1), length)
    inner = part[(part > span[0] + 0.004) & (part < span[1] - 0.004)]
    part = np.concatenate([span[:1], inner, span[1:]])
    mix = part[:, None]
    line = ((1 - mix) * along[:4] + mix * along[4:]).ravel()  # ring by ring
    points = (1 - mix[..., None]) * corners[:4] + mix[..., None] * corners[4:]
    points = points.reshape(-1, 3)
    axis = (end - start) / length
    frame = _axes(corners, axis)
    middle = corners.mean(axis=0)
    offset = points - middle
    place = np.stack([line * length, offset @ frame[1], offset @ frame[2]], axis=1)
    moved = np.zeros((len(YEARS), *points.shape))
    if shape is not None:
        moved, slope = shape.at(line * length)
        arm = offset - (offset @ axis)[:, None] * axis
        moved = moved - np.einsum("tpi,pi->tp", slope, arm)[..., None] * axis
    quads, edge = _faces(points.reshape(-1, 4, 3))
    return Bent(
        keys=(), vertices=points, moved=moved, quads=quads,
        owner=np.zeros(0, dtype=np.int64), place=place, edge=edge,
    )  # fmt: skip


def _axes(corners: Floats, axis: Floats) -> Floats:
    """Return (3, 3) unit rows along, across and up the depth of a ply."""
    depth = corners[3] - corners[0]
    depth = depth - axis * float(depth @ axis)
    depth = depth / np.linalg.norm(depth)
    return np.stack([axis, np.cross(depth, axis), depth])


def _rings(shape: MemberShape | None, ends: Floats, length: float) -> Floats:
    """Return where along a ply its rings lie, 0 to 1, both ends among them."""
    if shape is None or _is_straight(shape):
        return np.array([0.0, 1.0])
    part = (shape.station / length - ends[0]) / (ends[1] - ends[0])
    inner = np.sort(part[(part > 0.004) & (part < 0.996)])
    return np.concatenate([[0.0], inner, [1.0]])


def _is_straight(shape: MemberShape) -> bool:
    """Return whether a line stays within next to nothing of its chord."""
    part = ((shape.station - shape.station[0]) / np.ptp(shape.station))[:, None]
    first, last = shape.moved[:, :1], shape.moved[:, -1:]
    away = shape.moved - (1 - part) * first - part * last
    return float(np.abs(away).max()) < _STRAIGHT


def _faces(rings: Floats) -> tuple[Ints, Floats]:
    """Return quads between rings and on both ends, and their distances to edges.

    Args:
        rings: (r, 4, 3) m.
    """
    count = len(rings)
    far = 1e3
    quads = [(0, 3, 2, 1)]
    last = 4 * (count - 1)
    quads.append((last, last + 1, last + 2, last + 3))
    wide = float(np.linalg.norm(rings[0, 1] - rings[0, 0]))
    deep = float(np.linalg.norm(rings[0, 3] - rings[0, 0]))
    along = np.linalg.norm(np.diff(rings.mean(axis=1), axis=0), axis=1)
    at = np.concatenate([[0.0], np.cumsum(along)])
    edge = [
        [(0, wide, 0, deep), (0, wide, deep, 0), (wide, 0, deep, 0), (wide, 0, 0, deep)]
    ]
    edge.append([edge[0][0], edge[0][3], edge[0][2], edge[0][1]])
    for k in range(count - 1):
        near, on = (at[k], at[-1] - at[k]), (at[k + 1], at[-1] - at[k + 1])
        for a, b in _SIDES:
            across = deep if (a, b) in ((1, 2), (3, 0)) else wide
            quads.append((4 * k + a, 4 * k + b, 4 * k + 4 + b, 4 * k + 4 + a))
            edge.append(
                [(0, across, *near), (across, 0, *near), (across, 0, *on),
                 (0, across, *on)]
            )  # fmt: skip
    return np.array(quads), np.minimum(np.array(edge, dtype=float), far)
