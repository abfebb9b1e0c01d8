"""Load duration factor by load case.

Knows the names of the load cases and nothing of what they hold.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..errors import TableError

# NDS 2018 Table 2.3.2, by the load that each case holds.
LOAD_DURATION_FACTORS = {
    "D": 0.9,  # permanent
    "L": 1.0,  # ten years
    "S": 1.15,  # two months, balanced snow
    "SuS": 1.15,  # unbalanced snow, drift on the south slope
    "SuN": 1.15,  # unbalanced snow, drift on the north slope
    "SuE": 1.15,  # unbalanced snow, drift on the east slope
    "SuW": 1.15,  # unbalanced snow, drift on the west slope
    "Lr": 1.25,  # seven days
    "W": 1.6,  # ten minutes
}


def load_duration_factor(cases: Iterable[str]) -> float:
    """Return the load duration factor C_D of a combination.

    Source: NDS 2018 2.3.2 and Appendix B: the shortest load in the combination
    decides. Not applied to E, Emin or Fc-perp.

    Args:
        cases: names of the load cases that are present, at least one.

    Returns:
        C_D, 0.9 to 1.6.

    Raises:
        TableError: an unknown load case, or none at all.
    """
    names = tuple(cases)
    for name in names:
        if name not in LOAD_DURATION_FACTORS:
            raise TableError("load case", name, ", ".join(LOAD_DURATION_FACTORS))
    if not names:
        raise TableError("load cases", names, "at least one load case")
    return max(LOAD_DURATION_FACTORS[name] for name in names)
