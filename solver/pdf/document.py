"""Blocks set on numbered pages, a foot on every one of them."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO

from ..extras import extra
from .blocks import SOFT, Block
from .text import PLAIN, SLANT, written

_FOOT = 7.4  # pt


def document(
    made: Sequence[Block], size: tuple[float, float], margin: float, title: str,
    foot: str,
) -> bytes:  # fmt: skip
    """Return a PDF.

    Args:
        made: blocks in order.
        size: pt, of the paper.
        margin: pt, all round.
        title: at the foot of every page, and of the file.
        foot: words at the foot of every page.

    Raises:
        ExtraError: reportlab is not installed.
    """
    out = BytesIO()
    platypus = extra("reportlab.platypus")
    wide, tall = size
    template = platypus.BaseDocTemplate(
        out, pagesize=size, leftMargin=margin, rightMargin=margin, topMargin=margin,
        bottomMargin=margin + 14, title=written(title), author="Loadfall",
        subject=written(foot), invariant=1,
    )  # fmt: skip
    # The frame's own padding would make every line shorter than the page says.
    frame = platypus.Frame(
        margin, margin + 14, wide - 2 * margin, tall - 2 * margin - 14,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip

    def below(canvas: Block, _: Block) -> None:
        canvas.saveState()
        canvas.setFillColor(SOFT)
        canvas.setFont(SLANT, _FOOT)
        canvas.drawString(margin, margin, written(foot))
        canvas.setFont(PLAIN, _FOOT)
        page = f"{title}, page {canvas.getPageNumber()}"
        canvas.drawRightString(wide - margin, margin, written(page))
        canvas.restoreState()

    template.addPageTemplates([platypus.PageTemplate("all", [frame], onPage=below)])
    template.build(list(made))
    return out.getvalue()
