"""Variants of one roof side by side: as it stands and as it is proposed.

Each variant is a brief of its own, framed, solved and checked like any other; nothing
here computes statics. What is shown is by how much each member is used more.
"""

from .compare import Column, Row, Variants, compare
from .proposals import PROPOSALS, propose

__all__ = ["PROPOSALS", "Column", "Row", "Variants", "compare", "propose"]
