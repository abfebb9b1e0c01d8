"""How far apart braces may stand: by the purlin that they hold, and by themselves.

Reads the hand method's loads of a solved roof: the purlin as a rigid support, each
brace with its tributary length of it. The frame analysis has the last word.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ..basis.arrays import Floats
from ..basis.irc.purlins import BRACE_SPACING
from ..basis.protocol import Check
from ..solve import Solution
from ..units import FOOT

LONGEST = 40 * FOOT


@dataclass(frozen=True, kw_only=True)
class PurlinReach:
    """How far apart a purlin lets its braces stand.

    Attributes:
        member: key of the purlin.
        spacing: m, the widest as it is.
        simple: m, the purlin cut over every brace.
        continuous: m, run through over them.
        simple_check, continuous_check: that stops it.
        rule: m, greatest spacing that the code allows.
    """

    member: str
    spacing: float
    simple: float
    continuous: float
    simple_check: Check
    continuous_check: Check
    rule: float


@dataclass(frozen=True, kw_only=True)
class StrutReach:
    """How much of a purlin one strut can carry.

    Attributes:
        member: key of the strut.
        tributary: m of purlin, as it is.
        largest: m, by its strength; 0 where it is too slender to count.
        check: that stops it.
    """

    member: str
    tributary: float
    largest: float
    check: Check


def purlin_reaches(solution: Solution) -> dict[str, PurlinReach]:
    """Return how far apart each purlin lets its braces stand, by key.

    A rafter at mid-span bends a simple span by P L / 4 and one that runs through by
    P L / 8; the uniform load counts where it bends more (w L^2 / 8 simple, w L^2 / 10
    run through, the first inner support of many spans).

    Source: statics; strengths of the basis, NDS 2018 3.3 and 3.4.2; IRC 2018 R802.4.5.

    Args:
        solution: a solved roof.
    """
    out = {}
    rafters = solution.brief.rafters.spacing
    for key, hand in solution.hand.purlins.items():
        found = _strengths(solution, key)
        if found is None:
            continue
        bending, shear, modulus, area = found
        w = np.maximum(hand.line_load, 1e-9)
        P = w * rafters
        by_shear = float((2 * shear * area / 1.5 / w).min())
        rows = {}
        for name, spread, point in (("simple", 8, 4), ("continuous", 10, 8)):
            M = bending * modulus
            by_bending = float(np.minimum(np.sqrt(spread * M / w), point * M / P).min())
            stop = Check.BENDING if by_bending <= by_shear else Check.SHEAR
            rows[name] = min(by_bending, by_shear, LONGEST), stop
        out[key] = PurlinReach(
            member=key,
            spacing=hand.span,
            simple=rows["simple"][0],
            continuous=rows["continuous"][0],
            simple_check=rows["simple"][1],
            continuous_check=rows["continuous"][1],
            rule=BRACE_SPACING,
        )
    return out


def strut_reaches(solution: Solution) -> dict[str, StrutReach]:
    """Return how much of its purlin each strut can carry, by key.

    Source: statics, N = w s / sin(angle); column strength of the basis, NDS 2018 3.7.

    Args:
        solution: a solved roof.
    """
    out = {}
    for key, hand in solution.hand.struts.items():
        purlin = solution.hand.purlins.get(f"P-{solution.framing.members[key].group}")
        if purlin is None:
            continue
        limit = (
            solution.checked.result.basis.slenderness_limit if solution.checked else 50
        )
        with np.errstate(divide="ignore"):
            most = hand.capacity * math.sin(hand.angle) / purlin.line_load
        slender = hand.slenderness > limit * (1 + 1e-9)
        out[key] = StrutReach(
            member=key,
            tributary=hand.tributary_length,
            largest=0.0 if slender else float(min(most.min(), LONGEST)),
            check=Check.SLENDERNESS if slender else Check.COMPRESSION,
        )
    return out


def _strengths(
    solution: Solution, key: str
) -> tuple[Floats, Floats, float, float] | None:
    """Return Fb' and Fv' in the hand method's combinations, and the section's S, A."""
    if solution.checked is None or solution.model is None:
        return None
    if key not in solution.model.members:
        return None
    result, row = solution.checked.result, solution.model.members.index(key)
    at = [solution.combinations.row(name) for name in solution.hand.combinations]
    s = result.strengths
    bending = np.minimum(s.bending_sag, s.bending_hog)
    every = [np.broadcast_to(v, s.shear.shape)[at, row] for v in (bending, s.shear)]
    table = result.table
    return every[0], every[1], float(table.section_modulus[row]), float(table.area[row])
