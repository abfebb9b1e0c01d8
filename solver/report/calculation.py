"""The governing check of the worst member of each role, written out.

Each record holds what is needed to do the check again with pencil and paper; nothing
is computed that the checks did not compute.
"""

from __future__ import annotations

from ..basis.protocol import Check
from ..solve import Solution
from ..trace.wording import check_word, combination_words, role_word, start_words
from ..verdict.model import MemberResult
from .markup import Content, Raw, join, section, symbol, table, tag
from .record import SAG, equation, groups_of
from .show import Show, figures, use

_SHAPE = (Check.SLENDERNESS, Check.BEAM_SLENDERNESS)


def calculation(solution: Solution) -> Raw:
    """Return the governing checks, and by strength too where sag governs."""
    parts: list[Content] = []
    for m in worst_of_roles(solution).values():
        for check in checks_of(m):
            parts += written(solution, m, check)
    if not parts:
        return Raw("")
    return section(
        "The governing checks, written out",
        *parts,
        key="calculation",
        lead="The most used member of each role. Symbols are those of the design "
        "basis; all values are in the units written beside them.",
    )


def written(solution: Solution, m: MemberResult, check: Check) -> list[Content]:
    """Return one check of one member, complete enough to redo by hand."""
    return [_head(solution, m, check), _record(solution, m, check)]


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
    if governing not in SAG:
        return [governing]
    strength = [
        (value, name)
        for name, value in (m.by_check or {}).items()
        if value > 0 and Check(name) not in (*SAG, *_SHAPE)
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


def _record(solution: Solution, m: MemberResult, check: Check) -> Raw:
    """Return the lines of a check as tables, one for each group."""
    show = Show(solution.brief.units)
    start = start_words(solution.framing, solution.framing.members[m.key])
    parts: list[Content] = [
        tag("p", symbol(equation(solution, check) + "."), class_="equation")
    ]
    for group in groups_of(solution, m.key, check):
        rows: list[list[Content]] = []
        for line in group.lines:
            value, words = show.precise(line.value, line.unit), line.words
            if line.symbol == "x":
                words = f"from {start}"
            elif line.symbol == "utilisation":
                value, words = figures(line.value, 4), f"at most 1; {line.words}"
            name = "use" if line.symbol == "utilisation" else line.symbol
            rows.append([symbol(name), value, symbol(words)])
        heads = ("symbol", "value", "what it is")
        parts.append(table(heads, rows, symbol(group.head), class_="sum"))
    return tag("div", join(parts), class_="check")
