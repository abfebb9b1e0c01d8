"""What is written beside a roof for people who do not have Blender."""

import json
from pathlib import Path

from ...solver.drawings.write import write_lists
from ...solver.remedy import Comparison
from ...solver.report import results
from ...solver.report.html import report_html
from ...solver.sheet import comparison_html
from ...solver.sheet.write import write_sheet
from ...solver.solve import Solution
from . import briefs


def write(solution: Solution, folder: Path | str) -> tuple[Path, ...]:
    """Write brief, results, report, and the lists of pieces as CSV; return their paths.

    Raises:
        OSError: the folder cannot be written to.
    """
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    content = {
        "brief.json": briefs.text_of(solution.brief),
        "results.json": json.dumps(results(solution), indent=1, allow_nan=False) + "\n",
        "report.html": report_html(solution),
    }
    for name, text in content.items():
        (folder / name).write_text(text, encoding="utf-8")
    return (*(folder / name for name in content), *write_lists(solution, folder))


def write_sheet_of(comparison: Comparison, folder: str, key: str) -> list[Path]:
    """Write the sheet to hand over and the calculation behind it.

    Args:
        comparison: the roof with its remedies.
        folder: made where it lacks.
        key: of the remedy that is drawn; "" for the first that is enough.

    Raises:
        FieldError: there is no such remedy.
        OSError: the folder cannot be written.
    """
    return write_sheet(comparison, Path(folder), key)


def write_comparison(comparison: Comparison, path: Path) -> None:
    """Write the page that sets every remedy side by side, with chart and pictures.

    Raises:
        OSError: the file cannot be written.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(comparison_html(comparison), encoding="utf-8")
