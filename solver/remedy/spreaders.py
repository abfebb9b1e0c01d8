"""A cross-member on or under the joists that spreads each foot over several."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..brief.model import Beam, BeamPlace, Brief, Foot, FootOn, JoistDirection
from ..solve import Solution
from .beam_rungs import with_fields
from .model import Ladder, RemedyKind, Rung
from .posts import joist_lumber
from .rows import FootRow, fresh, rows_along_ridge, with_feet
from .stock import LVL, known, label
from .walls import STOPS

_SIZES = (("2x4", 2), ("2x6", 2), ("2x8", 2), ("2x10", 2), ("2x12", 2))
_STIFF = ("1.75x14", 3)


@dataclass(frozen=True, kw_only=True)
class _Side:
    """A cross-member on one side of the joists.

    Attributes:
        key, title, build: of the remedy; ``{size}`` stands for the rung.
        place: of the beam.
        leaves: what it does not do, besides what either does not.
    """

    key: str
    title: str
    build: str
    place: BeamPlace
    leaves: tuple[str, ...]


_SIDES = (
    _Side(
        key="spreader",
        title="A cross-member over the joists",
        build=(
            "Lay {size} on edge over the joists along each row of feet, from end "
            "to end of the row and one joist farther, block it against rolling, "
            "and stand the struts on it."
        ),
        place=BeamPlace.ON_JOISTS,
        leaves=(),
    ),
    _Side(
        key="spreader-below",
        title="A cross-member under the joists",
        build=(
            "Bolt {size} on edge under the joists along each row of feet, from end to "
            "end of the row and one joist farther: a hanger or bolt with a plate at "
            "every joist, since the joists beside a foot hang on it and are pulled "
            "down; the struts stay where they stand."
        ),
        place=BeamPlace.BELOW_JOISTS,
        leaves=(
            "It shows in the room below, as deep as it is, and the ceiling finish is "
            "opened along it.",
        ),
    ),
)


def propose(before: Solution) -> list[Ladder]:
    """Return a cross-member along each row of feet, over the joists and under them."""
    rows = rows_along_ridge(before)
    joists = before.brief.ceiling_joists
    across = joists is not None and joists.direction is JoistDirection.ACROSS
    if not rows or not across:
        return []
    sides = _SIDES if all(row.on_joists for row in rows) else _SIDES[:1]
    return [_ladder(before.brief, rows, side) for side in sides]


def _ladder(brief: Brief, rows: list[FootRow], side: _Side) -> Ladder:
    """Return the cross-members of one side of the joists in rising stiffness."""
    sizes = tuple(rungs(*laid(brief, rows, side.place)))
    return Ladder(
        kind=RemedyKind.SPREADER,
        key=side.key,
        title=side.title,
        build=side.build,
        rungs=sizes,
        likely=len(sizes) - 1,  # what passes at all is stiff
        leaves=(
            STOPS,
            *side.leaves,
            "It spreads the load and takes none of it away: all of it still comes "
            "down on the ceiling joists, each with its share.",
            "The rule asks for a bearing wall under the struts; a cross-member on "
            "joists is none.",
        ),
    )


def laid(
    brief: Brief, rows: list[FootRow], place: BeamPlace
) -> tuple[Brief, tuple[str, ...]]:
    """Return the brief with a cross-member along each row, and their names.

    Struts stand on one that lies on the joists, and stay where they are over one below.
    """
    beams, names = list(brief.beams), []
    joists = brief.ceiling_joists
    assert joists is not None
    above = place is BeamPlace.ON_JOISTS
    for row in rows:
        low = max(0.0, row.x[0] - joists.spacing)
        high = min(brief.footprint.length, row.x[-1] + joists.spacing)
        wanted = f"{'over' if above else 'under'} {row.purlin}"
        name = fresh(wanted, (b.name for b in beams))
        beams.append(
            Beam(
                name=name, size=_SIZES[0][0], start=(low, row.y), end=(high, row.y),
                carries_joists=False, place=place,
            )
        )  # fmt: skip
        names.append(name)
    laid_out = replace(brief, beams=tuple(beams))
    if above:
        feet = [Foot(on=FootOn.BEAM, name=name) for name in names]
        laid_out = with_feet(laid_out, rows, feet)
    return laid_out, tuple(names)


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
