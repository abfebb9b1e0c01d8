"""The record of one check as groups of lines, complete enough to redo by hand.

Gathers what the checks and the basis hold; the arithmetic is theirs.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..basis.protocol import Check, Edge, Factor
from ..checks.detail import Line, explain
from ..checks.results import CheckResult
from ..solve import Solution

SAG = (Check.DEFLECTION_LIVE, Check.DEFLECTION_TOTAL)
_MEETING = (Check.BENDING_TENSION, Check.BENDING_COMPRESSION, Check.BIAXIAL_BENDING)
_ALL_ALONG = (
    Check.TENSION,
    Check.COMPRESSION,
    Check.SLENDERNESS,
    Check.BEAM_SLENDERNESS,
)
_PRESSED = ("f_c", "Fc'", "F_cE1", "F_cE2")


def equation(solution: Solution, check: Check) -> str:
    """Return how the lines of a check come together under the solution's basis."""
    assert solution.checked is not None
    return solution.checked.result.basis.equation(check)


@dataclass(frozen=True)
class Group:
    """Lines that belong together.

    Attributes:
        head: what they are.
        lines: symbol, value, unit and words each.
    """

    head: str
    lines: tuple[Line, ...]


def groups_of(solution: Solution, key: str, check: Check) -> list[Group]:
    """Return the record of a check of a member in its governing combination.

    Args:
        solution: a solved roof that was analysed.
        key: of an analysed member.
        check: one that applies to it.

    Returns:
        What comes in, what the design values are made of, and the use last.
    """
    assert solution.checked is not None
    result = solution.checked.result
    row = result.table.row(key)
    lines = explain(result, row, check)[1:]  # the combination stands in the heading
    if check is Check.BIAXIAL_BENDING:  # nothing presses along, nothing buckles
        lines = [x for x in lines if x.symbol not in _PRESSED]
    if check in _ALL_ALONG:
        lines = lines[1:]
    if check not in _MEETING:
        return [Group("", tuple(lines))]
    head = [x for x in lines if x.symbol not in ("capacity", "utilisation")]
    return [
        Group("", (head[0], *_forces(result, row, check), *head[1:])),
        *_made_of(result, row, check),
        Group("Together", tuple(lines[-1:])),
    ]


def _forces(result: CheckResult, row: int, check: Check) -> list[Line]:
    """Return section and forces from which the stresses of a combined check come."""
    table, stresses = result.table, result.checks[check].stresses
    area, modulus = float(table.area[row]), float(table.section_modulus[row])
    axial, bending, weak = (
        float(stresses[name][row]) for name in ("axial", "bending", "weak")
    )
    flat = float(table.section_modulus_weak[row])
    out = [
        Line("b", float(table.total_breadth[row]), "m", "breadth of all plies"),
        Line("d", float(table.depth[row]), "m", "depth"),
        Line("S", modulus, "m3", "section modulus on edge, b d² / 6"),
        Line("M", abs(bending) * modulus, "N m", "moment on edge"),
    ]
    if weak:
        out += [
            Line("S2", flat, "m3", "section modulus flatwise, plies apart"),
            Line("M2", weak * flat, "N m", "moment flatwise"),
        ]
    if check is not Check.BIAXIAL_BENDING:
        words = "pull" if axial > 0 else "push"
        out += [
            Line("A", area, "m2", "b d"),
            Line("P", abs(axial) * area, "N", f"{words} along the member"),
        ]
    return out


def _made_of(result: CheckResult, row: int, check: Check) -> list[Group]:
    """Return what the design values of a combined check are made of."""
    rows = result.checks[check]
    combination = int(rows.combination[row])
    edge = Edge.TOP if float(rows.stresses["bending"][row]) > 0 else Edge.BOTTOM
    parts = [("Fb'", Check.BENDING)]
    if check is Check.BENDING_TENSION:
        parts.append(("Ft'", Check.TENSION))
    elif check is Check.BENDING_COMPRESSION:
        parts.append(("Fc'", Check.COMPRESSION))
    out: list[Group] = []
    for symbol, part in parts:
        terms = result.basis.product(part, edge)
        more = [
            _line(result, t, row, combination)
            for t in result.basis.stability(part, edge)
        ]
        if part is Check.BENDING and more and more[0].value == 0:
            more = more[:1]  # the edge is held: no slenderness to show
        made = [_line(result, t, row, combination) for t in terms]
        named = ", ".join(term.symbol for term in terms)
        out.append(Group(f"{symbol} is the product of {named}", (*made, *more)))
    return out


def _line(result: CheckResult, term: Factor, row: int, combination: int) -> Line:
    """Return the line of a term of a design value."""
    own = getattr(result.table, term.source, None)
    if own is not None:
        return Line(term.symbol, float(own[row]), term.unit, term.words)
    s = result.strengths
    values = getattr(s, term.source, None)
    values = s.factors[term.source] if values is None else values
    value = float(np.broadcast_to(values, s.shear.shape)[combination, row])
    return Line(term.symbol, value, term.unit, term.words)
