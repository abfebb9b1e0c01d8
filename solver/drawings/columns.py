"""The rows of the member schedule, the cut list and the list to buy.

Words and numbers of marks, pieces and sticks; computes nothing.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterable, Sequence

from ..brief.model import Brief
from ..schedule import EndAngles, Mark, Piece, Stick
from ..schedule.lengths import stock_length
from ..trace.naming import named
from ..trace.wording import CAUTION, role_word
from ..units import DEGREE, INCH, System, show_length

Row = dict[str, object]
MEASURE = (
    "Lengths and angles are those of the drawn roof: measure on site before cutting. "
    "Lengths run from long point to long point; angles are from a square cut."
)


def schedule_rows(brief: Brief, marks: Iterable[Mark]) -> list[Row]:
    """Return one row for each mark."""
    return [_mark_row(brief, mark) for mark in marks]


def cut_rows(brief: Brief, marks: Sequence[Mark], sticks: Sequence[Stick]) -> list[Row]:
    """Return one row for each piece: whose it is, how it is cut, from which stick."""
    stick_of = {id(p): n for n, s in enumerate(sticks, 1) for p in s.pieces}
    return [
        {
            "member": piece.member,
            "piece": f"{piece.number} of {piece.of}",
            "mark": mark.name,
            **_wood(piece),
            **_lengths(brief, piece),
            **_cuts(piece),
            "board_feet": round(piece.board_feet, 4),
            "from_stick": stick_of[id(piece)],
        }
        for mark in marks
        for piece in mark.pieces
    ]


def buy_rows(brief: Brief, sticks: Sequence[Stick], names: dict[int, str]) -> list[Row]:
    """Return one row for each kind of stick.

    Args:
        brief: for its units.
        sticks: to buy.
        names: mark of each piece by its ``id``.
    """
    kinds: dict[tuple[object, ...], list[int]] = {}
    for n, stick in enumerate(sticks, 1):
        held = Counter(names[id(p)] for p in stick.pieces)
        cut = ", ".join(f"{k} x {v}" if v > 1 else k for k, v in held.items())
        made = stick.section.name, stick.species, stick.grade
        kinds.setdefault((*made, round(stick.length, 4), cut), []).append(n)
    rows: list[Row] = []
    for (size, species, grade, _, cut), found in kinds.items():
        stick = sticks[found[0] - 1]
        rows.append(
            {
                "count": len(found),
                "size": size,
                "species": species,
                "grade": grade,
                "stock_length": _stock(brief, stick.length),
                "stock_length_mm": round(stick.length * 1e3, 1),
                "board_feet": round(len(found) * stick.board_feet, 4),
                "cut_into": cut,
                "left_mm": round((stick.length - stick.used) * 1e3, 1),
                "sticks": _numbers(found),
                "remark": "" if stick.sold else "not sold so long: order specially",
            }
        )
    return rows


def csv_text(rows: Sequence[Row], cautions: Iterable[str] = (MEASURE, CAUTION)) -> str:
    """Return rows as CSV (RFC 4180), the cautions as last rows.

    Args:
        rows: all with the same columns, at least one.
        cautions: sentences that stand in the first column under the rows.
    """
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(rows[0])
    writer.writerows(row.values() for row in rows)
    blank = [""] * (len(rows[0]) - 1)
    writer.writerows([f"NOTE: {words}", *blank] for words in cautions)
    return out.getvalue()


def _mark_row(brief: Brief, mark: Mark) -> Row:
    """Return the row of a mark."""
    piece = mark.first
    stock = stock_length(piece.length, piece.species, brief.units)
    return {
        "mark": mark.name,
        "pieces": len(mark.pieces),
        **_wood(piece),
        **_lengths(brief, piece),
        **_cuts(piece),
        "ends": ends_words(piece),
        "seat_from_first_end": ""
        if piece.seat is None
        else show_length(piece.seat, brief.units),
        "seat_depth": show_length(piece.seat_depth, brief.units)
        if piece.seat_depth
        else "",
        "stock_length": "special" if stock is None else _stock(brief, stock),
        "board_feet_each": round(piece.board_feet, 4),
        "board_feet": round(mark.board_feet, 4),
        "spliced": "yes" if piece.spliced else "",
        "members": named(mark.members, 50),
    }


def _wood(piece: Piece) -> Row:
    """Return what a piece is and of which lumber."""
    return {
        "role": role_word(piece.role.value),
        "size": piece.section.name,
        "species": piece.species,
        "grade": piece.grade,
    }


def _lengths(brief: Brief, piece: Piece) -> Row:
    """Return the length of a piece as read and as computed with."""
    return {
        "length": show_length(piece.length, brief.units),
        "length_in": round(piece.length / INCH, 3),
        "length_mm": round(piece.length * 1e3, 1),
    }


def _cuts(piece: Piece) -> Row:
    """Return the cuts of both ends, in degrees from square."""
    out: Row = {}
    for name, end in (("first", piece.first), ("last", piece.last)):
        out[f"{name}_face_deg"] = round(end.face / DEGREE, 2)
        out[f"{name}_edge_deg"] = round(end.edge / DEGREE, 2)
        out[f"{name}_saw_tilt_deg"] = round(end.tilt / DEGREE, 2)
    return out


def ends_words(piece: Piece) -> str:
    """Return how the two ends of a piece lie to each other on its wide face."""
    first, last = piece.first.face, piece.last.face
    if not first and not last:
        return "square"
    if abs(first - last) < DEGREE / 4:
        return "parallel"
    if abs(first + last) < DEGREE / 4:
        return "opposed"
    return "one square" if not first or not last else "each its own"


def end_words(end: EndAngles) -> str:
    """Return one cut in a few words, such as ``26.6° + cheek 48.2°``."""
    if not end.face and not end.edge:
        return "square"
    parts = [f"{abs(end.face) / DEGREE:.1f}°"] if end.face else []
    if end.edge:
        parts.append(
            f"cheek {abs(end.edge) / DEGREE:.1f}° (saw {abs(end.tilt) / DEGREE:.1f}°)"
        )
    return " + ".join(parts)


def _stock(brief: Brief, length: float) -> str:
    """Return a length as lumber is sold."""
    if brief.units is System.METRIC:
        return f"{length:.1f} m"
    return f"{length / (12 * INCH):.4g} ft"


def _numbers(found: list[int]) -> str:
    """Return stick numbers, runs drawn together."""
    runs: list[list[int]] = []
    for n in found:
        if runs and runs[-1][-1] == n - 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    return ", ".join(f"{r[0]}-{r[-1]}" if len(r) > 1 else f"{r[0]}" for r in runs)
