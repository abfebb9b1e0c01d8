"""What a remedy brings into the house and takes out of it, piece by piece."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

from ..framing.model import Member, Role
from ..solve import Solution
from .stock import Lot, lots

_LINES = (Role.PLATE,)  # drawn as one, there already


@dataclass(frozen=True, kw_only=True)
class Pieces:
    """Lumber that goes in and comes out.

    Attributes:
        added: what to carry in, the longest first.
        removed: what is taken out.
    """

    added: tuple[Lot, ...]
    removed: tuple[Lot, ...]

    @property
    def board_feet(self) -> float:
        """Board feet to buy, by nominal size, as cut."""
        return sum(lot.board_feet for lot in self.added)

    @property
    def count(self) -> int:
        """Pieces to carry in."""
        return sum(lot.pieces for lot in self.added)

    @property
    def longest(self) -> float:
        """Longest piece to carry in, m, as bought; 0 where there is none."""
        return max((lot.bought for lot in self.added), default=0.0)


def pieces(before: Solution, after: Solution) -> Pieces:
    """Return the pieces in which two roofs differ.

    A member that is in the same place with more plies of the same lumber brings the
    plies alone.
    """
    there, here = _lumber(before), _lumber(after)
    return Pieces(added=_more(there, here), removed=_more(here, there))


def _lumber(solution: Solution) -> Counter[tuple[object, ...]]:
    """Return how many plies stand in each place, by size, species and grade."""
    out: Counter[tuple[object, ...]] = Counter()
    for key, member in solution.framing.members.items():
        if member.role not in _LINES:
            out[_place(solution, key, member)] += member.section.plies
    return out


def _place(solution: Solution, key: str, member: Member) -> tuple[object, ...]:
    """Return where and of what a member is, without its plies."""
    ends = sorted(
        tuple(round(float(v), 3) for v in end) for end in solution.framing.ends(key)
    )
    length = round(solution.framing.length(key), 4)
    made = replace(member.section, plies=1)
    return member.role, made, member.species, member.grade, *ends, length


def _more(
    there: Counter[tuple[object, ...]], here: Counter[tuple[object, ...]]
) -> tuple[Lot, ...]:
    """Return what is here and not there, alike pieces together, longest first."""
    found: dict[tuple[str, str, str, float], Lot] = {}
    for place, plies in (here - there).items():
        _, made, species, grade, *_, length = place
        lot = lots(made, species, grade, length)  # type: ignore[arg-type]
        name = (lot.size, lot.species, lot.grade, round(lot.length, 3))
        known = found.get(name, replace(lot, pieces=0, board_feet=0.0))
        found[name] = replace(
            known,
            pieces=known.pieces + plies * lot.pieces,
            board_feet=known.board_feet + plies * lot.board_feet,
        )
    return tuple(sorted(found.values(), key=lambda t: (-t.length, t.size)))
