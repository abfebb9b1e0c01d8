"""The IFC file of a roof."""

from __future__ import annotations

from ..schedule import cut_pieces, mark_pieces
from ..schedule.marks import marks_by_member
from ..solve import Solution
from .base import Book
from .physical import add_members
from .structural import add_analysis

NO_IFC = (
    "No IFC was written: it needs the package ifcopenshell (pip install ifcopenshell)."
)


def ifc_text(solution: Solution) -> str:
    """Return a solved roof as an IFC4 file.

    Raises:
        ExtraError: ifcopenshell is not installed.
    """
    book = Book(solution.brief)
    marks = marks_by_member(mark_pieces(cut_pieces(solution.brief, solution.framing)))
    physical = add_members(book, solution, marks)
    add_analysis(book, solution, physical)
    return str(book.file.to_string())
