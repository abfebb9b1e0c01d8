"""Which factors make each design value, in the order in which a report writes them.

Names and clauses only; the values are in `Strengths.factors`.
"""

from __future__ import annotations

from ..protocol import Check, Edge, Factor

_C_D = Factor("C_D", "C_D", "load duration, NDS 2018 2.3.2")
_C_F = "size, NDS 2018 4.3.6 and Supplement"


def factors_of(check: Check, edge: Edge) -> tuple[Factor, ...]:
    """Return the terms whose product is the design value of a check.

    Source: NDS 2018 Table 4.3.1 (sawn lumber), Table 8.3.1 (SCL).

    Args:
        check: bending, shear, tension or compression.
        edge: of a bending member, the edge in compression.

    Returns:
        The terms; empty for checks whose capacity is no product.
    """
    if check is Check.BENDING:
        terms = (
            Factor("Fb", "Fb", "reference value, NDS 2018 Supplement", "Pa"),
            _C_D,
            Factor("C_F", "C_F (Fb)", _C_F),
            Factor("C_r", "C_r", "repetitive members, NDS 2018 4.3.9"),
        )
        both = Factor("C_L C_V", f"C_L C_V ({edge})", "3.3.3; with volume, 8.3.6")
        return (*terms, both)
    return {
        Check.SHEAR: (Factor("Fv", "Fv", "reference value", "Pa"), _C_D),
        Check.TENSION: (
            Factor("Ft", "Ft", "reference value", "Pa"),
            _C_D,
            Factor("C_F", "C_F (Ft)", _C_F),
        ),
        Check.COMPRESSION: (
            Factor("Fc", "Fc", "reference value", "Pa"),
            _C_D,
            Factor("C_F", "C_F (Fc)", _C_F),
            Factor("C_P", "C_P", "column stability, NDS 2018 3.7.1"),
        ),
    }.get(check, ())


def stability_of(check: Check, edge: Edge) -> tuple[Factor, ...]:
    """Return what the stability factor of a check is made of.

    Source: NDS 2018 3.7.1, 15.3.2; 3.3.3.

    Args:
        check: compression or bending.
        edge: of a bending member, the edge in compression.
    """
    if check is Check.COMPRESSION:
        return (
            Factor("le/d strong", "le/d (strong)", "along the depth"),
            Factor("le/d weak", "le/d (weak)", "across the depth"),
            Factor("F_cE1", "euler_strong", "0.822 Emin' / (le/d)^2", "Pa"),
            Factor("F_cE2", "euler_weak", "0.822 Emin' / (le/d)^2", "Pa"),
            Factor("Fc*", "compression_star", "all factors but C_P", "Pa"),
            Factor("C_P strong", "C_P (strong)", "along the depth"),
            Factor("C_P weak", "C_P (weak)", "across it, with K_f"),
            Factor("K_f", "K_f", "built-up column, NDS 2018 15.3.2"),
        )
    if check is Check.BENDING:
        critical = "lateral_sag" if edge is Edge.TOP else "lateral_hog"
        return (
            Factor("le", f"le ({edge})", "NDS 2018 Table 3.3.3; 0: held", "m"),
            Factor("R_B", f"R_B ({edge})", "sqrt(le d / b^2)"),
            Factor("F_bE", critical, "1.20 Emin' / R_B^2", "Pa"),
        )
    return ()
