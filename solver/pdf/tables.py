"""Tables of our pages on paper: columns as wide as their words ask for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any
from xml.etree import ElementTree

from ..extras import extra
from .blocks import INK, RULE, SOFT, Block, paragraph
from .text import BOLD, PLAIN, SLANT, written

Element = ElementTree.Element
Inline = Callable[[Element], str]
Cell = Callable[[Element, float, dict[str, Any]], Any]
_SIZES = (8.2, 7.8, 7.4, 7.0, 6.6, 6.2, 5.8)  # pt
_GAP = 6.0  # pt between columns
_ROOM = 60.0  # pt that a caption wants below it
_FILLED = {"fill": 25.0, "wide": 110.0}  # pt of a row that is written into by hand
_BAR = 50.0  # pt of a column that holds a bar


def table(element: Element, wide: float, inline: Inline, cell: Cell) -> Iterator[Block]:
    """Yield a caption and a table.

    Args:
        element: the table.
        wide: pt that it may take.
        inline: makes markup of a cell's words.
        cell: makes the block of a cell.
    """
    rows = [list(row) for row in element.iter("tr")]
    if not rows:
        return
    size, widths = _columns(rows, wide)
    high = _FILLED.get(element.get("class", ""))
    if high is not None:  # to be written into by hand: as wide as there is room
        more = (wide - sum(widths)) / max(len(widths) - 1, 1)
        widths = [w + (more if n or len(widths) == 1 else 0.0)
                  for n, w in enumerate(widths)]  # fmt: skip
    made = [
        [cell(one, size, _look(one, n == 0)) for one in row]
        for n, row in enumerate(rows)
    ]
    caption = element.find("caption")
    if caption is not None:
        yield extra("reportlab.platypus").CondPageBreak(_ROOM)
        yield paragraph(inline(caption), 8.8, font=BOLD, before=5, after=1)
    style = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        ("LINEBELOW", (0, 0), (-1, 0), 0.7, INK),
        ("LINEBELOW", (0, 1), (-1, -1), 0.35, RULE),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), _GAP),
        ("TOPPADDING", (0, 0), (-1, -1), 1.2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.6),
    ]
    yield extra("reportlab.platypus").Table(
        made, colWidths=widths, repeatRows=1, style=style, hAlign="LEFT",
        rowHeights=None if high is None else [None] + [high] * (len(made) - 1),
        spaceBefore=2, spaceAfter=7,
    )  # fmt: skip


def _look(one: Element, head: bool) -> dict[str, Any]:
    """Return how the words of a cell are set."""
    look: dict[str, Any] = {}
    if one.get("class") == "n":
        look["align"] = 2
    if head:
        look |= {"font": SLANT, "ink": SOFT}
    elif one.tag == "th":
        look["font"] = BOLD
    return look


def _columns(rows: list[list[Element]], wide: float) -> tuple[float, list[float]]:
    """Return the largest size of type whose columns fit, and their widths."""
    for size in _SIZES:
        least, wished = _wants(rows, size)
        if sum(least) <= wide:
            break
    room = wide - sum(least)
    if room <= 0:
        return size, [w * wide / sum(least) for w in least]
    more = [b - a for a, b in zip(least, wished, strict=True)]
    if sum(more) <= room:
        return size, wished
    return size, [a + room * m / sum(more) for a, m in zip(least, more, strict=True)]


def _wants(rows: list[list[Element]], size: float) -> tuple[list[float], list[float]]:
    """Return the least and the wished width of every column, pt."""
    measure = extra("reportlab.pdfbase.pdfmetrics").stringWidth
    count = max(map(len, rows))
    least, wished = [10.0] * count, [10.0] * count
    for row in rows:
        for n, one in enumerate(row):
            face = BOLD if one.tag == "th" else PLAIN
            words = written("".join(one.itertext()))
            if any(s.get("class") == "bar" for s in one.iter("svg")):
                least[n], wished[n] = max(least[n], _BAR), max(wished[n], _BAR)
                continue
            unbroken = one.get("class") == "n"
            parts = [words] if unbroken else words.split() or [""]
            longest = max(measure(p, face, size) for p in parts)
            least[n] = max(least[n], longest + _GAP + 1.5)
            wished[n] = max(wished[n], measure(words, face, size) + _GAP + 1.5)
    return least, [min(w, 260.0) if w > 260 else w for w in wished]
