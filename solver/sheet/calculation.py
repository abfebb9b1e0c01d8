"""The calculation behind the sheet: as many pages as an engineer needs to redo it.

Made of the parts of the report and of what only a calculation has: the brief as a
table, every governing check, and room for the engineer's own review.
"""

from __future__ import annotations

from html import escape

from ..basis.protocol import Check
from ..remedy import Remedy
from ..report import beside, loading, members, opening, supports
from ..report.calculation import checks_of, written
from ..report.cautions import CAUTIONS
from ..report.closing import not_checked, rules
from ..report.markup import (
    DEFINITIONS,
    Content,
    Raw,
    join,
    section,
    table,
    tag,
)
from ..report.plate_results import bolt_words
from ..report.show import Show
from ..report.style import CSS
from ..solve import Solution
from ..trace.story import story
from ..verdict.model import MemberResult
from .paper import Paper
from .picture import choose_slice, picture, slice_beside
from .stated import changed_rows, stated_rows
from .whole import sight_of, whole_roof

_CSS = (
    ".part{break-before:page}.review{border:1.5px solid var(--ink);padding:.4rem 1rem;"
    "break-inside:avoid}.review .fill td{height:2.1rem}.review .wide th{height:8rem}"
    ".review thead th:empty{border:0;padding:0}"
)


def calculation_markup(before: Solution, remedy: Remedy | None) -> Raw:
    """Return the calculation as markup: the roof as it is, and as it could be."""
    parts: list[Content] = [
        tag("h1", f"{before.brief.name}: calculation"),
        tag("p", _basis(before), class_="under"),
        tag("p", CAUTIONS[0], class_="caution"),
        *_part(before, None, None),
    ]
    if remedy is not None:
        head = f"With the change: {remedy.title}"
        parts += [
            tag("div", "", class_="part"),
            tag("h1", head),
            tag("p", remedy.build),
            *_part(remedy.solution, before, remedy),
        ]
    last = tag("div", "", class_="part")
    return join([*parts, not_checked(), last, _review(before, remedy)])


def calculation_html(before: Solution, remedy: Remedy | None, paper: Paper) -> str:
    """Return the calculation as one HTML document."""
    name = escape(before.brief.name)
    page = f"@page{{size:{paper.css}}}"
    body = calculation_markup(before, remedy).text
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{name}: calculation</title><style>{CSS}{_CSS}{page}</style></head>\n"
        f"<body>{DEFINITIONS}<main>{body}</main></body></html>\n"
    )


def _basis(solution: Solution) -> str:
    """Return the design basis in a line."""
    checked = solution.checked
    name = checked.result.basis.name if checked is not None else "nothing analysed"
    return (
        f"Basis: {name}. Two ways side by side: the hand method, and a frame analysis "
        "in three dimensions with contacts that only push."
    )


def _part(
    solution: Solution, before: Solution | None, remedy: Remedy | None
) -> list[Content]:
    """Return the sections of one roof, numbered by nothing but their order."""
    drawn = _drawn(before or solution, solution, remedy)
    return [
        opening.overall(solution),
        _brief(solution, before),
        drawn,
        members.lost_members(solution),
        *([loading.loads(solution)] if before is None else []),
        _path(solution),
        supports.supports(solution),
        _checks(solution),
        beside.beside(solution),
        members.struts(solution),
        _plates(solution),
        loading.thrust(solution),
        loading.sags(solution),
        rules(solution),
    ]


def _brief(solution: Solution, before: Solution | None) -> Raw:
    """Return what was stated, or what is stated otherwise than before."""
    if before is None:
        rows = stated_rows(solution.brief)
        return section(
            "What was stated", table(("what", "field", "value"), rows), key="stated"
        )
    rows = changed_rows(before.brief, solution.brief)
    return section(
        "What is stated otherwise",
        table(("field", "as it is", "with the change"), rows),
        key="stated",
        lead="All else is as before; so are the loads.",
    )


def _drawn(before: Solution, solution: Solution, remedy: Remedy | None) -> Raw:
    """Return the slice of the roof that the sheet shows too."""
    after = None if remedy is None else solution
    cut = choose_slice(before, after)
    if after is not None:
        cut = slice_beside(cut, before, after)[0]
    old = before if remedy is not None else None
    svg = picture(solution, cut, "Slice of the roof", old, width=760.0)
    whole = whole_roof(
        solution, sight_of(before, after), "The whole roof", old, width=760.0
    )
    words = (
        "A slice through the worst place. Pushes of braces and parts of the limit are "
        "by the frame analysis, the largest of all combinations."
    )
    seen = "The whole roof from the south-west. Hatched: over its limit."
    if old is not None:
        seen += " Dark: new."
    return join(
        [
            tag("figure", join([svg, tag("figcaption", words)])),
            tag("figure", join([whole, tag("figcaption", seen)])),
        ]
    )


def _path(solution: Solution) -> Raw:
    """Return the way of the load in words, for the worst member of each kind."""
    parts: list[Content] = []
    for m in _governing(solution, by_check=False):
        parts.append(tag("h3", m.key))
        parts.append(tag("p", " ".join(story(solution, m.key)[:-1])))
    if not parts:
        return Raw("")
    return section(
        "The way of the load",
        *parts,
        key="path",
        lead="The most used member of each kind: what it carries and from where, and "
        "where it hands it on.",
    )


def _governing(solution: Solution, by_check: bool = True) -> list[MemberResult]:
    """Return the most used member of each kind, the worst first.

    Args:
        solution: the solved roof.
        by_check: a kind is a role, a size and the check that governs; else a role.
    """
    kinds: dict[tuple[object, ...], MemberResult] = {}
    for m in solution.members.values():
        if m.utilisation is None or not m.governing_check:
            continue
        kind: tuple[object, ...] = (m.role,)
        if by_check:
            made = (m.size, m.plies, m.species, m.grade)
            kind = (m.role, *made, m.governing_check)
        known = kinds.get(kind)
        if known is None or m.utilisation > (known.utilisation or 0.0):
            kinds[kind] = m
    return sorted(kinds.values(), key=lambda m: -(m.utilisation or 0.0))


def _checks(solution: Solution) -> Raw:
    """Return every governing check, written out once for each kind of member."""
    parts: list[Content] = []
    done: set[tuple[str, Check]] = set()
    for m in _governing(solution):
        for check in checks_of(m):
            if (m.key, check) not in done:
                done.add((m.key, check))
                parts += written(solution, m, check)
    if not parts:
        return Raw("")
    return section(
        "Every governing check, written out",
        *parts,
        key="checks",
        lead="Of the members of one role, size and grade that the same check governs, "
        "the most used. Symbols are those of the design basis.",
    )


def _plates(solution: Solution) -> Raw:
    """Return the bolts of beams with a steel plate, where there are any."""
    if not solution.plate_bolts:
        return Raw("")
    show = Show(solution.brief.units)
    return section(
        "Bolts of steel plates",
        *[tag("p", bolt_words(b, show)) for b in solution.plate_bolts],
        key="plates",
        lead="Load comes on the wood and leaves by the wood; what the plate carries "
        "passes through bolts.",
    )


def _review(before: Solution, remedy: Remedy | None) -> Raw:
    """Return room for the engineer's own review, with what is to be found on site."""
    asked = [
        "Sizes, spacings and spans as stated",
        "Species and grade",
        "Splits, rot, notches, earlier repairs",
        "Nails and hangers at heels, ridge and braces",
        "Loads: roofing layers, stored goods, snow of the place",
        "What stands under walls, posts and girders, down to the soil",
    ]
    if remedy is not None:
        asked += [*remedy.engineer, "Shores, and what they stand on"]
    rows = [[words, "", ""] for words in asked]
    signed = [["Name", "", "Licence", ""], ["Date", "", "Signature", ""]]
    inside = [
        table(("to be found or confirmed", "found", "by, date"), rows, class_="fill"),
        tag("p", "Accepted / accepted with changes / not accepted, and why:"),
        table(("",), [[""]], class_="wide"),
        table(("", "", "", ""), signed, class_="fill"),
    ]
    return section(
        "The engineer's own review",
        tag("div", join(inside), class_="review"),
        key="review",
        lead="This page is for whoever takes responsibility. Nothing above does.",
    )
