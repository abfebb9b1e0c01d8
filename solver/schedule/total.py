"""The lumber of a framing in a few numbers."""

from __future__ import annotations

from dataclasses import dataclass

from ..brief.model import Brief
from ..framing.model import Framing
from .buying import buy
from .pieces import cut_pieces


@dataclass(frozen=True, kw_only=True)
class Lumber:
    """The lumber of a framing.

    Attributes:
        pieces: sticks to cut.
        board_feet: of them as cut.
        sticks: to buy.
        board_feet_to_buy: of those.
        longest: m, the longest piece.
    """

    pieces: int
    board_feet: float
    sticks: int
    board_feet_to_buy: float
    longest: float


def lumber_of(brief: Brief, framing: Framing) -> Lumber:
    """Return the lumber of a framing.

    Args:
        brief: that the framing was made from.
        framing: of the roof.
    """
    pieces = cut_pieces(brief, framing)
    sticks = buy(pieces, brief.units)
    return Lumber(
        pieces=len(pieces),
        board_feet=sum(p.board_feet for p in pieces),
        sticks=len(sticks),
        board_feet_to_buy=sum(s.board_feet for s in sticks),
        longest=max(p.length for p in pieces),
    )
