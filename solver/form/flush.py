"""Closed faces, and faces of one plane that meet, made one.

Two wings' eaves in one line, a bay between them: above the bay their planes meet and
are one plane. Moves no node.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..errors import FramingError
from .exact import UNIT_BITS
from .model import Floats
from .moving import Face

FLUSH = 1e-8  # planes nearer than this all over the plan are one, m
Way = tuple[int, int]
Cycle = list[int]


@dataclass(frozen=True)
class Patch:
    """One closed face.

    Attributes:
        faces: the tiers of edges that it joins, lowest edge first.
        cycle: node ids, counter-clockwise on plan or seen from outside.
    """

    faces: tuple[Face, ...]
    cycle: tuple[int, ...]

    @property
    def ways(self) -> list[Way]:
        """Return its sides as (from node, to node)."""
        return list(zip(self.cycle, self.cycle[1:] + self.cycle[:1], strict=True))


def fuse_flush(patches: list[Patch], outline: Floats) -> list[Patch]:
    """Return the patches with those of one plane that share a side made one.

    Args:
        patches: closed faces of one tier each.
        outline: (n, 2) m, over which planes are compared.
    """
    owner = {way: i for i, patch in enumerate(patches) for way in patch.ways}
    first = list(range(len(patches)))
    span = np.array([outline.min(axis=0), outline.max(axis=0)])
    corners = np.array([[x, y] for x in span[:, 0] for y in span[:, 1]])
    for (a, b), one in owner.items():
        other = owner.get((b, a), one)
        if one < other and _is_flush(
            patches[one].faces[0], patches[other].faces[0], corners
        ):
            low, high = sorted((first[one], first[other]))
            first = [low if label == high else label for label in first]
    fused: list[Patch] = []
    for label in sorted(set(first)):
        members = [p for p, at in zip(patches, first, strict=True) if at == label]
        fused += members if len(members) == 1 else _fused(members)
    return fused


def _fused(members: list[Patch]) -> list[Patch]:
    """Return patches of one plane without the sides between them."""
    ways = {way for patch in members for way in patch.ways}
    outer = [(a, b) for a, b in ways if (b, a) not in ways]
    if len({a for a, _ in outer}) < len(outer):
        return members  # they touch at a point too: left as they are
    faces = sorted({f for p in members for f in p.faces}, key=lambda f: f.edge)
    return [
        Patch(tuple(faces), tuple(cycle)) for cycle in closed_walks(dict(sorted(outer)))
    ]


def closed_walks(ways: dict[int, int]) -> list[Cycle]:
    """Return the closed walks that a face's sides make."""
    left = dict(ways)
    cycles: list[Cycle] = []
    while left:
        start, here = left.popitem()
        cycle = [start]
        while here != start:
            cycle.append(here)
            if here not in left:
                raise FramingError("A roof plane does not close.")
            here = left.pop(here)
        cycles.append(cycle)
    return cycles


def _is_flush(one: Face, other: Face, corners: Floats) -> bool:
    """Return whether two faces lie in one plane, within FLUSH over the plan."""
    if (one.pitch is None) != (other.pitch is None):
        return False
    if one.pitch is not None and abs(one.pitch / (other.pitch or 1) - 1) > 1e-9:
        return False
    apart = _levels(one, corners) - _levels(other, corners)
    return bool(np.abs(apart).max() < FLUSH)


def _levels(face: Face, corners: Floats) -> Floats:
    """Return the heights of a plane, or the distances of a wall, at plan points, m."""
    line = face.line
    scale = float(line.W) or float(np.hypot(float(line.A), float(line.B)))
    x, y = corners.T
    offset = line.C / int(scale) * 2.0**-UNIT_BITS
    return np.asarray(line.A / scale * x + line.B / scale * y + offset)
