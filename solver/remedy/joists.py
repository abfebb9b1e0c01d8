"""Deeper ceiling joists, all of them."""

from __future__ import annotations

from dataclasses import replace

from ..solve import Solution
from .model import Ladder, RemedyKind, Rung
from .stock import JOISTS, known, larger
from .trouble import find_trouble
from .walls import STOPS


def propose(before: Solution) -> list[Ladder]:
    """Return deeper joists where joists fail or carry struts."""
    joists, trouble = before.brief.ceiling_joists, find_trouble(before)
    if joists is None or not (trouble.joists or trouble.feet):
        return []
    rungs = tuple(
        Rung(
            size=f"{size} joists",
            brief=replace(before.brief, ceiling_joists=replace(joists, size=size)),
        )
        for size in larger(JOISTS, joists.size)
        if known(size, joists.plies, joists.species, joists.grade)
    )
    if not rungs:
        return []
    return [
        Ladder(
            kind=RemedyKind.JOISTS,
            key="joists",
            title="Deeper ceiling joists",
            build=(
                "Replace the ceiling joists by {size} of the same species, grade and "
                "spacing, or nail such joists beside each of them, bearing to bearing."
            ),
            rungs=rungs,
            rises=False,  # deep and narrow: the top edge is not held (NDS 3.3.3)
            leaves=(
                STOPS,
                "The roof's load still comes down on the ceiling.",
                "The ceiling has to come down, or the work is done from above.",
            ),
        )
    ]
