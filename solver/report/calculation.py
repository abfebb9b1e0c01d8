"""The governing check of the worst member of each role, written out.

Each record holds what is needed to do the check again with pencil and paper; nothing
is computed that the checks did not compute.
"""

from __future__ import annotations

import math

import numpy as np

from ..basis.protocol import Check
from ..checks.bearing import bearing_capacity
from ..checks.detail import Line, explain
from ..solve import Solution
from ..trace.wording import check_word, combination_words, role_word, start_words
from ..verdict.bearings import bearing_table
from ..verdict.model import MemberResult
from .markup import Content, Raw, join, section, table, tag
from .show import Show, figures, use

_SHAPE = (Check.SLENDERNESS, Check.BEAM_SLENDERNESS)
_SAG = (Check.DEFLECTION_LIVE, Check.DEFLECTION_TOTAL)


def calculation(solution: Solution) -> Raw:
    """Return the governing checks, and by strength too where sag governs."""
    parts: list[Content] = []
    for m in worst_of_roles(solution).values():
        for check in checks_of(m):
            parts += [_head(solution, m, check), _record(solution, m, check)]
    if not parts:
        return Raw("")
    return section(
        "The governing checks, written out",
        *parts,
        key="calculation",
        lead="The most used member of each role. Symbols are those of the design "
        "basis; all values are in the units written beside them.",
    )


def worst_of_roles(solution: Solution) -> dict[str, MemberResult]:
    """Return the most used member of each role, the worst role first."""
    out: dict[str, MemberResult] = {}
    for m in solution.members.values():
        if not m.governing_check or m.utilisation is None:
            continue
        known = out.get(m.role)
        if known is None or m.utilisation > (known.utilisation or 0.0):
            out[m.role] = m
    rows = sorted(out.items(), key=lambda pair: -(pair[1].utilisation or 0.0))
    return dict(rows)


def checks_of(m: MemberResult) -> list[Check]:
    """Return the governing check of a member, and its worst strength if sag governs."""
    governing = Check(m.governing_check)
    if governing not in _SAG:
        return [governing]
    strength = [
        (value, name)
        for name, value in (m.by_check or {}).items()
        if value > 0 and Check(name) not in (*_SAG, *_SHAPE)
    ]
    return [governing, *(Check(name) for _, name in [max(strength)] if strength)]


def _head(solution: Solution, m: MemberResult, check: Check) -> Raw:
    """Return which check of which member it is."""
    assert solution.checked is not None
    rows = solution.checked.result.checks[check]
    row = solution.checked.result.table.row(m.key)
    name = solution.combinations.names[int(rows.combination[row])]
    words = combination_words(solution.combinations, name)
    return join(
        [
            tag("h3", f"{m.key}, {role_word(m.role)}: {check_word(check.value)}, "
                      f"use {use(float(rows.utilisation[row]))}"),
            tag("p", f"In {name} ({words}). {rows.clause}.", class_="lead"),
        ]
    )  # fmt: skip


def lines_of(solution: Solution, key: str, check: Check) -> list[Line]:
    """Return the record of a check of a member, demand first, utilisation last.

    Args:
        solution: a solved roof that was analysed.
        key: of an analysed member.
        check: one that applies to it.
    """
    assert solution.checked is not None
    result = solution.checked.result
    lines = explain(result, result.table.row(key), check)[1:]
    if check in _SAG:
        return [lines[0], *_sag_lines(solution, key, check), *lines[1:]]
    if check is Check.BEARING:
        return [lines[0], *_bearing_lines(solution, key), *lines[1:]]
    if check is Check.BIAXIAL_BENDING:  # nothing presses, so nothing buckles
        return [x for x in lines if x.symbol not in ("f_c", "Fc'", "F_cE1", "F_cE2")]
    return lines


def _sag_lines(solution: Solution, key: str, check: Check) -> list[Line]:
    """Return the span of a sag check, and what its sag is made of."""
    assert solution.checked is not None
    result, sags = solution.checked.result, solution.checked.sags
    rows, row = result.checks[check], result.table.row(key)
    combination = int(rows.combination[row])
    spans = sags.table
    length = spans.end - spans.start
    total = check is Check.DEFLECTION_TOTAL
    limit = spans.limit_total if total else spans.limit_live
    amount = sags.long_term if total else sags.live
    of_member = np.flatnonzero((spans.member == row) & (limit > 0))
    use_ = np.abs(amount[combination, of_member]) * limit[of_member] / length[of_member]
    span = int(of_member[int(np.argmax(use_))])
    out = [Line("L", float(length[span]), "m", "span")]
    if total:
        lasting = float(sags.sustained[span])
        rest = abs(float(amount[combination, span])) - sags.creep * lasting
        out += [
            Line("sag, lasting", lasting, "m", "of the load that stays, at once"),
            Line("K_cr", float(sags.creep), "", "creep factor on it"),
            Line("sag, rest", rest, "m", "of the other load, at once"),
        ]
    return [*out, Line("L over limit", float(limit[span]), "", "span over sag allowed")]


def _bearing_lines(solution: Solution, key: str) -> list[Line]:
    """Return force, length and breadth of the bearing that governs."""
    assert solution.checked is not None
    assert solution.model is not None
    assert solution.frame is not None
    result = solution.checked.result
    places = bearing_table(solution.framing, solution.model, solution.frame)
    row = result.table.row(key)
    rows = result.checks[Check.BEARING]
    combination = int(rows.combination[row])
    capacity = bearing_capacity(result, places)[combination]
    area = places.length * places.breadth
    force = places.force[combination]
    of_member = np.flatnonzero(places.member == row)
    worst = of_member[int(np.argmax((force / area / capacity)[of_member]))]
    angle = math.degrees(float(places.angle[worst]))
    return [
        Line("R", float(force[worst]), "N", "force that presses"),
        Line("l_b", float(places.length[worst]), "m", "length of the bearing"),
        Line("b", float(places.breadth[worst]), "m", "breadth of the bearing"),
        Line("angle", angle, "", "degrees between force and grain"),
        Line("to the end", float(places.end_distance[worst]), "m", "of the member"),
    ]


def _record(solution: Solution, m: MemberResult, check: Check) -> Raw:
    """Return the lines of a check as a table."""
    show = Show(solution.brief.units)
    start = start_words(solution.framing, solution.framing.members[m.key])
    rows: list[list[Content]] = []
    for line in lines_of(solution, m.key, check):
        words = line.words
        if line.symbol == "x":
            words = f"from {start}"
        value = show.precise(line.value, line.unit)
        if line.symbol == "utilisation":
            value, words = figures(line.value, 4), f"at most 1; {line.words}"
        rows.append([line.symbol, value, words])
    return table(("symbol", "value", "what it is"), rows, class_="sum")
