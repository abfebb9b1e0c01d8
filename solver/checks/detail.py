"""The record of one check of one member, from which it can be recomputed by hand.

Receives a result; adds no number that the result does not hold.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..basis.arrays import Floats
from ..basis.protocol import Check, Edge
from .results import CheckResult, CheckRows


@dataclass(frozen=True)
class Line:
    """One line of a record.

    Attributes:
        symbol: as the book writes it.
        value: in SI units.
        unit: ``Pa``, ``N``, ``N m``, ``m``, ``m2``, ``m3`` or empty.
        words: what it is, and its clause where it has one.
    """

    symbol: str
    value: float
    unit: str
    words: str


def explain(result: CheckResult, row: int, check: Check) -> list[Line]:
    """Return the record of a check in its governing combination.

    Args:
        result: the checks.
        row: row of the member.
        check: which; one that the result holds.

    Returns:
        Lines in the order of the arithmetic, demand first, utilisation last. The
        factors of a product multiply to the capacity that follows them.
    """
    rows = result.checks[check]
    combination = int(rows.combination[row])
    lines = [
        Line(
            "combination",
            float(combination),
            "",
            f"governs: {result.combinations[combination]}",
        ),
        Line("x", float(rows.station[row]), "m", "from the start of the member"),
    ]
    lines += _demand(result, row, check, rows)
    lines += _capacity(result, row, check, rows, combination)
    lines.append(Line("utilisation", float(rows.utilisation[row]), "", rows.clause))
    return lines


def _edge(result: CheckResult, row: int, combination: int) -> Edge:
    """Return the edge that is pressed where bending governs."""
    e, s = result.extremes, result.strengths
    sag = e.sag[combination, row] / s.bending_sag[combination, row]
    hog = e.hog[combination, row] / s.bending_hog[combination, row]
    return Edge.BOTTOM if hog > sag else Edge.TOP


def _demand(result: CheckResult, row: int, check: Check, rows: CheckRows) -> list[Line]:
    """Return the lines that lead to the demand."""
    table, demand = result.table, float(rows.demand[row])
    area, modulus = float(table.area[row]), float(table.section_modulus[row])
    size = [
        Line("b", float(table.total_breadth[row]), "m", "breadth of all plies"),
        Line("d", float(table.depth[row]), "m", "depth"),
    ]
    if check is Check.BENDING:
        edge = _edge(result, row, int(rows.combination[row]))
        return [
            *size,
            *_beside_steel(result, row, "M", demand * modulus, "N m"),
            Line("M", demand * modulus, "N m", f"moment, {edge}"),
            Line("S", modulus, "m3", "section modulus, b d^2 / 6"),
            Line("f_b", demand, "Pa", "M / S"),
        ]
    if check is Check.SHEAR:
        force = demand * area / 1.5
        return [
            *size,
            *_beside_steel(result, row, "V", force, "N"),
            Line("V", force, "N", "shear force"),
            Line("f_v", demand, "Pa", "3 V / (2 b d)"),
        ]
    if check in (Check.TENSION, Check.COMPRESSION):
        symbol = "f_t" if check is Check.TENSION else "f_c"
        words = "tension" if check is Check.TENSION else "compression"
        return [
            *size,
            Line("P", demand * area, "N", words),
            Line("A", area, "m2", "b d"),
            Line(symbol, demand, "Pa", "P / A"),
        ]
    if rows.stresses:
        return _meeting(result, row, check, rows)
    parts = [Line(p.symbol, float(p.values[row]), p.unit, p.words) for p in rows.parts]
    words = check.value.replace("_", " ")
    return [*parts, Line("demand", demand, rows.unit, words)]


def _beside_steel(
    result: CheckResult, row: int, symbol: str, own: float, unit: str
) -> list[Line]:
    """Return the lines from the whole force to that of the wood, beside a plate."""
    share = float(result.table.wood_share[row])
    if share == 1:
        return []
    return [
        Line(f"{symbol}_all", own / share, unit, "of wood and plate together"),
        Line("w", share, "", f"part of the wood, E I over all E I; {symbol} below is "
             "that part"),
    ]  # fmt: skip


def _meeting(
    result: CheckResult, row: int, check: Check, rows: CheckRows
) -> list[Line]:
    """Return the stresses of a combined check and the values they are set against."""
    s, combination = result.strengths, int(rows.combination[row])
    axial, bending, weak = (
        float(rows.stresses[name][row]) for name in ("axial", "bending", "weak")
    )
    sags = bending > 0

    def line(symbol: str, array: Floats, words: str) -> Line:
        value = np.broadcast_to(array, s.shear.shape)[combination, row]
        return Line(symbol, float(value), "Pa", words)

    edge = "sagging" if sags else "hogging"
    stresses = [
        Line("f_b1", abs(bending), "Pa", f"strong axis bending, {edge}"),
        Line("f_b2", weak, "Pa", "weak axis bending"),
    ]
    if check is Check.BENDING_TENSION:
        without = s.bending_sag_no_volume if sags else s.bending_hog_no_volume
        return [
            Line("f_t", max(axial, 0.0), "Pa", "tension"),
            *stresses,
            line("Ft'", s.tension, "tension design value"),
            line("Fb*", s.bending_star, "all factors but C_L"),
            line("Fb**", without, "all factors but C_V"),
            line("Fb2'", s.bending_weak, "weak axis design value"),
        ]
    pressed = max(-axial, 0.0) if check is Check.BENDING_COMPRESSION else 0.0
    lateral = s.lateral_sag if sags else s.lateral_hog
    return [
        Line("f_c", pressed, "Pa", "compression"),
        *stresses,
        line("Fc'", s.compression, "compression design value"),
        line("Fb1'", s.bending_sag if sags else s.bending_hog, "strong axis"),
        line("Fb2'", s.bending_weak, "weak axis"),
        line("F_cE1", s.euler_strong, "critical, along the depth"),
        line("F_cE2", s.euler_weak, "critical, across the depth"),
        line("F_bE", lateral, "critical bending"),
    ]


def _capacity(
    result: CheckResult, row: int, check: Check, rows: CheckRows, combination: int
) -> list[Line]:
    """Return the lines that lead to the capacity."""
    edge = _edge(result, row, combination)
    terms = result.basis.product(check, edge)
    made_of = result.basis.stability(check, edge)
    lines = [
        Line(
            term.symbol,
            _value(result, term.source, row, combination),
            term.unit,
            term.words,
        )
        for term in (*terms, *made_of)
    ]
    if check is Check.BENDING and made_of and lines[len(terms)].value == 0:
        del lines[len(terms) + 1 :]  # the edge is held: no slenderness to show
    words = "product of the design value's terms" if terms else "limit"
    return [*lines, Line("capacity", float(rows.capacity[row]), rows.unit, words)]


def _value(result: CheckResult, name: str, row: int, combination: int) -> float:
    """Return a value of a member in a combination, by the name of its array."""
    own = getattr(result.table, name, None)
    if own is not None:
        return float(own[row])
    s = result.strengths
    values = getattr(s, name, None)
    values = s.factors[name] if values is None else values
    return float(np.broadcast_to(values, s.shear.shape)[combination, row])
