"""What is written beside a roof for people who do not have Blender."""

import json
from pathlib import Path

from ...solver.report import results
from ...solver.report.html import report_html
from ...solver.solve import Solution
from . import briefs


def write(solution: Solution, folder: Path | str) -> tuple[Path, ...]:
    """Write brief.json, results.json and report.html; return their paths.

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
    return tuple(folder / name for name in content)
