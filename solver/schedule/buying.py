"""What to buy: sticks as they are sold, and which pieces are cut from each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..basis.sections import Section
from ..units import FOOT, INCH, System
from .lengths import longest_stock, stock_length
from .pieces import Piece, board_feet

KERF = INCH / 8  # lost at each saw cut; common practice, no source
_OPENED = 16 * FOOT  # short pieces are cut from sticks of up to this


@dataclass(frozen=True, kw_only=True)
class Stick:
    """One stick as it is sold.

    Attributes:
        section: dressed, one ply.
        species, grade: of the lumber.
        length: m, as sold; of a piece too long to be sold, its own.
        pieces: cut from it.
        sold: False where nothing so long is sold.
    """

    section: Section
    species: str
    grade: str
    length: float
    pieces: tuple[Piece, ...]
    sold: bool = True

    @property
    def board_feet(self) -> float:
        """Board feet paid for."""
        return board_feet(self.section, self.length)

    @property
    def used(self) -> float:
        """Length of the pieces and of the saw cuts between them, m."""
        return sum(p.length for p in self.pieces) + KERF * (len(self.pieces) - 1)


def buy(pieces: Iterable[Piece], system: System) -> list[Stick]:
    """Return the sticks to buy for all pieces.

    Long pieces first, each into the first open stick with room for it (first fit
    decreasing), and every stick at last as short as it is sold for what it holds.

    Args:
        pieces: to cut.
        system: imperial lengths in even feet, metric ones in steps of 0.3 m.
    """
    groups: dict[tuple[object, ...], list[Piece]] = {}
    for piece in pieces:
        made = piece.section
        alike = (made.name, made.breadth, made.depth, piece.species, piece.grade)
        groups.setdefault(alike, []).append(piece)
    out: list[Stick] = []
    for group in groups.values():
        out += _sticks(sorted(group, key=lambda p: -p.length), system)
    return out


def _sticks(pieces: list[Piece], system: System) -> list[Stick]:
    """Return the sticks for pieces of one lumber, the longest piece first."""
    room: list[float] = []
    held: list[list[Piece]] = []
    species = pieces[0].species
    for piece in pieces:
        fits = (n for n, left in enumerate(room) if left >= piece.length + KERF)
        place = next(fits, None)
        if place is None:
            opened = stock_length(piece.length, species, system) or piece.length
            if piece.length < _OPENED / 2:
                opened = min(_OPENED, longest_stock(species))
            room.append(opened - piece.length)
            held.append([piece])
        else:
            room[place] -= piece.length + KERF
            held[place].append(piece)
    return [_closed(found, system) for found in held]


def _closed(pieces: list[Piece], system: System) -> Stick:
    """Return the shortest stick sold that holds some pieces."""
    first = pieces[0]
    need = sum(p.length for p in pieces) + KERF * (len(pieces) - 1)
    sold = stock_length(need, first.species, system)
    return Stick(
        section=first.section,
        species=first.species,
        grade=first.grade,
        length=sold or need,
        pieces=tuple(pieces),
        sold=sold is not None,
    )
