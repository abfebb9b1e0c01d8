"""Blocks of a PDF page: paragraphs, tables and drawings, for reportlab's layout.

The library is loaded when the first block is made, never at import.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from html import escape
from typing import Any
from xml.etree import ElementTree

from ..extras import extra
from ..report.markup import Raw
from .text import BOLD, BOLD_SLANT, PLAIN, SLANT, written
from .vector import draw, size_of

Block = Any  # of reportlab, which has no types of its own
INK, SOFT, RULE = "#22282a", "#5c666a", "#c9ccc8"


def paragraph(
    markup: str, size: float, *, font: str = PLAIN, ink: str = INK,
    leading: float = 1.25, align: int = 0, before: float = 0.0, after: float = 0.0,
) -> Block:  # fmt: skip
    """Return a paragraph.

    Args:
        markup: text with reportlab's few tags (b, i, sub, super); escaped elsewhere.
        size: pt.
        font: name.
        ink: colour.
        leading: line height over size.
        align: 0 left, 1 centred, 2 right.
        before: pt of space above.
        after: and below.
    """
    _family()
    style = extra("reportlab.lib.styles").ParagraphStyle(
        "own", fontName=font, fontSize=size, leading=size * leading, textColor=ink,
        alignment=align, spaceBefore=before, spaceAfter=after,
        splitLongWords=1,
    )  # fmt: skip
    return extra("reportlab.platypus").Paragraph(written(markup), style)


def plain(text: str) -> str:
    """Return a text as markup."""
    return escape(text, quote=False)


@cache
def _family() -> None:
    """Tell reportlab which fonts are the bold and slanted ones of each other."""
    extra("reportlab.pdfbase.pdfmetrics").registerFontFamily(
        PLAIN, normal=PLAIN, bold=BOLD, italic=SLANT, boldItalic=BOLD_SLANT
    )


def grid(
    cells: Sequence[Sequence[Block]], widths: Sequence[float], *, heads: int = 1,
    pad: float = 1.2, gap: float = 5.0, rules: bool = True,
) -> Block:  # fmt: skip
    """Return a table of blocks.

    Args:
        cells: rows of blocks.
        widths: pt of each column.
        heads: rows that are repeated on a new page.
        pad: pt above and below a cell.
        gap: pt between columns.
        rules: lines between rows.
    """
    platypus = extra("reportlab.platypus")
    style = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), gap),
        ("TOPPADDING", (0, 0), (-1, -1), pad),
        ("BOTTOMPADDING", (0, 0), (-1, -1), pad),
    ]
    if rules:
        style.append(("LINEBELOW", (0, heads), (-1, -1), 0.4, RULE))
    if heads:
        style += [
            ("LINEBELOW", (0, heads - 1), (-1, heads - 1), 0.7, INK),
            ("VALIGN", (0, 0), (-1, heads - 1), "BOTTOM"),
        ]
    return platypus.Table(
        [list(row) for row in cells], colWidths=list(widths), repeatRows=heads,
        style=style, hAlign="LEFT",
    )  # fmt: skip


@cache
def _drawing_class() -> type:
    """Return the block that holds a drawing."""
    base = extra("reportlab.platypus.flowables").Flowable

    def fit(
        self: Block, svg: ElementTree.Element, width: float, tallest: float
    ) -> None:
        base.__init__(self)
        wide, tall = size_of(svg)
        self.svg, self.scale = svg, min(width / wide, tallest / tall)
        self.width, self.height = wide * self.scale, tall * self.scale
        self.hAlign = "CENTER"

    def wrap(self: Block, *_: float) -> tuple[float, float]:
        return self.width, self.height

    def paint(self: Block) -> None:
        draw(self.canv, self.svg, 0.0, self.height, self.scale)

    return type("Drawing", (base,), {"__init__": fit, "wrap": wrap, "draw": paint})


def drawing(svg: Raw | ElementTree.Element, width: float, tallest: float) -> Block:
    """Return a drawing as large as fits into a width and a height, pt."""
    element = ElementTree.fromstring(svg.text) if isinstance(svg, Raw) else svg
    return _drawing_class()(element, width, tallest)


def image(path: str, width: float, tallest: float) -> Block:
    """Return a picture file as large as fits into a width and a height, pt."""
    wide, tall = extra("reportlab.lib.utils").ImageReader(path).getSize()
    scale = min(width / wide, tallest / tall)
    return extra("reportlab.platypus").Image(path, wide * scale, tall * scale)
