"""One page to hand over: before and after, seen, means, do, and the choices.

Receives a comparison of remedies; reads it and computes no statics.
"""

from .comparison import comparison_html
from .content import Content, choose, content
from .page import sheet_html
from .paper import A4, LETTER, PAPERS, Paper, paper_for
from .printed import sheet_pdf
from .write import NO_PDF, write_sheet

__all__ = [
    "A4",
    "LETTER",
    "NO_PDF",
    "PAPERS",
    "Content",
    "Paper",
    "choose",
    "comparison_html",
    "content",
    "paper_for",
    "sheet_html",
    "sheet_pdf",
    "write_sheet",
]
