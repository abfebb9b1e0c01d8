"""The sheet of a roof, written into a folder."""

from __future__ import annotations

from pathlib import Path

from ..extras import has_extra
from ..remedy import Comparison
from .content import choose, content
from .page import sheet_html
from .paper import paper_for
from .printed import sheet_pdf

NO_PDF = (
    "No PDF was written: it needs the package reportlab (pip install reportlab). The "
    "HTML page prints on one sheet from any browser."
)


def write_sheet(
    found: Comparison, folder: Path, key: str = "", paper: str = "",
    images: tuple[str, ...] = (),
) -> list[Path]:  # fmt: skip
    """Write sheet.html, and sheet.pdf where reportlab is installed.

    Args:
        found: the roof with its remedies.
        folder: made where it lacks.
        key: of the remedy that is drawn; left out, the first that is enough.
        paper: ``letter`` or ``a4``; left out, what is usual with the brief's units.
        images: PNG files, before and after, in place of the drawn pictures.

    Returns:
        Paths of what was written.

    Raises:
        FieldError: there is no such remedy or paper.
    """
    size = paper_for(found.before.brief.units, paper)
    told = content(found, choose(found, key), images)
    folder.mkdir(parents=True, exist_ok=True)
    written = [folder / "sheet.html"]
    written[0].write_text(sheet_html(told, size), encoding="utf-8")
    if has_extra("reportlab"):
        written.append(folder / "sheet.pdf")
        written[1].write_bytes(sheet_pdf(told, size))
    return written
