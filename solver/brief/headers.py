"""What a brief states of the header over an opening in a bearing wall."""

from __future__ import annotations

from dataclasses import dataclass

from ..units import FOOT, INCH
from . import fields as f
from .fields import stated
from .stock import GRADE, PLIES, SIZE, SPECIES, Stock


@dataclass(frozen=True, kw_only=True)
class Header(Stock):
    """A header over an opening, and the jack studs under its two ends."""

    size: str = stated(SIZE, "2x8")
    plies: int = stated(PLIES, 2)
    jacks: int = stated(f.whole("jack studs under each end", 1, 6), 1)
    jack_size: str = stated(SIZE, "2x4")
    jack_species: str = stated(SPECIES, "Spruce-Pine-Fir")
    jack_grade: str = stated(GRADE, "Stud")
    jack_length: float = stated(
        f.length("length of the jack studs", low=1 * FOOT, high=20 * FOOT), 82.5 * INCH
    )


def jack_stock(header: Header) -> Stock:
    """Return the lumber of the jack studs under one end of a header."""
    return Stock(
        size=header.jack_size,
        species=header.jack_species,
        grade=header.jack_grade,
        plies=header.jacks,
    )
