"""Like members side by side, told once: R1 x 17 at 24 in.

Reads plan places of members; knows no paper.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..framing.model import Framing, Member
from ..units import INCH

Floats = NDArray[np.float64]
_NEAR = INCH


@dataclass(frozen=True, eq=False)
class Run:
    """Members of one mark, parallel and evenly spaced.

    Attributes:
        mark: of all of them.
        keys: in order.
        ends: (n, 2, 2) m, plan ends of each.
        spacing: m; 0 for one alone.
    """

    mark: str
    keys: tuple[str, ...]
    ends: Floats
    spacing: float


def runs(
    framing: Framing, members: list[Member], marks: Mapping[str, str]
) -> list[Run]:
    """Return members drawn together where they are alike and evenly spaced."""
    groups: dict[tuple[object, ...], list[tuple[float, str, Floats]]] = {}
    for member in members:
        ends = np.array([p[:2] for p in framing.ends(member.key)])
        along = ends[1] - ends[0]
        length = float(np.hypot(*along))
        mark = marks.get(member.key, "")
        if length < _NEAR:
            groups[(member.key,)] = [(0.0, member.key, ends)]
            continue
        u = along / length
        if u[0] < -1e-6 or (abs(u[0]) <= 1e-6 and u[1] < 0):
            u, ends = -u, ends[::-1]
        n = np.array([-u[1], u[0]])
        place = round(float(ends.mean(axis=0) @ u) / (2 * _NEAR))
        alike = (member.role, mark, tuple(np.round(u, 3)), place)
        groups.setdefault(alike, []).append((float(ends[0] @ n), member.key, ends))
    out: list[Run] = []
    for found in groups.values():
        out += _even(sorted(found, key=lambda one: one[0]), marks)
    return out


def _even(
    found: list[tuple[float, str, Floats]], marks: Mapping[str, str]
) -> list[Run]:
    """Return parallel members in order, cut where the spacing changes."""
    parts, current = [], [found[0]]
    for before, after in pairwise(found):
        gap = after[0] - before[0]
        known = current[1][0] - current[0][0] if len(current) > 1 else gap
        if abs(gap - known) > _NEAR or gap > 2.0:
            parts.append(current)
            current = []
        current.append(after)
    parts.append(current)
    return [
        Run(
            marks.get(part[0][1], ""),
            tuple(key for _, key, _ in part),
            np.array([ends for _, _, ends in part]),
            (part[-1][0] - part[0][0]) / (len(part) - 1) if len(part) > 1 else 0.0,
        )
        for part in parts
    ]
