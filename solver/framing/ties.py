"""Collar ties near the ridge and rafter ties low in the attic."""

from __future__ import annotations

import math

from ..basis.sections import section
from ..brief.model import TieAction, Ties
from .common_rafters import rafter_key, roof_point
from .draft import Draft
from .model import Role


def add_ties(draft: Draft) -> None:
    """Add the ties that the brief states, on rafter pairs at their spacing."""
    brief = draft.brief
    if brief.rafter_ties is not None:
        _add(draft, brief.rafter_ties, Role.RAFTER_TIE, "RT")
    if brief.collar_ties is not None:
        _add(draft, brief.collar_ties, Role.COLLAR_TIE, "CT")


def _add(draft: Draft, ties: Ties, role: Role, prefix: str) -> None:
    """Add one kind of tie to every so many rafter pairs, the end pairs included."""
    brief = draft.brief
    step = max(1, math.floor(ties.spacing / brief.rafters.spacing + 1e-6))
    count = len(draft.rafter_stations)
    from_plate = ties.height_ratio * brief.footprint.width / 2
    beside = section(brief.rafters.size).breadth
    for k in sorted({*range(0, count, step), count - 1}):
        pair = [rafter_key(side, k) for side in "SN"]
        if not all(draft.has(key) for key in pair):
            continue
        x = float(draft.rafter_stations[k])
        ends = [
            roof_point(brief, side, x, draft.lines.plan[side].settle(from_plate))
            for side in "SN"
        ]
        for key, point in zip(pair, ends, strict=True):
            draft.attach(key, point)
        draft.add(
            f"{prefix}-{k:02d}",
            role,
            ends[0],
            ends[1],
            ties,
            up=(0.0, 0.0, 1.0),
            axial_only=True,
            acts=-1 if ties.acts is TieAction.PULL_ONLY else 0,
            station=k,
            offset=(-beside, 0.0, 0.0),
        )
