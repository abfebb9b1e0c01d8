"""Site-built trusses in the place of struts that stand on ceiling joists."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from ..basis.nds.compression import SLENDERNESS_LIMIT
from ..basis.sections import section
from ..brief.braces import purlin_plan
from ..brief.model import Brief, JoistDirection, RoofForm, Truss, TrussWebs
from ..solve import Solution
from ..units import show_length
from .model import Ladder, RemedyKind, Rung
from .rows import FootRow, foot_rows, fresh, without_struts
from .trouble import find_trouble
from .walls import STOPS

_SIZES = (
    ("2x4", False, "2x4 webs"),
    ("2x4", True, "2x4 webs held at mid-length by a runner"),
    ("2x6", True, "2x6 webs held at mid-length by a runner"),
)
_BEYOND_DOUBT = 1.0  # of le/d, that no small shift of a joint takes back
_LEAVES = (
    STOPS,
    "A truss is as strong as its joints: gussets and nails as counted, on both sides; "
    "glue lines, edges and panel buckling were not checked.",
    "Webs divide the attic: nobody walks through it any more.",
)
_ENGINEER = (
    "Trusses are engineered work: chords, webs, joints and bracing by a designer.",
)


def propose(before: Solution) -> list[Ladder]:
    """Return trusses of every rafter pair, and trusses that hold the purlins."""
    brief, trouble = before.brief, find_trouble(before)
    joists = brief.ceiling_joists
    across = joists is not None and joists.direction is JoistDirection.ACROSS
    if not across or brief.roof.form is not RoofForm.GABLE or brief.trusses:
        return []
    rows = foot_rows(before)
    out = []
    if rows or trouble.rafters:
        out.append(_every_pair(brief, rows))
    spacing = max(
        (brief.struts[r.part].spacing for r in rows if r.part < len(brief.struts)),
        default=0.0,
    )
    if rows and spacing > brief.rafters.spacing + 1e-6:
        out.append(_under_purlins(brief, rows, spacing))
    return out


def _every_pair(brief: Brief, rows: list[FootRow]) -> Ladder:
    """Return webs in every rafter pair, with the struts and their purlins gone."""
    bare = without_struts(brief, (row.part for row in rows)) if rows else brief
    taken = ", and take out the struts and the purlins they held" if rows else ""
    return Ladder(
        kind=RemedyKind.TRUSS,
        key="trusses",
        title="A site-built truss of every rafter pair",
        build=(
            "Make a truss of every rafter pair and its ceiling joist with a king post "
            "from the peak and two struts from its foot to the middle of the rafters: "
            f"{{size}}, with plywood gussets on both sides{taken}."
        ),
        rungs=tuple(_rungs(bare, brief.rafters.spacing, [brief.footprint.width / 4])),
        leaves=_LEAVES,
        engineer=_ENGINEER,
        rises=False,  # wider webs are heavier, and more slender ones may pass
    )


def _under_purlins(brief: Brief, rows: list[FootRow], spacing: float) -> Ladder:
    """Return trusses as far apart as the struts, whose struts hold the purlins."""
    parts = {row.part for row in rows}
    bare = replace(without_struts(brief, parts), purlins=brief.purlins)
    named = {row.purlin for row in rows}
    held = [purlin_plan(brief, p) for p in brief.purlins if p.name in named]
    return Ladder(
        kind=RemedyKind.TRUSS,
        key="trusses-at-struts",
        title="Site-built trusses that hold the purlins",
        build=(
            f"At every {show_length(spacing, brief.units)} make a truss of a rafter "
            "pair and its ceiling joist with a king post from the peak and two struts "
            "from its foot up to the purlins: {size}, with plywood gussets on both "
            "sides; take out the struts that stand on joists."
        ),
        rungs=tuple(_rungs(bare, spacing, held)),
        leaves=_LEAVES,
        engineer=_ENGINEER,
        rises=False,
    )


def _rungs(bare: Brief, spacing: float, tops: list[float]) -> Iterator[Rung]:
    """Yield the webs in rising size, but for those that the code bars at any load.

    Source: le/d of 50 at most, NDS 2018 3.7.1.4.

    Args:
        bare: the roof without what the trusses replace.
        spacing: of the trusses, m.
        tops: where the struts of a truss meet the rafters, m on plan from the plate.
    """
    name = fresh("new", (t.name for t in bare.trusses))
    run, pitch = bare.footprint.width / 2, bare.roof.pitch
    longest = max(math.hypot(run - top, pitch * top) for top in tops)
    for size, held, words in _SIZES:
        slender = longest / section(size).breadth / (2 if held else 1)
        if slender > SLENDERNESS_LIMIT + _BEYOND_DOUBT:
            continue
        truss = Truss(
            name=name,
            size=size,
            species=bare.rafters.species,
            grade="Stud" if size == "2x4" else bare.rafters.grade,
            webs=TrussWebs.KING_POST_AND_STRUTS,
            spacing=spacing,
            held_at_mid=held,
        )
        yield Rung(size=words, brief=replace(bare, trusses=(*bare.trusses, truss)))
