"""What must stand before anything is cut, and what it puts on the floor below.

The forces are those of the struts on feet that do not give: a shore is stiffer than a
ceiling joist and draws more load than the strut brings today.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..framing.model import Role
from ..solve import Solution


@dataclass(frozen=True, kw_only=True)
class Shores:
    """Shores under what the remedy relieves.

    Attributes:
        places: how many.
        each: N, largest load of one under all loads of the brief.
        each_dead: N, largest of one under dead load alone.
        all_dead: N, of all of them under dead load alone.
        words: the order of work, in sentences.
    """

    places: int
    each: float
    each_dead: float
    all_dead: float
    words: tuple[str, ...]


def shores_under(solution: Solution, keys: tuple[str, ...]) -> Shores | None:
    """Return the shores that take over from struts, None where there is no analysis.

    Args:
        solution: the roof with a firm support under every strut of it.
        keys: struts that will be moved, taken out or given another footing.
    """
    if solution.model is None or solution.frame is None or not keys:
        return None
    down = solution.frame.end_force_global[:, :, 0, 2]
    dead = solution.combinations.row("D")
    rows = [
        solution.model.rows_of(key).start
        for key in keys
        if key in solution.model.members
        and solution.framing.members[key].role is Role.STRUT
    ]
    if not rows:
        return None
    return Shores(
        places=len(rows),
        each=float(down[:, rows].max()),
        each_dead=float(down[dead, rows].max()),
        all_dead=float(down[dead, rows].sum()),
        words=(
            "Set shores under the purlins beside the struts, and follow each shore "
            "down through the floor to a footing or girder, before a strut is moved.",
            "Shores load the floor they stand on; the floor was not checked here.",
        ),
    )
