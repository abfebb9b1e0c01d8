"""Top plates round a drawn outline, hinged at its corners, and the level holds."""

from __future__ import annotations

import math

from ...basis.sections import section
from ...form import LineKind
from ...units import FOOT
from ..common_rafters import PLATE
from ..draft import Draft
from ..model import Role, SupportKind
from ..plan import TOUCH
from .plan import Edge, OutlinePlan

_BEARS_EVERY = 4 * FOOT  # nothing lands between; studs stand closer


def plate_key(edge: str) -> str:
    """Return the key of the plate of a side."""
    return f"PL-{edge}"


def add_plates(draft: Draft, plan: OutlinePlan) -> None:
    """Add the plates; rafters and joists make their joints on them."""
    for edge in plan.edges:
        added = draft.add(
            plate_key(edge.name),
            Role.PLATE,
            (*edge.start, 0.0),
            (*edge.end, 0.0),
            PLATE,
            up=(float(edge.outward[0]), float(edge.outward[1]), 0.0),
            slope=edge.name,
            offset=(0.0, 0.0, -section("2x4").breadth),
        )
        if not added:
            continue
        for point, corner in zip((edge.start, edge.end), edge.corners, strict=True):
            node = draft.node((*point, 0.0))
            draft.support(node, SupportKind.SEAT, f"W-{corner}", plate_key(edge.name))
        if edge.is_gable:
            _bear_between(draft, edge)
        _join_hips(draft, plan, edge)
    for edge in plan.edges:
        if edge.top > 0:
            _add_high_plates(draft, plan, edge)


def _join_hips(draft: Draft, plan: OutlinePlan, edge: Edge) -> None:
    """Join hips and valleys to a plate that rise from a point within its length.

    Sides that hardly turn are one wall with one plate; its line may pass such a point
    by less than an inch.
    """
    plate = draft.members[plate_key(edge.name)]
    for line in plan.form.of_kind(LineKind.HIP, LineKind.VALLEY):
        gap = line.start[:2] - edge.start
        along, aside = float(gap @ edge.way), abs(float(gap @ edge.outward))
        on_wall = line.start_node < len(plan.form.outline.polygon) and aside < TOUCH
        if on_wall and TOUCH < along < edge.length - TOUCH:
            plate.put(along, draft.node(line.start))


def _bear_between(draft: Draft, edge: Edge) -> None:
    """Let the plate over a gable bear on its wall, where no rafter's seat says so."""
    key, parts = plate_key(edge.name), math.ceil(edge.length / _BEARS_EVERY)
    for n in range(1, parts):
        x, y = edge.start + edge.way * (edge.length * n / parts)
        node = draft.attach(key, (float(x), float(y), 0.0))
        draft.support(node, SupportKind.SEAT, f"W-{edge.name}", key)


def _add_high_plates(draft: Draft, plan: OutlinePlan, edge: Edge) -> None:
    """Add what tops a high wall, drawn alone: rafters bear on the wall."""
    lines = [
        sorted((line.start, line.end), key=lambda end: float(end[:2] @ edge.way))
        for line in plan.form.rakes
        if abs(float((line.start[:2] - edge.start) @ edge.outward)) < TOUCH
        and abs(line.rise) < TOUCH
    ]
    lines.sort(key=lambda ends: float(ends[0][:2] @ edge.way))
    for n, (first, last) in enumerate(lines, start=1):
        draft.add(
            f"PH-{edge.name}-{n}",
            Role.PLATE,
            first,
            last,
            PLATE,
            up=(float(edge.outward[0]), float(edge.outward[1]), 0.0),
            slope=edge.name,
            offset=(0.0, 0.0, -section("2x4").breadth),
            counted=False,
        )
