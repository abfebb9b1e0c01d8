"""The sheet of a roof, written into a folder."""

from __future__ import annotations

from pathlib import Path

from ..extras import has_extra
from ..remedy import Comparison
from .calculation import calculation_html
from .content import choose, content
from .page import sheet_html
from .paper import paper_for
from .printed import calculation_pdf, sheet_pdf

NO_PDF = (
    "No PDF was written: it needs the package reportlab (pip install reportlab). The "
    "HTML pages print from any browser."
)


def write_sheet(
    found: Comparison, folder: Path, key: str = "", paper: str = "",
    images: tuple[str, ...] = (),
) -> list[Path]:  # fmt: skip
    """Write sheet and calculation as HTML, and as PDF where reportlab is installed.

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
    chosen = choose(found, key)
    told = content(found, chosen, images)
    files = {
        "sheet.html": sheet_html(told, size).encode(),
        "calculation.html": calculation_html(found.before, chosen, size).encode(),
    }
    if has_extra("reportlab"):
        files["sheet.pdf"] = sheet_pdf(told, size)
        files["calculation.pdf"] = calculation_pdf(found.before, chosen, size)
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in files.items():
        (folder / name).write_bytes(data)
    return [folder / name for name in files]
