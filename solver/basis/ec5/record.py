"""Which factors make each design value of Eurocode 5, in the order of a report."""

from __future__ import annotations

from ..protocol import Check, Edge, Factor

_K_MOD = Factor("k_mod", "k_mod", "modification, EN 1995-1-1 Table 3.1")
_GAMMA = Factor("1/gamma_M", "1/gamma_M", "partial factor, EN 1995-1-1 Table 2.3")


def factors_of(check: Check, edge: Edge) -> tuple[Factor, ...]:
    """Return the terms whose product is the design value of a check.

    Source: EN 1995-1-1:2004 Eq. 2.14.

    Args:
        check: bending, shear, tension or compression.
        edge: of a bending member, the edge in compression.

    Returns:
        The terms; empty for checks whose capacity is no product.
    """
    return {
        Check.BENDING: (
            Factor("f_m,k", "Fb", "characteristic, EN 338", "Pa"),
            _K_MOD,
            _GAMMA,
            Factor("k_h", "k_h (fm)", "size, EN 1995-1-1 Eq. 3.1"),
            Factor("k_sys", "k_sys", "system strength, EN 1995-1-1 6.6"),
            Factor("k_crit", f"k_crit ({edge})", "lateral buckling, 6.3.3"),
        ),
        Check.SHEAR: (
            Factor("f_v,k", "Fv", "characteristic, EN 338", "Pa"),
            _K_MOD,
            _GAMMA,
        ),
        Check.TENSION: (
            Factor("f_t,0,k", "Ft", "characteristic, EN 338", "Pa"),
            _K_MOD,
            _GAMMA,
            Factor("k_h", "k_h (ft)", "size, EN 1995-1-1 Eq. 3.1"),
        ),
        Check.COMPRESSION: (
            Factor("f_c,0,k", "Fc", "characteristic, EN 338", "Pa"),
            _K_MOD,
            _GAMMA,
            Factor("k_c", "k_c", "buckling, EN 1995-1-1 6.3.2"),
        ),
    }.get(check, ())


def stability_of(check: Check, edge: Edge) -> tuple[Factor, ...]:
    """Return what the stability factor of a check is made of.

    Source: EN 1995-1-1:2004 6.3.2, 6.3.3.

    Args:
        check: compression or bending.
        edge: the edge in compression.
    """
    if check is Check.COMPRESSION:
        return (
            Factor("lambda strong", "lambda (strong)", "along the depth"),
            Factor("lambda weak", "lambda (weak)", "across the depth"),
            Factor("k_c strong", "k_c (strong)", "along the depth"),
            Factor("k_c weak", "k_c (weak)", "across it"),
        )
    if check is Check.BENDING:
        relative = f"lambda_rel,m ({edge})"
        return (Factor("lambda_rel,m", relative, "relative slenderness; 0: held"),)
    return ()
