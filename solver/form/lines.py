"""What a framer calls each line where faces meet.

Reads closed faces and names their sides; moves nothing.
"""

from __future__ import annotations

import math

import numpy as np

from .model import Floats, LineKind, RoofLine
from .moving import Face
from .weave import Patch

LEVEL = 1e-6  # a line that rises by less over its run is level
OPPOSED = -math.cos(math.radians(30))  # two planes more opposed than this make a ridge
ALIKE = math.cos(math.radians(0.01))


def name_lines(
    xyz: Floats, patches: list[Patch], outline_size: int, edges_of: list[list[int]]
) -> list[RoofLine]:
    """Return every line of the form.

    Args:
        xyz: (N, 3) m, the outline's points first.
        patches: the closed faces; planes and walls are numbered in this order, apart.
        outline_size: number of points of the outline.
        edges_of: the outline's edges that each swept edge is made of.
    """
    planes = [i for i, patch in enumerate(patches) if patch.faces[0].pitch is not None]
    number = {patch: i for i, patch in enumerate(planes)}
    walls = [i for i in range(len(patches)) if i not in number]
    number |= {patch: i for i, patch in enumerate(walls)}
    owner = {
        (a, b): i
        for i, patch in enumerate(patches)
        for a, b in zip(patch.cycle, patch.cycle[1:] + patch.cycle[:1], strict=True)
    }
    lines: list[RoofLine] = []
    for (a, b), left in sorted(owner.items()):
        right = owner.get((b, a))
        if right is None:
            is_wall = left not in planes
            kind = LineKind.PLATE if is_wall else LineKind.EAVE
            pair, edge = [left], a
        elif a < b:
            kind = _kind(xyz, a, b, patches[left], patches[right], outline_size)
            pair = [left, right]
            edge = _edge_of_line(kind, patches, pair, edges_of)
        else:
            continue
        if xyz[b, 2] < xyz[a, 2] - LEVEL * float(np.hypot(*(xyz[b] - xyz[a])[:2])):
            a, b = b, a
            pair.reverse()
        on_wall = [number[i] for i in pair if i not in planes]
        lines.append(
            RoofLine(
                kind,
                xyz[a],
                xyz[b],
                a,
                b,
                tuple(number[i] for i in pair if i in planes),
                on_wall[0] if on_wall else None,
                edge,
            )
        )
    return lines


def uphill_of(face: Face) -> Floats:
    """Return the unit plan direction inward from a face's edge, (2,)."""
    inward = np.array([float(face.line.A), float(face.line.B)])
    return inward / np.hypot(*inward)


def _edge_of_line(
    kind: LineKind, patches: list[Patch], pair: list[int], edges_of: list[list[int]]
) -> int | None:
    """Return the outline edge in whose plumb plane an inner line lies, or None."""
    walls = [patches[i] for i in pair if patches[i].faces[0].pitch is None]
    if len(walls) == 1 and kind is not LineKind.CORNER:
        return edges_of[walls[0].faces[0].edge][0]
    return None


def _kind(
    xyz: Floats, a: int, b: int, left: Patch, right: Patch, outline_size: int
) -> LineKind:
    """Return what the line from node a to node b is."""
    walls = [p for p in (left, right) if p.faces[0].pitch is None]
    if len(walls) == 2:
        return LineKind.CORNER
    if not walls:
        pair = (left.faces[0], right.faces[0])
        return _kind_between_planes(xyz, a, b, pair, outline_size)
    dx, dy = (xyz[b] - xyz[a])[:2]
    toward_plane = np.array([-dy, dx]) if walls[0] is right else np.array([dy, -dx])
    wall, plane = walls[0].faces[0], (left if walls[0] is right else right)
    if toward_plane @ uphill_of(wall) < 0:
        return LineKind.ABUTMENT
    if any(f.edge == wall.edge for f in plane.faces) and _is_level(xyz, a, b):
        return LineKind.EAVE
    return LineKind.RAKE


def _kind_between_planes(
    xyz: Floats, a: int, b: int, pair: tuple[Face, Face], outline_size: int
) -> LineKind:
    """Return what a line between two planes, the left one first, is."""
    left, right = pair
    dx, dy = (xyz[b] - xyz[a])[:2]
    up_left, up_right = uphill_of(left), uphill_of(right)
    bend = (left.pitch or 0) * up_left - (right.pitch or 0) * up_right
    likeness = float(up_left @ up_right)
    if likeness > ALIKE and _is_level(xyz, a, b):
        return LineKind.BREAK
    if bend @ (dy, -dx) <= 0:
        return LineKind.VALLEY
    low = a if xyz[a, 2] < xyz[b, 2] else b
    if _is_level(xyz, a, b) or (likeness < OPPOSED and low >= outline_size):
        return LineKind.RIDGE
    return LineKind.HIP


def _is_level(xyz: Floats, a: int, b: int) -> bool:
    """Return whether two nodes are level with each other, for their distance."""
    rise = abs(float(xyz[b, 2] - xyz[a, 2]))
    return rise <= LEVEL * float(np.linalg.norm(xyz[b] - xyz[a]))
