"""The sheet as HTML: one page to print, complete in itself.

No script, no network; a rendered picture, where one is given, is put into the page.
"""

from __future__ import annotations

import math
from base64 import b64encode
from html import escape
from pathlib import Path

from ..report.markup import DEFINITIONS, Raw, join, table, tag
from .content import HEADS, WIDTHS, Content, Picture
from .paper import POINT, Paper

_LARGEST, _SMALLEST = 11.5, 6.5  # pt
_LETTER = 0.46  # mean width of a letter over its size, in a wide text face
_CSS = """
:root{--ink:#22282a;--soft:#5c666a;--rule:#c9ccc8;--over:#8a2f14;
--text:"Iowan Old Style","Palatino Linotype",Palatino,"URW Palladio L",P052,
"Book Antiqua",Georgia,"Times New Roman",serif}
*{box-sizing:border-box}
html{background:#fff;color:var(--ink);font:@ROOT@pt/1.28 var(--text);
font-variant-numeric:lining-nums}
body{font-size:.9rem;margin:0 auto;padding:1.701rem 0;width:@WIDE@mm}
h1{font-weight:400;font-size:1.7rem;line-height:1.1;margin:0}
.verdict{font-size:1.05rem;margin:0.17rem 0 0.567rem}
h2{font-weight:600;font-size:0.95rem;margin:0.68rem 0 0.17rem}
p{margin:0.142rem 0}
.pictures{display:grid;grid-template-columns:1fr 1fr;gap:1.134rem}
figure{margin:0;border:0.085rem solid var(--rule);padding:0.34rem 0.425rem}
.pictures figure:only-child{grid-column:1/-1}
.pictures figure:only-child svg{max-height:21rem;max-width:none!important;
margin:0 auto}
figure b{display:block;font-weight:600;font-size:1rem}
figure svg,figure img{width:100%;height:auto;max-height:15.307rem;display:block}
figcaption{font-size:0.8rem;color:var(--soft)}
svg text{font-family:var(--text)}
dl{display:grid;grid-template-columns:3.685rem 1fr;margin:0.454rem 0;gap:0.198rem 0}
dt{font-style:italic;color:var(--soft)}
dd{margin:0}
.plain{font-size:1.12rem;line-height:1.3;border-top:0.142rem solid var(--ink);
border-bottom:0.142rem solid var(--ink);padding:0.454rem 0;margin:0.567rem 0}
.plain dl{margin:0}
.report{font-size:0.86rem}
table{border-collapse:collapse;width:100%;font-size:0.84rem;line-height:1.2}
thead th{font-weight:400;font-style:italic;color:var(--soft);text-align:left;
vertical-align:bottom;border-bottom:0.085rem solid var(--ink);
padding:0.085rem 0.567rem 0.085rem 0}
tbody th{font-weight:400;text-align:left}
tbody th,td{border-bottom:0.057rem solid var(--rule);
padding:0.099rem 0.567rem 0.099rem 0}
.chosen th,.chosen td,.chosen{font-weight:600}
.small{font-size:0.76rem;line-height:1.22;color:var(--soft)}
.caution{border:0.113rem solid var(--ink);padding:0.283rem 0.567rem;margin:0.567rem 0 0;
font-size:0.8rem;line-height:1.24}
@page{size:@SIZE@;margin:@MARGIN@mm}
table{table-layout:fixed}
@media print{body{padding:0;width:auto}}
"""


def sheet_html(content: Content, paper: Paper) -> str:
    """Return the sheet as one HTML document."""
    name = escape(content.name)
    css = (
        _CSS.replace("@WIDE@", f"{paper.inside[0]:g}")
        .replace("@SIZE@", paper.css)
        .replace("@MARGIN@", f"{paper.margin:g}")
        .replace("@ROOT@", f"{_root_size(content, paper):.2f}")
    )
    body = join(
        [
            tag("h1", content.name),
            tag("p", content.verdict, class_="verdict"),
            tag("div", join(map(_figure, content.pictures)), class_="pictures"),
            tag("div", _said(content.plain.rows), class_="plain"),
            tag("h2", "For a report"),
            tag("div", _said(_report_rows(content)), class_="report"),
            tag("h2", "The choices"),
            _choices(content),
            tag("p", content.note, class_="small"),
            tag("div", _cautions(content), class_="caution"),
        ]
    )
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{name}: sheet</title><style>{css}</style></head>\n"
        f"<body>{DEFINITIONS}<main>{body.text}</main></body></html>\n"
    )


def _root_size(content: Content, paper: Paper) -> float:
    """Return the size of the page's unit, pt, at which all of it fits on the paper.

    A browser sets the page by itself, so its lines are reckoned here, on the wide side.
    """
    wide, tall = (v / POINT for v in paper.inside)
    size = _LARGEST
    while size > _SMALLEST and _height(content, wide, size) > tall:
        size -= 0.1
    return size


def _height(content: Content, wide: float, unit: float) -> float:
    """Return about how high the page is, pt, where its unit is so large."""

    def block(texts: list[str], size: float, leading: float, room: float) -> float:
        size *= unit / 10
        a_line = room / (size * _LETTER)
        return sum(math.ceil(len(t) / a_line) for t in texts) * size * leading

    beside = wide - 3.7 * unit
    plain = block([t for _, t in content.plain.rows], 11.2, 1.36, beside)
    report = block([t for _, t in _report_rows(content)], 8.6, 1.36, beside)
    rows = sum(
        max(
            block([c], 8.4, 1.2, w * wide - 6) for c, w in zip(row, WIDTHS, strict=True)
        )
        + 0.26 * unit
        for row in (HEADS, *content.rows)
    )
    notes = block([content.note], 7.6, 1.25, wide)
    box = block([" ".join(content.cautions), content.not_checked], 8.0, 1.26, wide - 14)
    heads = block([content.name], 17, 1.1, wide) + block(
        [content.verdict], 10.5, 1.3, wide
    )
    alone = len(content.pictures) < 2
    drawn = (
        min((21 if alone else 15.3) * unit, wide * (0.6 if alone else 0.34))
        + 3.6 * unit
    )
    return plain + report + rows + notes + box + heads + drawn + 9.5 * unit


def _report_rows(content: Content) -> tuple[tuple[str, str], ...]:
    """Return the rows for a report, the sections last."""
    rows = content.report.rows
    return (*rows, ("Sections", content.sections)) if content.sections else rows


def _said(rows: tuple[tuple[str, str], ...]) -> Raw:
    """Return heads and sentences."""
    parts = [
        part for head, words in rows for part in (tag("dt", head), tag("dd", words))
    ]
    return tag("dl", join(parts))


def _figure(one: Picture) -> Raw:
    """Return one picture with its words."""
    drawn = one.svg
    if one.image:
        data = b64encode(Path(one.image).read_bytes()).decode("ascii")
        drawn = Raw(
            f'<img src="data:image/png;base64,{data}" alt="{escape(one.head)}">'
        )
    return tag(
        "figure", join([tag("b", one.head), drawn, tag("figcaption", one.under)])
    )


def _choices(content: Content) -> Raw:
    """Return the table of the choices, the drawn one in bold."""
    rows = [
        [tag("b", cell) if n == content.chosen and n else cell for cell in row]
        for n, row in enumerate(content.rows)
    ]
    widths = "".join(f'<col style="width:{100 * part:g}%">' for part in WIDTHS)
    drawn = table(HEADS, rows).text
    return Raw(drawn.replace("<table>", f"<table><colgroup>{widths}</colgroup>", 1))


def _cautions(content: Content) -> Raw:
    """Return the cautions and what was not checked."""
    return join([tag("p", " ".join(content.cautions)), tag("p", content.not_checked)])
