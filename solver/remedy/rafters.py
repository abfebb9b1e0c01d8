"""Rafters deep enough to span from plate to ridge, with no struts at all."""

from __future__ import annotations

from dataclasses import replace

from ..basis.sections import section
from ..brief.model import Brief, RoofForm
from ..solve import Solution
from .model import Ladder, RemedyKind, Rung
from .rows import foot_rows, without_struts
from .stock import JOISTS, known, larger
from .trouble import find_trouble


def propose(before: Solution) -> list[Ladder]:
    """Return deeper rafters: without struts that land badly, or as they stand."""
    brief, trouble = before.brief, find_trouble(before)
    rows = foot_rows(before)
    gable = brief.roof.form is RoofForm.GABLE
    out = []
    if rows and gable:
        bare = without_struts(brief, (row.part for row in rows))
        out.append(
            Ladder(
                kind=RemedyKind.RAFTERS,
                key="rafters-no-struts",
                title="Deeper rafters, no struts",
                build=(
                    "Lay {size} beside each rafter from plate to ridge, or in its "
                    "place, and take out the struts and the purlins they held."
                ),
                rungs=tuple(_rungs(bare)),
                leaves=(
                    "Rafters without props push more on the ties at the plate.",
                    "It is a new roof frame: the roofing may have to come off.",
                ),
            )
        )
    elif trouble.rafters and set(trouble.rafters) - set(trouble.untied):
        out.append(
            Ladder(
                kind=RemedyKind.RAFTERS,
                key="rafters",
                title="Deeper rafters",
                build="Lay {size} beside each rafter from plate to ridge.",
                rungs=tuple(_rungs(brief)),
                leaves=("It does not straighten rafters that have bent.",),
            )
        )
    return [ladder for ladder in out if ladder.rungs]


def _rungs(bare: Brief) -> list[Rung]:
    """Return the rafters in rising depth, sawn and then engineered."""
    stock = bare.rafters
    sizes = larger(JOISTS, stock.size)
    return [
        Rung(
            size=f"{size} rafters",
            brief=_deeper(bare, size),
        )
        for size in sizes
        if known(size, stock.plies, stock.species, stock.grade)
    ]


def _deeper(bare: Brief, size: str) -> Brief:
    """Return the brief with rafters of a size, and stated hips no shallower."""
    hips = bare.hips
    if hips is not None and section(hips.size).depth < section(size).depth:
        hips = replace(hips, size=size)
    return replace(bare, rafters=replace(bare.rafters, size=size), hips=hips)
