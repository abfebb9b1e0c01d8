"""Ties for rafters that push on nothing: rafter ties, or ceiling joists across."""

from __future__ import annotations

from dataclasses import replace

from ..brief.model import JoistDirection, RoofForm, Ties
from ..solve import Solution
from ..units import FOOT
from .model import Ladder, RemedyKind, Rung
from .stock import about
from .trouble import find_trouble

_HEIGHTS = (1 / 3, 1 / 4, 1 / 6, 0.0)  # of the rise; the lower the less force
_SIZES = ("2x4", "2x6", "2x8")


def propose(before: Solution) -> list[Ladder]:
    """Return ties where rafters are untied or their ties fail."""
    brief, trouble = before.brief, find_trouble(before)
    if brief.roof.form is not RoofForm.GABLE:
        return []
    if not (trouble.untied or trouble.ties):
        return []
    out = [_rafter_ties(before)]
    joists = brief.ceiling_joists
    if joists is not None and joists.direction is JoistDirection.ALONG:
        turned = replace(
            brief, ceiling_joists=replace(joists, direction=JoistDirection.ACROSS)
        )
        out.append(
            Ladder(
                kind=RemedyKind.TIES,
                key="joists-across",
                title="Ceiling joists across, as ties",
                build=(
                    "Run the ceiling joists {size} from plate to plate, lapped and "
                    "nailed over the walls, each nailed to its rafters at the heel."
                ),
                rungs=(Rung(size="across", brief=turned),),
                leaves=("It does not pull in walls that have spread.",),
            )
        )
    return out


def _rafter_ties(before: Solution) -> Ladder:
    """Return rafter ties from the highest place the rule allows down to the plate."""
    brief = before.brief
    spacing = max(brief.rafters.spacing, 4 * FOOT)
    rungs = []
    for height in _HEIGHTS:
        for size in _SIZES:
            ties = Ties(
                size=size,
                species=brief.rafters.species,
                grade=brief.rafters.grade,
                height_ratio=height,
                spacing=spacing if size != _SIZES[-1] else brief.rafters.spacing,
            )
            at = "at the plate" if not height else f"{height:.2f} of the rise up"
            close = ties.spacing <= brief.rafters.spacing
            every = (
                "on each pair" if close else f"every {about(ties.spacing, brief.units)}"
            )
            rungs.append(
                Rung(
                    size=f"{size} {at}, {every}",
                    brief=replace(brief, rafter_ties=ties),
                )
            )
    return Ladder(
        kind=RemedyKind.TIES,
        key="rafter-ties",
        title="Rafter ties",
        build="Nail rafter ties from rafter to rafter: {size}.",
        rungs=tuple(rungs),
        rises=False,  # lower places and larger sizes take turns
        leaves=(
            "It does not pull in walls that have spread.",
            "A tie above the plate bends the rafter below it.",
        ),
    )
