"""What each member of a roof over a drawn outline carries of its planes, exactly.

Every plane, with its overhang, is cut midway between neighbouring rafters into strips,
and these at every corner into trapezoids. Each trapezoid goes to the rafter of its
strip, or where none runs through it to the nearest hip or valley of the plane. Nothing
is counted twice and nothing is left, so that the areas add to those of the planes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..form import LineKind, RoofLine, RoofPlane
from ..framing.model import Framing, Member, Role
from ..framing.outline.plan import OutlinePlan
from ..framing.plan import TOUCH
from ..framing.planes import area_of, clipped, to_plane
from .roof_strips import StretchArea, put

Floats = NDArray[np.float64]
_NEAR = 1e-9


@dataclass(frozen=True, eq=False)
class _Carrier:
    """A member that takes strips of a plane.

    Attributes:
        key: of the member.
        points: (k, 2) m, its joints along the eave and up the slope.
    """

    key: str
    points: Floats

    @property
    def mark(self) -> float:
        """Its place along the eave, m."""
        return float(self.points[:, 0].mean())


def outline_areas(
    framing: Framing, drift_edges: Sequence[float | None] = ()
) -> dict[tuple[str, int], StretchArea]:
    """Return (member, number of its stretch) to the roof that it carries.

    Args:
        framing: of a drawn outline.
        drift_edges: by plane of the form, m on plan up from its eave to where drifted
            snow begins; None where the whole plane is free of it, or all drifted.
    """
    assert framing.plan is not None
    out: dict[tuple[str, int], StretchArea] = {}
    for number, name in enumerate(framing.plan.planes):
        edge = drift_edges[number] if drift_edges else None
        for carrier, piece in _pieces(framing, framing.plan, number, name):
            _give(out, framing.plan.form.planes[number], number, carrier, piece, edge)
    return out


def _give(
    out: dict[tuple[str, int], StretchArea],
    plane: RoofPlane,
    number: int,
    carrier: _Carrier,
    piece: Floats,
    edge: float | None,
) -> None:
    """Add a piece of a plane to the stretches of the member that carries it."""
    for n, area in enumerate(_shares(piece, carrier.points)):
        put(out, (carrier.key, n), number, plane, area)
    if edge is None:
        return
    for n, area in enumerate(_shares(clipped(piece, 1, edge, np.inf), carrier.points)):
        if area > 0:
            drifted = out[carrier.key, n].drifted
            drifted[number] = drifted.get(number, 0.0) + area


def _shares(piece: Floats, points: Floats) -> list[float]:
    """Return the areas of a piece on a member's stretches; the outer ones take all."""
    if len(piece) < 3:
        return [0.0] * (len(points) - 1)
    spans = np.ptp(points, axis=0)
    axis = int(spans[1] > spans[0])
    cuts = points[:, axis]
    turn = 1.0 if cuts[-1] >= cuts[0] else -1.0
    bounds = [-np.inf, *(turn * cuts[1:-1]).tolist(), np.inf]
    if turn < 0:
        piece = piece * (np.array([-1.0, 1.0]) if axis == 0 else np.array([1.0, -1.0]))
    return [area_of(clipped(piece, axis, a, b)) for a, b in pairwise(bounds)]


def _pieces(
    framing: Framing, plan: OutlinePlan, number: int, name: str
) -> list[tuple[_Carrier, Floats]]:
    """Return the trapezoids of a plane, each with the member that carries it."""
    plane = plan.form.planes[number]
    rafters = [
        _carrier(framing, plane, m)
        for m in framing.of_role(Role.RAFTER, Role.JACK_RAFTER)
        if m.slope == name
    ]
    lines = [
        (_carrier(framing, plane, framing.members[key]), plan.form.lines[n])
        for key, n in plan.lines.items()
        if key in framing.members and number in plan.form.lines[n].planes
    ]
    marks = _marks(plane, rafters)
    polygon = to_plane(plane, plane.overhang3)
    middles = (marks[1:] + marks[:-1]) / 2
    out = []
    for piece in trapezoids(polygon, middles):
        at = marks[int(np.searchsorted(middles, piece[:, 0].mean()))]
        carrier = _through(rafters, float(at), piece)
        out.append((carrier or _nearest(plane, lines, rafters, piece), piece))
    return out


def _carrier(framing: Framing, plane: RoofPlane, member: Member) -> _Carrier:
    """Return a member as a carrier of a plane."""
    points = framing.points[list(member.nodes)]
    return _Carrier(member.key, to_plane(plane, points))


def _marks(plane: RoofPlane, rafters: list[_Carrier]) -> Floats:
    """Return the places of rafters, and of the corners where a plane runs out."""
    found = sorted({round(r.mark, 9) for r in rafters})
    kept = [m for n, m in enumerate(found) if n == 0 or m - found[n - 1] > _NEAR]
    s = to_plane(plane, plane.polygon)[:, 0]
    before, after = np.roll(s, 1), np.roll(s, -1)
    ends = s[(before - s) * (after - s) >= -_NEAR]
    for end in sorted(set(np.round(ends, 9).tolist())):
        if all(abs(end - mark) > TOUCH for mark in kept):
            kept.append(end)
    return np.array(sorted(kept))


def trapezoids(polygon: Floats, cuts: Floats) -> list[Floats]:
    """Return a polygon cut along its second axis at its corners and further places.

    Args:
        polygon: (n, 2), simple, of either turn.
        cuts: (k,) places on the first axis.

    Returns:
        (4, 2) each, counter-clockwise; their areas add to the polygon's.
    """
    s = polygon[:, 0]
    inside = cuts[(cuts > s.min()) & (cuts < s.max())]
    edges = np.unique(np.concatenate([s, inside]))
    ahead = np.roll(polygon, -1, axis=0)
    out = []
    for low, high in pairwise(edges.tolist()):
        middle = (low + high) / 2
        sides = []
        for a, b in zip(polygon, ahead, strict=True):
            if min(a[0], b[0]) <= middle < max(a[0], b[0]):
                slope = (b[1] - a[1]) / (b[0] - a[0])
                ends = [float(a[1] + slope * (at - a[0])) for at in (low, high)]
                sides.append((sum(ends), ends))
        sides.sort()
        for (_, under), (_, over) in zip(sides[::2], sides[1::2], strict=True):
            out.append(
                np.array(
                    [(low, under[0]), (high, under[1]), (high, over[1]), (low, over[0])]
                )
            )
    return out


def _through(rafters: list[_Carrier], mark: float, piece: Floats) -> _Carrier | None:
    """Return the rafter of a strip that a piece lies beside most, or None."""
    best, most = None, 0.0
    low, high = float(piece[:, 1].min()), float(piece[:, 1].max())
    for rafter in rafters:
        if abs(rafter.mark - mark) > 1e-6:
            continue
        v = rafter.points[:, 1]
        beside = min(high, float(v.max())) - max(low, float(v.min()))
        if beside > most:
            best, most = rafter, beside
    return best


def _nearest(
    plane: RoofPlane,
    lines: list[tuple[_Carrier, RoofLine]],
    rafters: list[_Carrier],
    piece: Floats,
) -> _Carrier:
    """Return the hip or valley nearest to a piece; else a ridge, else a rafter."""
    middle = piece.mean(axis=0)
    level = (LineKind.RIDGE, LineKind.BREAK, LineKind.ABUTMENT)
    sloping = [c for c, line in lines if line.kind not in level]
    for group in (sloping, rafters, [c for c, _ in lines]):
        if group:
            return min(group, key=lambda c: _away(c.points, middle))
    raise AssertionError(f"plane {plane.edges} has no member")


def _away(points: Floats, place: Floats) -> float:
    """Return the distance of a place from a member's line, m."""
    a, b = points[0], points[-1]
    way = b - a
    part = float(np.clip((place - a) @ way / (way @ way), 0.0, 1.0))
    return float(np.hypot(*(a + part * way - place)))
