"""Collar ties and rafter ties over a drawn outline: on pairs that meet at one ridge."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from ...basis.sections import section
from ...brief.model import TieAction, Ties
from ..draft import Draft
from ..model import Role
from ..plan import TOUCH
from .lines import join
from .plan import OutlinePlan

Floats = NDArray[np.float64]
_PAIRED = (Role.RAFTER, Role.JACK_RAFTER)
_OPPOSED = -0.999  # cosine on plan between the two of a pair
_LEVEL = 1e-6  # m


def add_ties(draft: Draft, plan: OutlinePlan) -> None:
    """Add the ties that the brief states, along each ridge at their spacing."""
    for ties, role, stem in (
        (draft.brief.rafter_ties, Role.RAFTER_TIE, "RT"),
        (draft.brief.collar_ties, Role.COLLAR_TIE, "CT"),
    ):
        for ridge in plan.lines if ties is not None else ():
            if ridge.startswith("RIDGE-") and draft.has(ridge):
                assert ties is not None
                _add(draft, ties, role, f"{stem}-{ridge.removeprefix('RIDGE-')}", ridge)


def _add(draft: Draft, ties: Ties, role: Role, stem: str, ridge: str) -> None:
    """Add one kind of tie to the pairs of a ridge, those of its two ends included.

    A pair whose jack starts above the tie has none.
    """
    pairs = sorted(_pairs(draft, ridge))
    if not pairs:
        return
    feet = {key: _foot(draft, key) for _, *pair in pairs for key in pair}
    low = min(float(foot[2]) for foot in feet.values())
    top = float(draft.members[pairs[0][1]].end[2])
    height, last = low + ties.height_ratio * (top - low), -np.inf
    pairs = [
        (at, pair)
        for at, *pair in pairs
        if max(float(feet[key][2]) for key in pair) < height - TOUCH
    ]
    for n, (at, pair) in enumerate(pairs):
        ahead = pairs[n + 1][0] if n + 1 < len(pairs) else np.inf
        if 0 < n < len(pairs) - 1 and ahead - last <= ties.spacing + 1e-6:
            continue
        last = at
        _tie(draft, ties, role, f"{stem}-{n:02d}", pair, height)


def _pairs(draft: Draft, ridge: str) -> Iterator[tuple[float, str, str]]:
    """Yield the pairs of rafters that face each other at a ridge: place, two keys."""
    piece = draft.members[ridge]
    place = {node: at for at, node in piece.stations.items()}
    tops: dict[int, list[str]] = {}
    for key, other in draft.members.items():
        if other.member.role in _PAIRED:
            top = other.stations[max(other.stations)]
            if top in place:
                tops.setdefault(top, []).append(key)
    for node, keys in tops.items():
        for one, other in combinations(keys, 2):
            ways = [_flat(draft, key) for key in (one, other)]
            if float(ways[0] @ ways[1]) < _OPPOSED:
                yield place[node], one, other


def _flat(draft: Draft, key: str) -> Floats:
    """Return the unit plan vector up a rafter, (2,)."""
    way = (draft.members[key].end - draft.members[key].start)[:2]
    return way / np.hypot(*way)


def _tie(
    draft: Draft, ties: Ties, role: Role, key: str, pair: list[str], height: float
) -> None:
    """Add one level tie between two rafters at a height, m."""
    feet = [_foot(draft, rafter) for rafter in pair]
    tops = [draft.members[rafter].end for rafter in pair]
    nodes = []
    for rafter, foot, top in zip(pair, feet, tops, strict=True):
        part = (height - float(foot[2])) / float(top[2] - foot[2])
        nodes.append(join(draft, rafter, foot + (top - foot) * part))
    ends = [np.array(draft.points[node]) for node in nodes]
    way = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
    beside = section(draft.brief.rafters.size).breadth
    added = draft.add(
        key,
        role,
        *ends,
        ties,
        up=(0.0, 0.0, 1.0),
        axial_only=True,
        acts=-1 if ties.acts is TieAction.PULL_ONLY else 0,
        offset=(-float(way[1]) * beside, float(way[0]) * beside, 0.0),
    )
    if added:
        stations = draft.members[key].stations
        stations[min(stations)] = nodes[0]
        draft.end_on(key, nodes[1])


def _foot(draft: Draft, rafter: str) -> Floats:
    """Return where a rafter stands on its plate, (3,) m."""
    piece = draft.members[rafter]
    nodes = [np.array(draft.points[node]) for node in piece.stations.values()]
    seats = {s.node for s in draft.supports}
    on = [
        np.array(draft.points[node])
        for node in piece.stations.values()
        if node in seats and draft.points[node][2] < piece.end[2] - _LEVEL
    ]
    return min(on or nodes, key=lambda point: float(point[2]))
