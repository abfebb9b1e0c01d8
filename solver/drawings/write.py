"""The lists and the drawings of a roof, written into a folder."""

from __future__ import annotations

from pathlib import Path

from ..extras import has_extra
from ..schedule import buy, cut_pieces, mark_pieces
from ..schedule.marks import marks_by_member
from ..solve import Solution
from .columns import buy_rows, csv_text, cut_rows, schedule_rows
from .dxf import dxf_text
from .ink import Drawing
from .plans import ceiling_plan, roof_plan
from .printed import drawings_pdf
from .sections import sections
from .svg import svg_text

_MISSING = "No {0} was written: it needs the package {1} (pip install {1})."


def write_lists(solution: Solution, folder: Path) -> list[Path]:
    """Write schedule.csv, cut_list.csv and buy_list.csv; return their paths."""
    brief = solution.brief
    pieces = cut_pieces(brief, solution.framing)
    marks, sticks = mark_pieces(pieces), buy(pieces, brief.units)
    names = {id(p): mark.name for mark in marks for p in mark.pieces}
    content = {
        "schedule.csv": schedule_rows(brief, marks),
        "cut_list.csv": cut_rows(brief, marks, sticks),
        "buy_list.csv": buy_rows(brief, sticks, names),
    }
    folder.mkdir(parents=True, exist_ok=True)
    for name, rows in content.items():
        (folder / name).write_text(csv_text(rows), encoding="utf-8", newline="")
    return [folder / name for name in content]


def draw_all(solution: Solution) -> list[Drawing]:
    """Return the framing plans and the sections."""
    marks = marks_by_member(mark_pieces(cut_pieces(solution.brief, solution.framing)))
    plans = [roof_plan(solution, marks), ceiling_plan(solution, marks)]
    return [*plans, *sections(solution, marks)]


def write_drawings(solution: Solution, folder: Path) -> tuple[list[Path], list[str]]:
    """Write every drawing as SVG and, where their libraries are here, PDF and DXF.

    Args:
        solution: the solved roof.
        folder: made where it lacks.

    Returns:
        Paths of what was written, and a sentence for each kind that was not.
    """
    brief, drawings = solution.brief, draw_all(solution)
    files = {f"{d.name}.svg": svg_text(d).encode() for d in drawings}
    missing = []
    if has_extra("reportlab"):
        files["drawings.pdf"] = drawings_pdf(drawings, brief.name)
    else:
        missing.append(_MISSING.format("PDF", "reportlab"))
    if has_extra("ezdxf"):
        files |= {f"{d.name}.dxf": dxf_text(d, brief.units).encode() for d in drawings}
    else:
        missing.append(_MISSING.format("DXF", "ezdxf"))
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in files.items():
        (folder / name).write_bytes(data)
    return [folder / name for name in files], missing
