"""Beams to choose from, by material and plies, and what a new beam is held to."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from ..brief.model import Beam
from ..framing.beams import CLEAR, beam_key
from ..solve import Solution
from ..units import FOOT, INCH
from .measure import TEN_YEARS, aged_roof
from .stock import FLITCH_BEAMS, LVL, LVL_DEPTHS, SAWN_BEAMS, known, label

_BOLTED = (
    "Plate, holes and bolts of a steel plate sandwich are detailed by an engineer, and "
    "the plate is drilled in a shop."
)


@dataclass(frozen=True, kw_only=True)
class BeamStock:
    """A family of beams of one ply count, the shallowest first.

    Attributes:
        key: short name of the material.
        words: what it is called in a title.
        sizes: one ply.
        plies: how many.
        species, grade: of the plies.
        reach: m, longest span that is tried.
        spare: fewer plies come first.
        engineer: what it needs an engineer for besides any beam.
    """

    key: str
    words: str
    sizes: tuple[str, ...]
    plies: int
    species: str
    grade: str
    reach: float
    spare: bool = False
    engineer: tuple[str, ...] = ()

    def rungs(self) -> Iterator[tuple[str, dict[str, object]]]:
        """Yield the words of each size and the fields of a beam of it."""
        for size in self.sizes:
            if known(size, self.plies, self.species, self.grade):
                suffix = f" {self.species}" if self.species == LVL[0] else ""
                if "+" in size:
                    suffix = " (planks with a steel plate between them)"
                yield (
                    f"{label(size, self.plies)}{suffix}",
                    {
                        "size": size,
                        "plies": self.plies,
                        "species": self.species,
                        "grade": self.grade,
                    },
                )


def beam_stocks(species: str, grade: str) -> list[BeamStock]:
    """Return the families that a beam is looked for in.

    The spans tried (12 ft sawn, 20 ft engineered or with a steel plate) are common
    practice, no source; a plate is a little less deep than the planks, so that wood
    bears on wood when they shrink.

    Args:
        species: of the sawn ones.
        grade: of the sawn ones.
    """
    sawn = [
        BeamStock(
            key="sawn", words="sawn, built up", sizes=SAWN_BEAMS, plies=n,
            species=species, grade=grade, reach=12 * FOOT, spare=n > 2,
        )
        for n in (2, 3)
    ]  # fmt: skip
    made = tuple(f"1.75x{d}" for d in LVL_DEPTHS)
    lvl = [
        BeamStock(
            key="lvl", words="engineered lumber", sizes=made, plies=n,
            species=LVL[0], grade=LVL[1], reach=20 * FOOT, spare=n > 1,
        )
        for n in (1, 2, 3)
    ]  # fmt: skip
    flitch = BeamStock(
        key="flitch", words="steel plate between two planks", sizes=FLITCH_BEAMS,
        plies=2, species=species, grade=grade, reach=20 * FOOT, engineer=(_BOLTED,),
    )  # fmt: skip
    return [*sawn, *lvl, flitch]


def with_fields(beam: Beam, fields: dict[str, object]) -> Beam:
    """Return a beam of another size."""
    return replace(beam, **fields)  # type: ignore[arg-type]


def holds_the_ceiling(names: tuple[str, ...]) -> Callable[[Solution], tuple[str, ...]]:
    """Return what new beams are held to besides their limits, as a test of a roof.

    What hangs in them may move against its neighbours in ten years no more than the
    finish bears; a beam that stands clear of the ceiling may not sag down to it.

    Args:
        names: of the new beams in the brief.
    """
    keys = {beam_key(name) for name in names}

    def reasons(after: Solution) -> tuple[str, ...]:
        hung = {c.upper for c in after.framing.contacts if c.lower in keys}
        return (*_cracks(after, keys | hung), *_comes_down(after, keys))

    return reasons


def _cracks(after: Solution, keys: set[str]) -> list[str]:
    """Return the worst pair with one of some members that cracks the finish."""
    aged = aged_roof(after)
    if aged is None:
        return []
    at = aged.names.index(TEN_YEARS)
    pairs = [
        p
        for p in aged.neighbours
        if p.limit is not None and p.may_crack[at] and {p.first, p.second} & keys
    ]
    if not pairs:
        return []
    worst = max(pairs, key=lambda p: float(p.growth[at]) / (p.limit or 1.0))
    return [
        f"{worst.first} moves {worst.growth[at] / INCH:.2f} in against {worst.second} "
        f"beside it in ten years; the ceiling may crack over "
        f"{(worst.limit or 0.0) / INCH:.2f} in."
    ]


def _comes_down(after: Solution, keys: set[str]) -> list[str]:
    """Return the beam that sags down to the ceiling which it should stand clear of."""
    clear = [
        after.members[key]
        for key in sorted(keys)
        if key in after.members and after.framing.members[key].clear
    ]
    low = max(clear, key=lambda m: m.sag_long_term or 0.0, default=None)
    if low is None or (low.sag_long_term or 0.0) <= CLEAR:
        return []
    return [
        f"{low.key} sags {(low.sag_long_term or 0.0) / INCH:.2f} in in the long run, "
        f"more than the {CLEAR / INCH:.2f} in that it stands clear of the ceiling."
    ]
