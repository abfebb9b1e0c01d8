"""The chart of a comparison: a column for each measure, a row for each remedy.

What a mark means is told by its shape, so that it reads in grey and on any printer.
Reads measures; computes nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from html import escape

from ..remedy import Comparison, Remedy
from ..remedy.measure import Measures
from ..report.markup import Raw, section, tag
from ..report.sketch import INK, OVER, SOFT
from ..units import FOOT, INCH, POUND, System

_LABEL, _COLUMN, _ROW, _TOP = 355.0, 72.0, 19.0, 50.0  # px
_INSET = 9.0  # px of a column left free at each side
_MOST_LETTERS = 58
_FAR = 1.15  # of the scale: where what is off it is drawn
_PAPER = "#fdfcf9"


@dataclass(frozen=True)
class Column:
    """One measure.

    Attributes:
        heads: two lines above it.
        values: of a roof in the unit of the heads; a second one is drawn as a tail.
        limit: where a stroke stands, 0 for none.
    """

    heads: tuple[str, str]
    values: Callable[[Measures], tuple[float, ...]]
    limit: float = 0.0


@dataclass(frozen=True)
class _Row:
    """One roof: its words, its mark, its measures, and whether an engineer is asked."""

    words: str
    shape: str
    measures: Measures
    engineer: bool | None


def columns(system: System) -> tuple[Column, ...]:
    """Return the measures that remedies are compared by, less being better in all."""
    us = system is System.IMPERIAL
    small, small_name = (INCH, "in") if us else (1e-3, "mm")
    long, long_name = (FOOT, "ft") if us else (1.0, "m")
    area_name = "sq ft" if us else "m²"
    force, force_name = (POUND, "lb") if us else (1e3, "kN")
    return (
        Column(("highest use", "1: limit"), lambda m: (m.utilisation or 0.0,), 1.0),
        Column(
            ("ceiling sag", f"10 years, {small_name}"),
            lambda m: (m.ceiling.ten_years / small, m.ceiling.now / small),
        ),
        Column(
            ("to neighbour", f"10 years, {small_name}"),
            lambda m: ((m.beside or 0.0) / small,),
        ),
        Column(("lumber", "bd ft"), lambda m: (m.pieces.board_feet,)),
        Column(("to carry in", "pieces"), lambda m: (float(m.pieces.count),)),
        Column(("longest", long_name), lambda m: (m.pieces.longest / long,)),
        Column(
            ("attic way lost", long_name), lambda m: (max(m.headroom_lost, 0.0) / long,)
        ),
        Column(("floor lost", area_name), lambda m: (m.floor_lost / long**2,)),
        Column(("load below", force_name), lambda m: (m.foundation / force,)),
    )


def chart(found: Comparison) -> Raw:
    """Return the chart of a comparison as a section."""
    return section(
        "At a glance",
        tag("div", _drawn(found), class_="scroll"),
        key="chart",
        lead="Further left is better in every column. Full circle with a star: no "
        "other one beats it in every column. Ring: passes these checks by analysis, "
        "and another is nowhere worse. Triangle: not enough. Diamond: as it is. The "
        "tail of the sag begins at the sag of day one; an arrow points to what is off "
        "the scale. Square: needs an engineer.",
    )


def scale_of(
    column: Column, measures: list[Measures], passing: list[Measures]
) -> float:
    """Return the end of a column's scale, a round number.

    It is set by what passes, so that one far failure does not press all else together.
    """
    near = [column.values(m)[0] for m in passing] or [
        column.values(m)[0] for m in measures
    ]
    most = max([*near, 1.5 * column.limit])
    return _round_up(most)


def _round_up(value: float) -> float:
    """Return 1, 2, 2.5 or 5 times a power of ten that is not below a value."""
    if value <= 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(value))
    return next(
        power * n for n in (1.0, 1.5, 2.0, 2.5, 4.0, 5.0, 8.0, 10.0)
        if power * n >= value * (1 - 1e-9)
    )  # fmt: skip


def _rows(found: Comparison) -> list[_Row]:
    """Return the roof as it is, then the remedies."""
    return [
        _Row("as it is", "diamond", found.measures, None),
        *(_Row(r.title, _shape(r), r.measures, bool(r.engineer))
          for r in found.remedies),
    ]  # fmt: skip


def _shape(one: Remedy) -> str:
    """Return the shape of a remedy's marks."""
    return "full" if one.unbeaten else "ring" if one.solves else "triangle"


def _drawn(found: Comparison) -> Raw:
    """Return the drawing."""
    rows, made = _rows(found), columns(found.before.brief.units)
    measures = [row.measures for row in rows]
    passing = [r.measures for r in found.remedies if r.solves]
    wide = _LABEL + _COLUMN * (len(made) + 1)
    tall = _TOP + _ROW * len(rows) + 6
    parts = [tag("title", "Remedies compared, measure by measure").text]
    parts += _labels(rows, wide)
    for n, column in enumerate(made):
        parts += _column(column, rows, scale_of(column, measures, passing),
                         _LABEL + n * _COLUMN)  # fmt: skip
    parts += _engineers(rows, _LABEL + len(made) * _COLUMN)
    return Raw(
        f'<svg class="chart" viewBox="0 0 {wide:.0f} {tall:.0f}" role="img" '
        f'style="max-width:{wide:.0f}px;min-width:720px">{"".join(parts)}</svg>'
    )


def _labels(rows: list[_Row], wide: float) -> list[str]:
    """Return the words of the rows and the lines between them."""
    out = []
    for n, row in enumerate(rows):
        y = _TOP + n * _ROW
        out.append(_line(0, y, wide, y, "#dfe1de", 0.6))
        best = row.shape == "full"
        said = row.words
        if len(said) > _MOST_LETTERS:
            said = said[: _MOST_LETTERS - 1].rstrip() + "…"
        out.append(
            _text(2, y + 13.5, f"★ {said}" if best else said, 12, bold=best)
        )  # fmt: skip
    return out


def _column(column: Column, rows: list[_Row], end: float, x: float) -> list[str]:
    """Return heads, scale and marks of one measure."""
    room = (_COLUMN - 2 * _INSET) / _FAR
    left = x + _INSET
    bottom = _TOP + _ROW * len(rows)
    out = [
        _text(left - 2, 13, column.heads[0], 11, slant=True),
        _text(left - 2, 26, column.heads[1], 11, slant=True),
        _text(left, 43, "0", 9.5, ink=SOFT),
        _text(left + room, 43, f"{end:g}", 9.5, "middle", ink=SOFT),
        _line(left, _TOP - 4, left, bottom, SOFT, 0.7),
        _line(left + room, _TOP - 4, left + room, bottom, "#dfe1de", 0.7),
    ]
    if column.limit:
        at = left + room * column.limit / end
        out.append(_line(at, _TOP - 4, at, bottom, INK, 1.1))
    for n, row in enumerate(rows):
        y = _TOP + (n + 0.5) * _ROW
        value, *tail = column.values(row.measures)
        start = left + room * min(tail[0] / end, _FAR) if tail else left
        off = value > end * 1.001
        at = left + room * (_FAR if off else value / end)
        out.append(_line(start, y, at, y, INK if row.shape == "full" else SOFT, 1.4))
        out.append(_arrow(at, y) if off else _mark(at, y, row.shape))
    return out


def _engineers(rows: list[_Row], x: float) -> list[str]:
    """Return the column that says which remedies need an engineer."""
    left = x + _INSET
    out = [_text(left - 2, 13, "needs an", 11, slant=True),
           _text(left - 2, 26, "engineer", 11, slant=True)]  # fmt: skip
    for n, row in enumerate(rows):
        y = _TOP + (n + 0.5) * _ROW
        if row.engineer is None:
            continue
        if row.engineer:
            out.append(
                f'<rect x="{left:.1f}" y="{y - 4:.1f}" width="8" height="8" '
                f'fill="{INK}"/>'
            )
        out.append(_text(left + 13, y + 4, "yes" if row.engineer else "no", 11))
    return out


def _mark(x: float, y: float, shape: str) -> str:
    """Return the mark of a roof."""
    if shape == "triangle":
        return (
            f'<path d="M{x:.1f} {y - 5:.1f}l5 9h-10z" fill="{OVER}" '
            f'stroke="{_PAPER}" stroke-width="0.6"/>'
        )
    if shape == "diamond":
        return (
            f'<path d="M{x:.1f} {y - 5.5:.1f}l5.5 5.5-5.5 5.5-5.5-5.5z" '
            f'fill="{_PAPER}" stroke="{INK}" stroke-width="1.4"/>'
        )
    fill, line = (INK, _PAPER) if shape == "full" else (_PAPER, INK)
    return (
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4.2" fill="{fill}" stroke="{line}" '
        'stroke-width="1.3"/>'
    )


def _arrow(x: float, y: float) -> str:
    """Return the mark of what is off the scale."""
    return f'<path d="M{x - 2:.1f} {y - 4.5:.1f}l8 4.5-8 4.5z" fill="{OVER}"/>'


def _line(x: float, y: float, x2: float, y2: float, ink: str, width: float) -> str:
    """Return a stroke."""
    return (
        f'<path d="M{x:.1f} {y:.1f}L{x2:.1f} {y2:.1f}" stroke="{ink}" '
        f'stroke-width="{width}"/>'
    )


def _text(
    x: float, y: float, words: str, size: float, anchor: str = "start",
    ink: str = INK, bold: bool = False, slant: bool = False,
) -> str:  # fmt: skip
    """Return words."""
    weight = ' font-weight="600"' if bold else ""
    style = ' font-style="italic"' if slant else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}" fill="{ink}" '
        f'text-anchor="{anchor}"{weight}{style}>{escape(words)}</text>'
    )
