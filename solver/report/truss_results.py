"""Site-built trusses as results.json holds them: by hand, and the nails of their webs.

Reads a Solution and computes nothing of its own.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from ..solve import Solution
from ..trusses import GussetJoint, HandTruss
from ..units import INCH, POUND, POUND_FOOT
from .numbers import number


def truss_results(solution: Solution) -> dict[str, Any]:
    """Return every truss by the method of joints and the nails at its gussets."""
    names = solution.combinations.names
    return {
        "by_hand": {f"{t.station:02d}": _hand(t, names) for t in solution.trusses},
        "nails": {joint.key: nail_results(joint) for joint in solution.gussets},
    }


def _hand(truss: HandTruss, names: tuple[str, ...]) -> dict[str, Any]:
    """Return one truss in the combination that uses each piece most."""
    return {
        "forces": {
            bar: {
                name: number(float(force), POUND)
                for name, force in zip(names, forces, strict=True)
            }
            for bar, forces in truss.forces.items()
        },
        "top_chord_moment": number(float(np.abs(truss.top_moment).max()), POUND_FOOT),
        "bottom_chord_moment": number(
            float(np.abs(truss.bottom_moment).max()), POUND_FOOT
        ),
        "use": {
            part: {"worst": float(use.max()), "combination": names[int(use.argmax())]}
            for part, use in truss.use.items()
        },
        "slenderness": truss.slenderness,
    }


def nail_results(joint: GussetJoint) -> dict[str, Any]:
    """Return the nails of one piece in one joint, and the plywood over it."""
    sheet = joint.plywood
    return {
        "into": joint.member,
        "through": joint.through,
        "force": number(joint.force, POUND),
        "combination": joint.combination,
        "nail": joint.nail,
        "each": number(joint.each, POUND),
        "needed": joint.needed,
        "stated": joint.stated,
        "passes": joint.passes,
        "clause": joint.clause,
        "plywood": None
        if sheet is None
        else {
            "rating": sheet.rating,
            "width": number(sheet.width, INCH),
            "length": number(sheet.length, INCH),
            "clause": sheet.clause,
        },
    }
