"""What to build instead: changes of the brief, each solved and checked like any roof.

A remedy is a brief made from a brief. It is framed, solved and checked by the stages
that any brief goes through; nothing here computes statics or estimates a result.
Receives solved roofs; leaves them alone.
"""

from .compare import Comparison, remedies
from .model import Ladder, Remedy, RemedyKind, Rung
from .trouble import Trouble, find_trouble

__all__ = [
    "Comparison",
    "Ladder",
    "Remedy",
    "RemedyKind",
    "Rung",
    "Trouble",
    "find_trouble",
    "remedies",
]
