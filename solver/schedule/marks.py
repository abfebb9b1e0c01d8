"""Like pieces under one mark: R1, J3L, CJ2, as a schedule lists them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..framing.model import Role
from ..units import DEGREE, INCH
from .pieces import EndAngles, Piece

_PREFIX = {
    Role.RAFTER: "R",
    Role.JACK_RAFTER: "J",
    Role.HIP_RAFTER: "H",
    Role.VALLEY_RAFTER: "V",
    Role.RIDGE_BOARD: "RB",
    Role.RIDGE_BEAM: "RB",
    Role.PURLIN: "P",
    Role.STRUT: "S",
    Role.CEILING_JOIST: "CJ",
    Role.COLLAR_TIE: "CT",
    Role.RAFTER_TIE: "RT",
    Role.BEAM: "B",
    Role.POST: "PO",
    Role.PLATE: "PL",
    Role.STUB_JOIST: "SJ",
    Role.WEB: "W",
    Role.HEADER: "HD",
    Role.JACK_STUD: "JS",
    Role.CURB: "C",
    Role.LEDGER: "LG",
    Role.KNEE_STUD: "KS",
}
_FINE_LENGTH, _FINE_ANGLE = INCH / 16, DEGREE / 4
_Ends = tuple[float, float, float, float]


@dataclass(frozen=True, kw_only=True)
class Mark:
    """Pieces that are cut alike.

    Attributes:
        name: such as ``J3L``; L and R are cut as mirror pictures of each other.
        pieces: all of them, in order.
    """

    name: str
    pieces: tuple[Piece, ...]

    @property
    def first(self) -> Piece:
        """One of the pieces, for what is the same of all."""
        return self.pieces[0]

    @property
    def board_feet(self) -> float:
        """Board feet of all pieces as cut."""
        return sum(piece.board_feet for piece in self.pieces)

    @property
    def members(self) -> tuple[str, ...]:
        """Keys of the members, each once, in order."""
        return tuple(dict.fromkeys(piece.member for piece in self.pieces))


def mark_pieces(pieces: Iterable[Piece]) -> list[Mark]:
    """Return pieces under marks, role by role, the longest first.

    Pieces share a mark when section, lumber, length to 1/16 in and cuts to a quarter
    of a degree are the same; a piece without birdsmouth may be turned about for that.
    """
    groups: dict[tuple[object, ...], list[Piece]] = {}
    for piece in pieces:
        groups.setdefault(_alike(piece), []).append(piece)
    by_role: dict[Role, dict[tuple[object, ...], list[list[Piece]]]] = {}
    for alike, found in groups.items():
        both = (*alike[:-1], _either_hand(found[0]))
        by_role.setdefault(found[0].role, {}).setdefault(both, []).append(found)
    out: list[Mark] = []
    for role, families in by_role.items():
        ordered = sorted(families.values(), key=lambda f: -f[0][0].length)
        for n, family in enumerate(ordered, 1):
            for group in family:
                name = f"{prefix(role)}{n}{_hand(group[0])}"
                out.append(Mark(name=name, pieces=tuple(group)))
    return out


def marks_by_member(marks: Iterable[Mark]) -> dict[str, str]:
    """Return the marks of each member's pieces, joined where they differ."""
    names: dict[str, list[str]] = {}
    for mark in marks:
        for key in mark.members:
            names.setdefault(key, []).append(mark.name)
    return {key: "+".join(dict.fromkeys(found)) for key, found in names.items()}


def prefix(role: Role) -> str:
    """Return the letters that marks of a role begin with."""
    initials = "".join(word[0] for word in role.value.split("_"))
    return _PREFIX.get(role, initials.upper())


def _alike(piece: Piece) -> tuple[object, ...]:
    """Return what pieces of one mark have in common; the cuts come last."""
    made = piece.section
    seat = None if piece.seat is None else _steps(piece.seat, _FINE_LENGTH)
    return (
        piece.role, made.name, made.breadth, made.depth, piece.species, piece.grade,
        _steps(piece.length, _FINE_LENGTH), seat,
        _steps(piece.seat_depth, _FINE_LENGTH), _turned(_ends(piece), seat is None),
    )  # fmt: skip


def _steps(value: float, fine: float) -> int:
    """Return a value as a whole number of steps."""
    return round(value / fine)


def _ends(piece: Piece) -> _Ends:
    """Return the cuts of a piece in steps."""

    def of(end: EndAngles) -> tuple[float, float]:
        return _steps(end.face, _FINE_ANGLE), _steps(end.edge, _FINE_ANGLE)

    return (*of(piece.first), *of(piece.last))


def _turned(ends: _Ends, free: bool) -> _Ends:
    """Return the cuts of a piece turned about so that like pieces read alike.

    Half turns about its length, its depth and its thickness leave a stick what it is.
    """
    if not free:
        return ends
    f, e, g, h = ends
    return max((f, e, g, h), (-f, -e, -g, -h), (-g, h, -f, e), (g, -h, f, -e))


def _mirrored(ends: _Ends) -> _Ends:
    """Return the cuts of the mirror picture of a piece."""
    f, e, g, h = ends
    return f, -e, g, -h


def _either_hand(piece: Piece) -> _Ends:
    """Return the cuts that a piece and its mirror picture share."""
    free, ends = piece.seat is None, _ends(piece)
    return max(_turned(ends, free), _turned(_mirrored(ends), free))


def _hand(piece: Piece) -> str:
    """Return L or R for a piece that differs from its mirror picture."""
    free, ends = piece.seat is None, _ends(piece)
    own, other = _turned(ends, free), _turned(_mirrored(ends), free)
    if own == other:
        return ""
    return "L" if own > other else "R"
