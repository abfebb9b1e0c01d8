"""The joints of a roof as results.json holds them.

Reads a Solution and computes nothing of its own.
"""

from __future__ import annotations

import math
from typing import Any

from ..connections import Joint
from ..solve import Solution
from ..units import FOOT, POUND


def joint_results(solution: Solution) -> dict[str, Any]:
    """Return every nailed joint by its key, forces and values in lb."""
    return {joint.key: _joint(joint) for joint in solution.joints}


def _joint(joint: Joint) -> dict[str, Any]:
    """Return one joint in its governing combination."""
    row, each = joint.worst, joint.each
    pull = float(each.withdrawal[row]) if each else math.inf
    return {
        "kind": joint.kind.value,
        "members": list(joint.members),
        "at": [v / FOOT for v in joint.point],
        "combination": joint.combination,
        "C_D": float(each.C_D[row]) if each else None,
        "sideways": float(joint.lateral[row]) / POUND,
        "pull": float(joint.withdrawal[row]) / POUND,
        "sideways_by_combination": {
            name: float(force) / POUND
            for name, force in zip(joint.combinations, joint.lateral, strict=True)
        },
        "nail": each.nail if each else None,
        "driven": each.driven.value if each else None,
        "yield_mode": each.reference.mode.value if each else None,
        "value_sideways": float(each.lateral[row]) / POUND if each else None,
        "value_pull": pull / POUND if math.isfinite(pull) else None,
        "clause": each.clause if each else None,
        "needed_by_force": joint.by_force,
        "needed_by_rule": joint.least,
        "needed": joint.needed,
        "stated": joint.stated,
        "utilisation": joint.utilisation,
        "passes": joint.passes,
        "keeps_rule": joint.keeps_rule,
        "rule": joint.rule or None,
        "note": joint.note,
        "words": joint.words,
    }
