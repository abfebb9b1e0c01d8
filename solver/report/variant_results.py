"""variants.json and variants.csv: variants of one roof side by side, in US units."""

from __future__ import annotations

import csv
import io
from typing import Any

from ..units import POUND
from ..variants import Column, Row, Variants
from ..variants.compare import LIMIT_SOURCE
from .cautions import CAUTIONS, NOT_CHECKED
from .numbers import number


def variant_results(found: Variants) -> dict[str, Any]:
    """Return the content of variants.json.

    Raises:
        ValueError: a number is not finite.
    """
    return {
        "variants": [
            {"name": name, "verdict": s.overall.value, "refusal": s.refusal}
            for name, s in zip(found.names, found.solutions, strict=True)
        ],
        "stated": {key: list(values) for key, values in found.stated.items()},
        "verdict_changes": [row.key for row in found.changed],
        "over_five_percent": [row.key for row in found.over_five],
        "five_percent_rule": LIMIT_SOURCE,
        "members": {row.key: _row(row) for row in found.members},
        "supports": {row.key: _row(row) for row in found.supports},
        "not_checked": list(NOT_CHECKED),
        "cautions": list(CAUTIONS),
    }


def _row(row: Row) -> dict[str, Any]:
    """Return one member or support."""
    return {
        "role": row.role,
        "verdict_changes": row.changes,
        "columns": [_column(column) for column in row.columns],
    }


def _column(column: Column) -> dict[str, Any]:
    """Return what one variant says."""
    return {
        "utilisation": number(column.use),
        "verdict": None if column.verdict is None else column.verdict.value,
        "check": column.check or None,
        "load": number(column.value, POUND),
        "percent_more": None if column.more is None else round(100 * column.more, 3),
    }


def variant_csv(found: Variants) -> str:
    """Return the members of all variants as a table for a spreadsheet."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    heads = ["member", "role", "verdict changes"]
    for name in found.names:
        heads += [f"{name}: use", f"{name}: verdict", f"{name}: % more"]
    writer.writerow(heads)
    for row in found.members:
        line: list[object] = [row.key, row.role, "yes" if row.changes else "no"]
        for column in row.columns:
            use = "" if column.use is None else f"{column.use:.4f}"
            verdict = "not there" if column.verdict is None else column.verdict.value
            more = "" if column.more is None else f"{100 * column.more:.1f}"
            line += [use, verdict, more]
        writer.writerow(line)
    return out.getvalue()
