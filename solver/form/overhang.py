"""Roof planes with their overhangs.

An eave goes on down its plane past the plate; a rake goes on past its gable wall; hips,
valleys and ridges go on along themselves. Where two eaves reach out differently at a
corner, the planes part along the hip or valley as far as the nearer of the two fascia
lines, then along that fascia line.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .model import Floats, LineKind, RoofLine
from .spec import EdgeSpec

Side = tuple[Floats, Floats, float]  # start (2,), unit outward normal (2,), reach m
PARALLEL = 1e-6


def overhang_polygons(
    xyz: Floats,
    cycles: Sequence[Sequence[int]],
    lines: Sequence[RoofLine],
    edges: Sequence[EdgeSpec],
) -> list[Floats]:
    """Return each plane's plan polygon with overhangs, (m, 2) m, counter-clockwise.

    Args:
        xyz: (N, 3) m, the nodes.
        cycles: node ids round each plane.
        lines: all lines of the form.
        edges: what is stated of each edge.
    """
    by_ends = {frozenset((line.start_node, line.end_node)): line for line in lines}
    every: dict[int, list[Side]] = {}
    planes: list[list[Side]] = []
    for cycle in cycles:
        sides: list[Side] = []
        for a, b in zip(cycle, [*cycle[1:], cycle[0]], strict=True):
            line = by_ends[frozenset((a, b))]
            side = _side(xyz, a, b, _reach(line, edges))
            sides.append(side)
            if line.kind is LineKind.EAVE:
                every.setdefault(a, []).append(side)
                every.setdefault(b, []).append(side)
        planes.append(sides)
    return [
        _reached(xyz, list(cycle), sides, every)
        for cycle, sides in zip(cycles, planes, strict=True)
    ]


def _reach(line: RoofLine, edges: Sequence[EdgeSpec]) -> float:
    """Return how far the roof goes on past a line, on plan, m."""
    if line.edge is None:
        return 0.0
    spec = edges[line.edge]
    if line.kind is LineKind.EAVE:
        return spec.rake if spec.pitch is None else spec.overhang
    return spec.rake if line.kind is LineKind.RAKE else 0.0


def _side(xyz: Floats, a: int, b: int, reach: float) -> Side:
    """Return a side of a counter-clockwise polygon."""
    dx, dy = (xyz[b] - xyz[a])[:2]
    return xyz[a, :2], np.array([dy, -dx]) / np.hypot(dx, dy), reach


def _reached(
    xyz: Floats, cycle: list[int], sides: list[Side], every: dict[int, list[Side]]
) -> Floats:
    """Return the polygon of one plane with its sides moved out."""
    points: list[Floats] = []
    for i, node in enumerate(cycle):
        before, after = sides[i - 1], sides[i]
        corner = xyz[node, :2]
        if not before[2] and not after[2]:
            points.append(corner)
        elif before[2] and after[2]:
            points += _corner(corner, before, after)
        else:
            points += _end_of_eave(corner, before, after, every.get(node, []))
    return np.array(points)


def _corner(corner: Floats, one: Side, other: Side) -> list[Floats]:
    """Return where two moved sides meet: one point, or two on parallel sides."""
    det = float(one[1][0] * other[1][1] - one[1][1] * other[1][0])
    if abs(det) < PARALLEL:
        points = [corner + side[1] * side[2] for side in (one, other)]
        return points[:1] if one[2] == other[2] else points
    matrix = np.array([one[1], other[1]])
    return [corner + np.linalg.solve(matrix, np.array([one[2], other[2]]))]


def _end_of_eave(
    corner: Floats, before: Side, after: Side, eaves: list[Side]
) -> list[Floats]:
    """Return the points where a moved side ends on a line that goes on."""
    moved = before if before[2] else after
    meeting = _corner(corner, before, after)
    rivals = [
        side
        for side in eaves
        if side is not before
        and side is not after
        and abs(side[1] @ moved[1]) < 1 - PARALLEL
    ]
    if len(rivals) != 1 or len(meeting) != 1:
        return meeting
    return _cut_at_nearer(corner, meeting[0], moved, rivals[0], moved is before)


def _cut_at_nearer(
    corner: Floats, meeting: Floats, own: Side, rival: Side, own_first: bool
) -> list[Floats]:
    """Return where a plane's eave turns in, if the neighbour's fascia comes first."""
    out = float((meeting - corner) @ rival[1])
    if out <= rival[2] + 1e-9:
        return [meeting]
    nearer = corner + (meeting - corner) * rival[2] / out
    mitre = _corner(corner, own, rival)
    return [*mitre, nearer] if own_first else [nearer, *mitre]
