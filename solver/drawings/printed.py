"""Drawings as one PDF, a page each on paper of its own size."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from xml.etree import ElementTree

from ..extras import extra
from ..pdf.text import written
from ..pdf.vector import draw
from ..report.cautions import CAUTION
from .ink import Drawing
from .svg import svg_text

_POINT = 25.4 / 72  # mm


def drawings_pdf(drawings: Sequence[Drawing], name: str) -> bytes:
    """Return drawings to scale, as a PDF.

    Args:
        drawings: in order.
        name: of the roof.

    Raises:
        ExtraError: reportlab is not installed.
    """
    out = BytesIO()
    canvas = extra("reportlab.pdfgen.canvas").Canvas(out, invariant=1)
    canvas.setTitle(written(f"{name}: drawings"))
    canvas.setAuthor("Loadfall")
    canvas.setSubject(CAUTION)
    for drawing in drawings:
        wide, tall = (v / _POINT for v in drawing.size)
        canvas.setPageSize((wide, tall))
        canvas.addOutlineEntry(written(drawing.title), drawing.name, 0)
        canvas.bookmarkPage(drawing.name)
        draw(canvas, ElementTree.fromstring(svg_text(drawing)), 0, tall, 1 / _POINT)
        canvas.showPage()
    canvas.save()
    return out.getvalue()
