"""Top plates round a drawn outline, hinged at its corners, and the level holds."""

from __future__ import annotations

from ...basis.sections import section
from ..common_rafters import PLATE
from ..draft import Draft
from ..model import Role, SupportKind
from .plan import OutlinePlan


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
