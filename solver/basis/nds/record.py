"""Which factors make each design value, in the order in which a report writes them.

Names and clauses only; the values are in `Strengths.factors`.
"""

from __future__ import annotations

from ..protocol import Check, Edge, Factor

_C_D = Factor("C_D", "C_D", "load duration, NDS 2018 2.3.2")
_C_F = "size, NDS 2018 4.3.6 and Supplement"


def factors_of(check: Check, edge: Edge, with_volume: bool) -> tuple[Factor, ...]:
    """Return the terms whose product is the design value of a check.

    Source: NDS 2018 Table 4.3.1 (sawn lumber), Table 8.3.1 (SCL).

    Args:
        check: bending, shear, tension or compression.
        edge: of a bending member, the edge in compression.
        with_volume: the volume factor counts (``C_L`` and ``C_V``: the smaller where
            C_V is at most 1, else both, 8.3.6).

    Returns:
        The terms; empty for checks whose capacity is no product.
    """
    if check is Check.BENDING:
        terms = (
            Factor("Fb", "Fb", "reference value, NDS 2018 Supplement"),
            _C_D,
            Factor("C_F", "C_F (Fb)", _C_F),
            Factor("C_r", "C_r", "repetitive members, NDS 2018 4.3.9"),
        )
        C_L = Factor("C_L", f"C_L ({edge})", "beam stability, NDS 2018 3.3.3")
        if not with_volume:
            return (*terms, C_L)
        both = Factor("C_L C_V", f"C_L C_V ({edge})", "stability and volume, 8.3.6")
        return (*terms, both)
    return {
        Check.SHEAR: (Factor("Fv", "Fv", "reference value"), _C_D),
        Check.TENSION: (
            Factor("Ft", "Ft", "reference value"),
            _C_D,
            Factor("C_F", "C_F (Ft)", _C_F),
        ),
        Check.COMPRESSION: (
            Factor("Fc", "Fc", "reference value"),
            _C_D,
            Factor("C_F", "C_F (Fc)", _C_F),
            Factor("C_P", "C_P", "column stability, NDS 2018 3.7.1"),
        ),
    }.get(check, ())
