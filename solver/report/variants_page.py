"""variants.html: a roof as it stands beside what is proposed, on one page.

Reads Variants and computes no statics. Complete in itself: no script, no network.
"""

from __future__ import annotations

from html import escape

from ..units import POUND
from ..variants import Column, Row, Variants
from ..variants.compare import LIMIT_SOURCE
from ..verdict.model import Verdict
from .closing import not_checked
from .markup import DEFINITIONS, Content, Raw, join, mark, section, table, tag
from .show import Show, use
from .style import CSS

_WIDE = "body{max-width:68rem}@page{size:landscape}"
_MOST_ROWS = 60
_WORTH = 0.005


def variants_html(found: Variants) -> str:
    """Return variants of a roof side by side as one HTML document."""
    show = Show(found.solutions[0].brief.units)
    title = f"{found.names[0]}: variants side by side"
    parts = [
        tag("h1", title),
        tag("p", _opening(found), class_="under"),
        _whole(found),
        _stated(found),
        _members(found),
        _supports(found, show),
        not_checked(),
    ]
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(title)}</title><style>{CSS}{_WIDE}</style>"
        f"</head>\n<body>{DEFINITIONS}<main>{join(parts).text}</main></body></html>\n"
    )


def _opening(found: Variants) -> str:
    """Return what changes, in two sentences."""
    changed, more = len(found.changed), len(found.over_five)
    return (
        f"{_members_word(changed)} the verdict, {_members_word(more, 'is', 'are')} "
        f"used over 5 % more than in {found.names[0]}. {LIMIT_SOURCE}"
    )


def _members_word(count: int, one: str = "changes", many: str = "change") -> str:
    """Return ``1 member changes`` or ``7 members change``."""
    return f"{count} member {one}" if count == 1 else f"{count} members {many}"


def _whole(found: Variants) -> Raw:
    """Return the verdict and worst member of every variant."""
    rows: list[list[Content]] = []
    for name, solution in zip(found.names, found.solutions, strict=True):
        worst = solution.worst
        rows.append(
            [
                name,
                mark(solution.overall),
                use(worst.utilisation if worst else None),
                worst.key if worst else "–",
                str(sum(m.analysis_passes is False for m in solution.members.values())),
            ]
        )
    heads = ("", "verdict", "highest use", "of", "members that fail")
    return section(
        "The roof", table(heads, rows, numeric=(2, 4)), key="whole",
        lead="Every variant was framed, solved and checked by itself.",
    )  # fmt: skip


def _stated(found: Variants) -> Raw:
    """Return what is stated differently."""
    rows: list[list[Content]] = [
        [key.replace("_", " "), *values] for key, values in found.stated.items()
    ]
    drawn = table(("stated", *_short(found)), rows) if rows else tag("p", "Nothing.")
    return section("What differs", tag("div", drawn, class_="scroll"), key="stated")


def _members(found: Variants) -> Raw:
    """Return the members that change, the changed verdicts first."""
    rows = [
        r for r in found.members
        if r.changes or any(abs(c.more or 0.0) > _WORTH for c in r.columns)
    ]  # fmt: skip
    shown = rows[:_MOST_ROWS]
    lead = "Changed verdicts first, then by the largest increase of use."
    if len(rows) > len(shown):
        lead += f" {len(rows) - len(shown)} more are in variants.csv."
    heads = ("member", *_heads(found, "use"))
    drawn = table(heads, [_member(r) for r in shown], numeric=_numeric(found))
    body = tag("div", drawn, class_="scroll") if shown else tag("p", "None.")
    return section("Members that change", body, key="members", lead=lead)


def _short(found: Variants) -> list[str]:
    """Return the names of the variants without what all of them begin with."""
    first = found.names[0]
    rest = [name.removeprefix(f"{first}: ") for name in found.names[1:]]
    return [first if rest == list(found.names[1:]) else "as it is", *rest]


def _heads(found: Variants, what: str) -> list[str]:
    """Return the heads of all variants."""
    names = _short(found)
    out = [f"{names[0]}: {what}"]
    for name in names[1:]:
        out += [f"{name}: {what}", "more"]
    return out


def _numeric(found: Variants) -> tuple[int, ...]:
    """Return the columns of numbers."""
    return tuple(range(1, 2 * len(found.names)))


def _member(row: Row) -> list[Content]:
    """Return the cells of a member."""
    cells: list[Content] = [row.key]
    for n, column in enumerate(row.columns):
        cells.append(_use(column))
        if n:
            cells.append(_percent(column.more))
    return cells


def _use(column: Column) -> Content:
    """Return a use with the mark of its verdict."""
    if column.verdict is None:
        return "not there"
    if column.verdict is Verdict.NO_LOAD_PATH:
        return mark(column.verdict)
    return join([mark(column.verdict, words=False), f" {use(column.use)}"])


def _percent(more: float | None) -> str:
    """Return an increase in per cent."""
    if more is None:
        return "–"
    return "same" if abs(more) < _WORTH else f"{100 * more:+.0f} %"


def _supports(found: Variants, show: Show) -> Raw:
    """Return the largest load on every support."""
    rows: list[list[Content]] = []
    for row in found.supports:
        if max(c.value or 0.0 for c in row.columns) < POUND:
            continue
        cells: list[Content] = [row.key]
        for n, column in enumerate(row.columns):
            cells.append("–" if column.value is None else show.force(column.value))
            if n:
                cells.append(_percent(column.more))
        rows.append(cells)
    heads = ("support", *_heads(found, "load"))
    return section(
        "Walls and footings",
        tag("div", table(heads, rows, numeric=_numeric(found)), class_="scroll"),
        key="supports",
        lead="The largest load of any combination. What is under them was not checked.",
    )
