"""The lists of a roof, written into a folder."""

from __future__ import annotations

from pathlib import Path

from ..schedule import buy, cut_pieces, mark_pieces
from ..solve import Solution
from .columns import buy_rows, csv_text, cut_rows, schedule_rows


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
