"""The markup of our pages as blocks of a PDF: the same words, set for paper.

Knows the elements that the pages are made of. What is in no element that it knows is
set as a paragraph, so nothing is lost.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from typing import Any
from xml.etree import ElementTree

from ..extras import extra
from ..report.markup import Raw
from .blocks import INK, SOFT, Block, drawing, paragraph
from .tables import table
from .text import BOLD, SLANT

Element = ElementTree.Element
_BODY, _SMALL = 9.4, 8.2  # pt
_MARKS = {  # of ZapfDingbats, one of the fourteen fonts
    "mark-none": "\u25a0", "mark-over": "\u25b2", "mark-keeps": "\u25b2",
    "mark-breaks": "\u25c6", "mark-passes": "\u274d", "mark-idle": "",
}  # fmt: skip
_INKS = {"mark-none": "#1b1b1b", "mark-over": "#8a2f14", "mark-keeps": "#8a2f14",
         "mark-breaks": "#8a6a14", "mark-passes": "#2f5d54"}  # fmt: skip
_ROOM = {"h1": 200.0, "h2": 120.0, "h3": 80.0}  # pt that a heading wants below it
_BLOCKS = {"p", "h1", "h2", "h3", "ul", "table", "figure", "dl", "pre", "div",
           "section", "nav"}  # fmt: skip


def blocks(markup: Raw, wide: float) -> list[Block]:
    """Return the blocks of some markup.

    Args:
        markup: well-formed elements side by side.
        wide: pt, of the page within its margins.
    """
    root = ElementTree.fromstring(f"<main>{markup.text}</main>")
    return [block for child in root for block in _of(child, wide)]


def _of(element: Element, wide: float) -> Iterator[Block]:
    """Yield the blocks of one element."""
    kind, look = element.tag, element.get("class", "")
    if kind == "nav":
        return
    if look == "part":
        yield extra("reportlab.platypus").PageBreak()
    if kind in ("section", "main"):
        yield from _children(element, wide)
    elif kind in ("h1", "h2", "h3"):
        yield from _heading(element, kind, wide)
    elif kind == "ul":
        for item in element:
            yield _hung(inline(item), wide)
    elif kind == "table":
        yield from table(element, wide, inline, _cell)
    elif kind == "figure":
        yield from _figure(element, wide)
    elif kind == "dl":
        yield _pairs(element, wide)
    elif kind == "pre":
        yield _listing(element)
    elif look in ("caution", "overall", "review"):
        yield _framed(element, wide, look)
    elif kind == "div" and any(child.tag in _BLOCKS for child in element):
        yield from _children(element, wide)
    elif kind != "svg":
        yield _words(element, look)


def _children(element: Element, wide: float) -> Iterator[Block]:
    """Yield the blocks of what is in an element, a short start kept together."""
    made = [block for child in element for block in _of(child, wide)]
    yield from made


def _words(element: Element, look: str) -> Block:
    """Return a paragraph in the look of its class."""
    lead = look == "lead"
    return paragraph(
        inline(element), _SMALL if look == "small" else _BODY,
        font=SLANT if lead else "Times-Roman",
        ink=SOFT if look in ("lead", "under", "small") else INK,
        before=2, after=3,
    )  # fmt: skip


def _heading(element: Element, kind: str, wide: float) -> Iterator[Block]:
    """Yield a heading; a stroke stands over the second kind."""
    platypus = extra("reportlab.platypus")
    yield platypus.CondPageBreak(_ROOM[kind])
    if kind == "h2":
        yield platypus.HRFlowable(
            width=wide, thickness=1.1, color=INK, spaceBefore=12, spaceAfter=1
        )
    size = {"h1": 20.0, "h2": 13.5, "h3": 10.2}[kind]
    face = BOLD if kind == "h3" else "Times-Roman"
    above = {"h1": 0.0, "h2": 1.0, "h3": 7.0}[kind]
    yield paragraph(
        inline(element), size, font=face, leading=1.15, before=above, after=3
    )


def _hung(markup: str, wide: float) -> Block:
    """Return an item of a list with its dot."""
    style = [("VALIGN", (0, 0), (-1, -1), "TOP"), *_tight(0.8)]
    return extra("reportlab.platypus").Table(
        [[paragraph("•", _BODY), paragraph(markup, _BODY)]],
        colWidths=[10, wide - 10], style=style, hAlign="LEFT",
    )  # fmt: skip


def _tight(pad: float) -> list[Any]:
    """Return table commands for narrow cells."""
    whole = (0, 0), (-1, -1)
    return [("LEFTPADDING", *whole, 0), ("RIGHTPADDING", *whole, 0),
            ("TOPPADDING", *whole, pad), ("BOTTOMPADDING", *whole, pad)]  # fmt: skip


def _figure(element: Element, wide: float) -> Iterator[Block]:
    """Yield a drawing with its words below it, together on a page."""
    parts = []
    for child in element:
        if child.tag == "svg":
            parts.append(drawing(child, wide, 330.0))
        else:
            parts.append(paragraph(inline(child), _SMALL, ink=SOFT, before=3, after=6))
    yield extra("reportlab.platypus").KeepTogether(parts)


def _pairs(element: Element, wide: float) -> Block:
    """Return heads with what is said of them."""
    cells = [
        [
            paragraph(inline(head), _BODY, font=SLANT, ink=SOFT),
            paragraph(inline(said), _BODY),
        ]
        for head, said in zip(element[::2], element[1::2], strict=True)
    ]
    style = [("VALIGN", (0, 0), (-1, -1), "TOP"), *_tight(1)]
    return extra("reportlab.platypus").Table(
        cells, colWidths=[52, wide - 52], style=style, hAlign="LEFT"
    )


def _listing(element: Element) -> Block:
    """Return text whose lines and spaces count."""
    platypus = extra("reportlab.platypus")
    style = extra("reportlab.lib.styles").ParagraphStyle(
        "own", fontName="Courier", fontSize=6.6, leading=8, textColor=INK
    )
    return platypus.Preformatted("".join(element.itertext()), style, maxLineLength=120)


def _framed(element: Element, wide: float, look: str) -> Block:
    """Return a box with words in it."""
    if look == "review":
        inside = list(_children(element, wide - 18))
    else:
        size = 12.0 if look == "overall" else _BODY
        inside = [paragraph(inline(element), size)]
    style = [("BOX", (0, 0), (-1, -1), 1.0, INK), *_tight(5),
             ("LEFTPADDING", (0, 0), (-1, -1), 9)]  # fmt: skip
    return extra("reportlab.platypus").Table(
        [[inside]], colWidths=[wide], style=style, hAlign="LEFT", spaceBefore=6,
        spaceAfter=6,
    )  # fmt: skip


def _cell(element: Element, size: float, look: dict[str, Any]) -> Any:  # noqa: ANN401
    """Return the block of a table cell: a bar as drawn, all else as words."""
    bars = [s for s in element.iter("svg") if s.get("class") == "bar"]
    if bars:
        bar = bars[0]
        return drawing(bar, float(bar.get("width", "76")) * 0.62, 10.0)
    return paragraph(inline(element), size, leading=1.18, **look)


def inline(element: Element) -> str:
    """Return what is in an element as reportlab's markup."""
    parts = [escape(element.text or "", quote=False)]
    for child in element:
        parts += [_inside(child), escape(child.tail or "", quote=False)]
    return "".join(parts)


def _inside(child: Element) -> str:
    """Return one element within words."""
    if child.tag == "svg":
        uses = [u.get("href", "#")[1:] for u in child.iter("use")]
        name = uses[0] if uses else ""
        sign = _MARKS.get(name, "")
        ink = _INKS.get(name, INK)
        return f'<font name="ZapfDingbats" color="{ink}">{sign}</font>' if sign else ""
    words = inline(child)
    if child.tag == "sub":
        return f'<sub rise="18%" size="70%">{words}</sub>'
    if child.tag in ("b", "strong"):
        return f"<b>{words}</b>"
    if child.tag == "i":
        return f"<i>{words}</i>"
    if child.tag == "br":
        return "<br/>"
    if child.tag == "small":
        return f'<br/><font size="{_BODY - 0.6}" color="{SOFT}">{words}</font>'
    return words
