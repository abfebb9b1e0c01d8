"""Face nails that join the plies of a joist under a strut's foot."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..basis.materials import reference_values
from ..basis.nds.nail_joints import adjusted_lateral_value
from ..basis.nds.nails import lateral_value, nail
from ..framing.model import Role
from ..solve import Solution

NAIL = "10d common"  # 3 in: through one ply and almost through the next


@dataclass(frozen=True, kw_only=True)
class PlyNailing:
    """Face nails that hand a strut's load from ply to ply.

    Attributes:
        joist: key of the joist that takes most.
        plies: how many it has.
        load: N, what the strut brings.
        passed: N, largest part that crosses one face between plies.
        nail: its name.
        each: N, adjusted value of one nail.
        count: nails needed in that face near the foot.
        combination: governs.
        clause: of the nail's value.
    """

    joist: str
    plies: int
    load: float
    passed: float
    nail: str
    each: float
    count: int
    combination: str
    clause: str


def ply_nailing(solution: Solution) -> PlyNailing | None:
    """Return the face nailing of the joist with plies that takes most from struts.

    Of n equal plies each carries 1/n of the load that lands on the outer ones or on
    all alike; at most (n - 1)/n crosses the first face where it lands on one.

    Source: NDS 2018 12.3 for one nail; the division among plies is statics.

    Returns:
        None where no strut stands on a joist of several plies.
    """
    if solution.model is None or solution.frame is None:
        return None
    framing, combos = solution.framing, solution.combinations
    found: list[PlyNailing] = []
    for strut in framing.of_role(Role.STRUT):
        if strut.key not in solution.model.members:
            continue
        down = solution.frame.end_force_global[
            :, solution.model.rows_of(strut.key).start, 0, 2
        ]
        for key in framing.by_node[strut.nodes[0]]:
            member = framing.members[key]
            plies = member.section.plies
            if member.role is not Role.CEILING_JOIST or plies < 2:
                continue
            G = reference_values(member.species, member.grade, member.section).G
            b = member.section.breadth
            value = lateral_value(nail(NAIL), b, b, G, G)
            passed = down * (plies - 1) / plies
            each = [adjusted_lateral_value(value.Z, float(c)) for c in combos.C_D]
            need = [p / z for p, z in zip(passed.tolist(), each, strict=True)]
            at = max(range(len(need)), key=need.__getitem__)
            found.append(
                PlyNailing(
                    joist=key,
                    plies=plies,
                    load=float(down[at]),
                    passed=float(passed[at]),
                    nail=NAIL,
                    each=each[at],
                    count=max(2, math.ceil(need[at] - 1e-9)),
                    combination=combos.names[at],
                    clause=value.clause,
                )
            )
    return max(found, key=lambda p: p.passed / p.each, default=None)
