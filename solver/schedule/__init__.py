"""Schedule: what pieces a framing is cut from, and what lumber to buy for them."""

from .buying import Stick, buy
from .marks import Mark, mark_pieces
from .pieces import EndAngles, Piece, board_feet, cut_pieces
from .total import Lumber, lumber_of

__all__ = [
    "EndAngles",
    "Lumber",
    "Mark",
    "Piece",
    "Stick",
    "board_feet",
    "buy",
    "cut_pieces",
    "lumber_of",
    "mark_pieces",
]
