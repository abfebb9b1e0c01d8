"""What a lumber yard has: sizes in rising order, lengths, and board feet."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..basis.materials import reference_values
from ..basis.sections import Section, section
from ..errors import TableError
from ..schedule.lengths import longest_stock
from ..schedule.pieces import board_feet
from ..units import FOOT, System

JOISTS = ("2x4", "2x6", "2x8", "2x10", "2x12", "2x14")
POSTS = (("2x4", 2), ("4x4", 1), ("2x4", 3), ("4x6", 1), ("6x6", 1))
SAWN_BEAMS = JOISTS[1:5]
BEAM_PLIES = (2, 3)
FLITCH_BEAMS = ("2x8+1/4x7", "2x8+3/8x7", "2x10+1/4x9", "2x10+3/8x9", "2x10+1/2x9",
                "2x12+3/8x11", "2x12+1/2x11", "2x12+5/8x11")  # fmt: skip
LVL_DEPTHS = ("7.25", "9.25", "9.5", "11.25", "11.875", "14", "16", "18", "20", "24")
LVL = ("LVL", "2.0E-2600Fb")
_STEP = 2 * FOOT


@dataclass(frozen=True, order=True)
class Lot:
    """Pieces of one kind to buy.

    Attributes:
        size: such as ``2x6``.
        species, grade: of the lumber.
        length: m, as cut.
        pieces: how many, plies counted singly.
        board_feet: of all of them as cut, by nominal size.
    """

    size: str
    species: str
    grade: str
    length: float
    pieces: int
    board_feet: float

    @property
    def bought(self) -> float:
        """Length to buy, m."""
        return stock_length(self.length)


def stock_length(length: float) -> float:
    """Return the shortest length sold that a piece can be cut from, m.

    Lumber is sold in steps of 2 ft from 8 ft (common practice, no source).
    """
    return max(8 * FOOT, math.ceil((length - 1e-6) / _STEP) * _STEP)


def lots(made: Section, species: str, grade: str, length: float) -> Lot:
    """Return what one member is cut from.

    A piece too long to be sold is made of equal pieces, joined over supports.
    """
    longest = longest_stock(species)
    parts = max(1, math.ceil(length / longest - 1e-9))
    return Lot(
        size=made.name,
        species=species,
        grade=grade,
        length=length / parts,
        pieces=parts * made.plies,
        board_feet=board_feet(made, length) * made.plies,
    )


def larger(sizes: tuple[str, ...], than: str) -> list[str]:
    """Return the sizes that are deeper than one, in order."""
    depth = section(than).depth
    return [size for size in sizes if section(size).depth > depth + 1e-6]


def about(length: float, system: System) -> str:
    """Return a length in whole feet, or metres to a tenth.

    Args:
        length: m.
        system: of units.
    """
    if system is System.METRIC:
        return f"{length:.1f} m"
    return f"{length / FOOT:.0f} ft"


def known(size: str, plies: int, species: str, grade: str) -> bool:
    """Return whether the tables hold a piece."""
    try:
        reference_values(species, grade, section(size, plies))
    except TableError:
        return False
    return True


def label(size: str, plies: int) -> str:
    """Return a size with its plies, such as ``2-2x10``."""
    return size if plies == 1 else f"{plies}-{size}"
