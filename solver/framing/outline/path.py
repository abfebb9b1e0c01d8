"""Which rafters over a drawn outline have nothing at all to hold their thrust."""

from __future__ import annotations

from collections.abc import Mapping

from ..model import Framing, Role
from .plan import OutlinePlan


def untied_rafters(
    framing: Framing, plan: OutlinePlan, faults: Mapping[str, str]
) -> list[str]:
    """Return the commons of planes that no sound tie holds anywhere, in order.

    Where a wall has ties its plate hands the thrust between them along: the audit says
    how far they are apart, and the analysis what that does to the plate. Commons at the
    point of a hip end lean on its hips, and where a ridge beam carries none leans on
    another.
    """
    if framing.of_role(Role.RIDGE_BEAM):
        return []
    inner = _within_ridges(framing, plan)
    rows: dict[str, list[str]] = {}
    for member in framing.of_role(Role.RAFTER):
        if member.key in plan.tied:
            rows.setdefault(str(member.slope), []).append(member.key)
    return [
        key
        for row in rows.values()
        if not any(plan.tied[k] and not _tie_failed(framing, k, faults) for k in row)
        for key in row
        if key in inner
    ]


def folding_rafters(framing: Framing, plan: OutlinePlan) -> dict[str, str]:
    """Return the rafters at breaks that nothing keeps from folding, with the reason.

    Source: statics. Rafters hinged at plate, break and ridge are a chain of four bars,
    a mechanism; a tie from break to break leaves it free to sway. Over a plan without
    a gable the curbs make a ring, and the analysis decides.
    """
    ends = {node for m in framing.of_role(Role.CURB) for node in m.nodes}
    if framing.of_role(Role.KNEE_STUD) or not plan.form.rakes:
        return {}
    why = "nothing holds the break of its slope: the rafters fold there"
    if framing.of_role(Role.COLLAR_TIE):
        why = "ties alone hold the break of its slope: the rafters sway sideways there"
    return {
        m.key: why
        for m in framing.of_role(Role.RAFTER)
        if ends & {m.nodes[0], m.nodes[-1]} and not any(m.stiff_ends)
    }


def _within_ridges(framing: Framing, plan: OutlinePlan) -> set[str]:
    """Return the rafters that end on a ridge between its two ends."""
    ends = {
        node
        for key in plan.lines
        if key in framing.members
        for node in (framing.members[key].nodes[0], framing.members[key].nodes[-1])
    }
    ridges = framing.of_role(Role.RIDGE_BOARD)
    inner = {node for ridge in ridges for node in ridge.nodes} - ends
    return {m.key for m in framing.of_role(Role.RAFTER) if m.nodes[-1] in inner}


def _tie_failed(framing: Framing, rafter: str, faults: Mapping[str, str]) -> bool:
    """Return whether all joists at a rafter's foot are without a load path."""
    joists = [
        key
        for node in framing.members[rafter].nodes
        for key in framing.by_node[node]
        if framing.members[key].role is Role.CEILING_JOIST
    ]
    return bool(joists) and all(key in faults for key in joists)
