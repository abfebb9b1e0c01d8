"""The sheet as PDF: the same parts on one page of paper."""

from __future__ import annotations

from io import BytesIO

from ..extras import extra
from ..pdf.blocks import INK, RULE, SOFT, Block, drawing, grid, image, paragraph, plain
from ..pdf.document import document
from ..pdf.flow import blocks
from ..pdf.text import BOLD, SLANT, written
from ..remedy import Remedy
from ..report.cautions import CAUTION
from ..solve import Solution
from .calculation import calculation_markup
from .content import HEADS, WIDTHS, Content, Picture
from .paper import POINT, Paper

_SCALES = (
    1.15,
    1.1,
    1.05,
    1.0,
    0.97,
    0.94,
    0.91,
    0.88,
    0.85,
    0.82,
    0.79,
    0.76,
    0.73,
    0.7,
)
_GAP = 10.0  # pt between the pictures


def sheet_pdf(content: Content, paper: Paper) -> bytes:
    """Return the sheet as a PDF of one page.

    What does not fit at full size is set smaller, all of it alike.

    Raises:
        ExtraError: reportlab is not installed.
        ValueError: it does not fit at the smallest size.
    """
    out = BytesIO()
    wide, tall = (v / POINT for v in paper.inside)
    size = paper.width / POINT, paper.height / POINT
    canvas = extra("reportlab.pdfgen.canvas").Canvas(out, pagesize=size, invariant=1)
    canvas.setTitle(written(f"{content.name}: sheet"))
    canvas.setAuthor("Loadfall")
    canvas.setSubject(written(content.cautions[0]))
    blocks, highs = _fitted(canvas, content, wide, tall)
    y = size[1] - paper.margin / POINT
    for block, (above, high, below) in zip(blocks, highs, strict=True):
        y -= above + high
        block.drawOn(canvas, paper.margin / POINT, y)
        y -= below
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def calculation_pdf(before: Solution, remedy: Remedy | None, paper: Paper) -> bytes:
    """Return the calculation as a PDF of as many pages as it needs.

    Raises:
        ExtraError: reportlab is not installed.
    """
    margin = paper.margin / POINT
    size = paper.width / POINT, paper.height / POINT
    made = blocks(calculation_markup(before, remedy), size[0] - 2 * margin)
    return document(made, size, margin, before.brief.name, CAUTION)


def _fitted(
    canvas: Block,
    content: Content,
    wide: float,
    tall: float,
) -> tuple[list[Block], list[tuple[float, float, float]]]:
    """Return the blocks at the largest size that fits, and their heights."""
    for scale in _SCALES:
        blocks = _blocks(content, wide, scale)
        highs = [
            (b.getSpaceBefore(), b.wrapOn(canvas, wide, tall)[1], b.getSpaceAfter())
            for b in blocks
        ]
        if sum(map(sum, highs)) <= tall:
            return blocks, highs
    raise ValueError("the sheet does not fit on one page at its smallest size")


def _blocks(content: Content, wide: float, scale: float) -> list[Block]:
    """Return the blocks of the page from top to bottom."""
    s = scale
    small = [
        paragraph(plain(content.note), 7.2 * s, ink=SOFT, before=2 * s, after=4 * s),
    ]
    return [
        paragraph(plain(content.name), 17 * s, leading=1.12),
        paragraph(plain(content.verdict), 10.5 * s, before=1, after=4 * s),
        _pictures(content.pictures, wide, s),
        _plain(content, wide, s),
        _head("For a report", s),
        _said(_report_rows(content), wide, 8.4 * s),
        _head("The choices", s),
        _choices(content, wide, s),
        *small,
        _cautions(content, wide, s),
    ]


def _head(text: str, s: float) -> Block:
    """Return a small heading."""
    return paragraph(plain(text), 9.5 * s, font=BOLD, before=5 * s, after=1.5 * s)


def _report_rows(content: Content) -> tuple[tuple[str, str], ...]:
    """Return the rows for a report, the sections last."""
    rows = content.report.rows
    return (*rows, ("Sections", content.sections)) if content.sections else rows


def _said(rows: tuple[tuple[str, str], ...], wide: float, size: float) -> Block:
    """Return heads and sentences."""
    head = size * 4.4
    cells = [
        [
            paragraph(plain(word), size, font=SLANT, ink=SOFT),
            paragraph(plain(text), size),
        ]
        for word, text in rows
    ]
    return grid(cells, (head, wide - head), heads=0, pad=0.8, gap=0, rules=False)


def _plain(content: Content, wide: float, s: float) -> Block:
    """Return the homeowner's sentences between two strokes."""
    inside = _said(content.plain.rows, wide, 11.2 * s)
    return _boxed(inside, wide, [("LINEABOVE", 1.2), ("LINEBELOW", 1.2)], 3 * s, 5 * s)


def _boxed(
    block: Block, wide: float, lines: list[tuple[str, float]], pad: float,
    above: float, side: float = 0.0,
) -> Block:  # fmt: skip
    """Return a block with lines around it."""
    style = [(name, (0, 0), (-1, -1), width, INK) for name, width in lines]
    style += [
        ("LEFTPADDING", (0, 0), (-1, -1), side),
        ("RIGHTPADDING", (0, 0), (-1, -1), side),
        ("TOPPADDING", (0, 0), (-1, -1), pad),
        ("BOTTOMPADDING", (0, 0), (-1, -1), pad),
    ]
    return extra("reportlab.platypus").Table(
        [[block]], colWidths=[wide], style=style, spaceBefore=above
    )


def _pictures(pictures: tuple[Picture, ...], wide: float, s: float) -> Block:
    """Return the pictures side by side."""
    each = (wide - _GAP) / 2 if len(pictures) > 1 else wide
    inner, tallest = each - 8, 172 * s if len(pictures) > 1 else 210 * s
    cells = [
        [
            paragraph(plain(one.head), 10 * s, font=BOLD, after=2),
            image(one.image, inner, tallest)
            if one.image
            else drawing(one.svg, inner, tallest),
            paragraph(plain(one.under), 7.8 * s, ink=SOFT, before=2),
        ]
        for one in pictures
    ]
    widths, row = [each] * len(cells), list[Block](cells)
    if len(cells) > 1:
        widths, row = [each, _GAP, each], [cells[0], "", cells[1]]
    style: list[Block] = [("VALIGN", (0, 0), (-1, -1), "TOP")]
    style.append(("ALIGN", (0, 0), (-1, -1), "CENTER"))
    style += [("BOX", (c, 0), (c, 0), 0.6, RULE) for c in range(0, len(row), 2)]
    style += [
        ("LEFTPADDING", (0, 0), (-1, -1), 4),
        ("RIGHTPADDING", (0, 0), (-1, -1), 4),
        ("TOPPADDING", (0, 0), (-1, -1), 3),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
    ]
    return extra("reportlab.platypus").Table(
        [row], colWidths=widths, style=style, hAlign="LEFT"
    )


def _choices(content: Content, wide: float, s: float) -> Block:
    """Return the table of the choices, the drawn one in bold."""
    size = 8.0 * s
    cells = [[paragraph(plain(h), size, font=SLANT, ink=SOFT) for h in HEADS]]
    for n, row in enumerate(content.rows):
        bold = bool(n) and n == content.chosen
        cells.append(
            [
                paragraph(
                    plain(c), size, leading=1.15, **({"font": BOLD} if bold else {})
                )
                for c in row
            ]
        )
    return grid(cells, [part * wide for part in WIDTHS], pad=0.8)


def _cautions(content: Content, wide: float, s: float) -> Block:
    """Return the cautions and what was not checked, in a box."""
    said = [
        paragraph(plain(" ".join(content.cautions)), 7.6 * s, after=2),
        paragraph(plain(content.not_checked), 7.6 * s),
    ]
    return _boxed(said, wide, [("BOX", 0.9)], 3, 3 * s, side=5)
