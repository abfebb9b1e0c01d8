"""More plies of the joists that struts stand on."""

from __future__ import annotations

from dataclasses import replace

from ..framing.model import Role
from ..solve import Solution
from ..trace.naming import named
from .likely import likely_plies
from .model import Ladder, RemedyKind, Rung
from .rows import foot_rows
from .walls import STOPS

_MOST = 6


def propose(before: Solution) -> list[Ladder]:
    """Return more plies of the joists under the feet."""
    joists = before.brief.ceiling_joists
    rows = foot_rows(before)
    if joists is None or not rows or not all(row.on_joists for row in rows):
        return []
    feet = {before.framing.members[k].nodes[0] for row in rows for k in row.keys}
    under = tuple(
        m.key for m in before.framing.of_role(Role.CEILING_JOIST) if feet & set(m.nodes)
    )
    least = max(joists.plies, joists.plies_under_struts) + 1
    rungs = tuple(
        Rung(
            size=f"{n} plies of {joists.size}",
            brief=replace(
                before.brief, ceiling_joists=replace(joists, plies_under_struts=n)
            ),
        )
        for n in range(least, _MOST + 1)
    )
    if not rungs:
        return []
    return [
        Ladder(
            kind=RemedyKind.PLIES,
            key="plies",
            title="More plies under the feet",
            build=(
                f"Nail full-length plies to {named(under)}, bearing to bearing: "
                "{size} each, face-nailed so that the plies share the strut's load."
            ),
            rungs=rungs,
            likely=likely_plies(before, under, least - 1) - least,
            leaves=(
                STOPS,
                "A ply that does not reach both bearings adds nothing where it ends.",
                "The load still comes down on the ceiling: it is spread over no more "
                "joists than before.",
            ),
        )
    ]
