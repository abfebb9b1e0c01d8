"""A cross-member on the joists that spreads each foot's load over several of them."""

from __future__ import annotations

from dataclasses import replace

from ..brief.model import Beam, BeamPlace, Brief, Foot, FootOn, JoistDirection
from ..solve import Solution
from .beam_rungs import with_fields
from .model import Ladder, RemedyKind, Rung
from .posts import joist_lumber
from .rows import FootRow, foot_rows, fresh, with_feet
from .stock import LVL, known, label
from .walls import STOPS

_SIZES = (("2x4", 2), ("2x6", 2), ("2x8", 2), ("2x10", 2), ("2x12", 2))
_STIFF = ("1.75x14", 3)


def propose(before: Solution) -> list[Ladder]:
    """Return a cross-member along each row of feet, from house end to house end."""
    rows = foot_rows(before)
    joists = before.brief.ceiling_joists
    across = joists is not None and joists.direction is JoistDirection.ACROSS
    if not rows or not across:
        return []
    brief, names = laid(before.brief, rows)
    sizes = tuple(rungs(brief, names))
    return [
        Ladder(
            kind=RemedyKind.SPREADER,
            key="spreader",
            title="A cross-member over the joists",
            build=(
                "Lay {size} on edge over the joists along each row of feet, from end "
                "to end of the row and one joist farther, block it against rolling, "
                "and stand the struts on it."
            ),
            rungs=sizes,
            likely=len(sizes) - 1,  # what passes at all is stiff
            leaves=(
                STOPS,
                "It spreads the load and takes none of it away: all of it still comes "
                "down on the ceiling joists, each with its share.",
                "The rule asks for a bearing wall under the struts; a cross-member on "
                "joists is none.",
            ),
        )
    ]


def laid(brief: Brief, rows: list[FootRow]) -> tuple[Brief, tuple[str, ...]]:
    """Return the brief with a cross-member under each row, and their names."""
    beams, feet, names = list(brief.beams), {}, []
    joists = brief.ceiling_joists
    assert joists is not None
    for row in rows:
        low = max(0.0, row.x[0] - joists.spacing)
        high = min(brief.footprint.length, row.x[-1] + joists.spacing)
        name = fresh(f"over {row.purlin}", (b.name for b in beams))
        beams.append(
            Beam(
                name=name, size=_SIZES[0][0], start=(low, row.y), end=(high, row.y),
                carries_joists=False, place=BeamPlace.ON_JOISTS,
            )
        )  # fmt: skip
        feet[row.part] = Foot(on=FootOn.BEAM, name=name)
        names.append(name)
    return with_feet(replace(brief, beams=tuple(beams)), feet), tuple(names)


def rungs(brief: Brief, names: tuple[str, ...]) -> list[Rung]:
    """Return the brief with its cross-members in rising stiffness."""
    species, grade = joist_lumber(brief)
    sizes = [(*size, species, grade) for size in _SIZES] + [(*_STIFF, *LVL)]
    out = []
    for size, plies, kind, sort in sizes:
        if not known(size, plies, kind, sort):
            continue
        fields: dict[str, object] = {
            "size": size, "plies": plies, "species": kind, "grade": sort,
        }  # fmt: skip
        beams = tuple(
            with_fields(b, fields) if b.name in names else b for b in brief.beams
        )
        words = f"{label(size, plies)}{' LVL' if kind == LVL[0] else ''}"
        out.append(Rung(size=words, brief=replace(brief, beams=beams)))
    return out
