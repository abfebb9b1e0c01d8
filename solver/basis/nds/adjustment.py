"""Adjustment factors of sawn lumber and structural composite lumber.

Each factor is one clause; none of them knows which member it will be used on.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ...errors import ScopeError
from ...units import INCH, PSI
from ..arrays import Floats, Real, floats
from ..materials import Kind
from ..sections import nominal_width

# Width, nominal in: C_F on Fb (2 and 3 in thick), Fb (4 in thick), Ft, Fc.
_SIZE_FACTORS = {
    4: (1.5, 1.5, 1.5, 1.15),
    5: (1.4, 1.4, 1.4, 1.1),
    6: (1.3, 1.3, 1.3, 1.1),
    8: (1.2, 1.3, 1.2, 1.05),
    10: (1.1, 1.2, 1.1, 1.0),
    12: (1.0, 1.1, 1.0, 1.0),
    14: (0.9, 1.0, 0.9, 0.9),
}
# Width, nominal in: C_fu of 2 and 3 in, and of 4 in thick lumber.
_FLAT_USE = {
    3: (1.0, 1.0), 4: (1.1, 1.0), 5: (1.1, 1.05), 6: (1.15, 1.05), 8: (1.15, 1.05),
    10: (1.2, 1.1),
}  # fmt: skip
_TIMBER_FLAT_USE = {"Select Structural": 0.86, "No.1": 0.74}
_REPETITIVE_SAWN = 1.15
_REPETITIVE_SCL = 1.04
_REPETITIVE_SPACING = 24 * INCH


@dataclass(frozen=True, kw_only=True)
class SizeFactors:
    """Factors that depend on size alone, dimensionless.

    Attributes:
        bending: on Fb, edgewise.
        tension: on Ft.
        compression: on Fc.
        clause: where they come from.
    """

    bending: float
    tension: float
    compression: float
    clause: str


@dataclass(frozen=True, kw_only=True)
class WetServiceFactors:
    """Wet service factors C_M, dimensionless; floats or arrays as the input was."""

    Fb: Floats
    Ft: Floats
    Fv: Floats
    Fc_perp: Floats
    Fc: Floats
    E: Floats


def size_factors(kind: Kind, grade: str, breadth: float, depth: float) -> SizeFactors:
    """Return the size factors C_F of a sawn section.

    Source: NDS 2018 4.3.6; Supplement Table 4A (dimension lumber), Table 4B (Southern
    Pine, whose values are size-specific), 4.3.6.3 (timbers deeper than 12 in).

    Args:
        kind: family of factors; SCL has its volume factor instead and gets 1.0.
        grade: the table's own name.
        breadth: m, one ply, dressed.
        depth: m, dressed.

    Returns:
        The three factors. Stud grade 8 in and wider is read as No.3 by the tables.
    """
    width = nominal_width(depth)
    if kind is Kind.SCL:
        return SizeFactors(
            bending=1.0, tension=1.0, compression=1.0, clause="NDS 2018 8.3.6"
        )
    if kind is Kind.TIMBER:
        bending = min(1.0, (12 * INCH / depth) ** (1 / 9))
        return SizeFactors(
            bending=bending, tension=1.0, compression=1.0, clause="NDS 2018 4.3.6.3"
        )
    if kind is Kind.SOUTHERN_PINE:
        return _southern_pine_factors(width, breadth)
    clause = "NDS 2018 Supplement Table 4A"
    if grade in ("Construction", "Standard", "Utility"):
        slight = grade == "Utility" and breadth < 3 * INCH
        fb, fc = (0.4, 0.6) if slight else (1.0, 1.0)
        return SizeFactors(bending=fb, tension=fb, compression=fc, clause=clause)
    if grade == "Stud" and width <= 6:
        fb, fc = (1.1, 1.05) if width <= 4 else (1.0, 1.0)
        return SizeFactors(bending=fb, tension=fb, compression=fc, clause=clause)
    thin, thick, tension, compression = _SIZE_FACTORS[min(max(width, 4), 14)]
    bending = thick if breadth > 3 * INCH else thin
    return SizeFactors(
        bending=bending, tension=tension, compression=compression, clause=clause
    )


def flat_use_factor(kind: Kind, grade: str, breadth: float, depth: float) -> float:
    """Return the flat use factor C_fu for bending about the weak axis.

    Source: NDS 2018 4.3.7; Supplement Tables 4A and 4B, and 4D for beams and
    stringers (from memory). SCL: 1.0, the maker's guide decides.

    Args:
        kind: family of factors.
        grade: the table's own name.
        breadth: m, one ply, dressed.
        depth: m, dressed.

    Returns:
        C_fu, dimensionless.
    """
    if kind is Kind.SCL:
        return 1.0
    if kind is Kind.TIMBER:
        is_beam = depth - breadth > 2 * INCH + 1e-6
        return _TIMBER_FLAT_USE.get(grade, 1.0) if is_beam else 1.0
    row = _FLAT_USE[min(max(nominal_width(depth), 3), 10)]
    return row[1] if breadth > 3 * INCH else row[0]


def volume_factor(depth: Real, depth_exponent: Real) -> Floats:
    """Return the volume factor C_V of structural composite lumber.

    Source: NDS 2018 8.3.6, which leaves it to the maker; the usual form
    (12 in / depth) to a power of about 0.11 to 0.14. May exceed 1.

    Args:
        depth: m, above 0.
        depth_exponent: the maker's exponent; 0 gives 1.

    Returns:
        C_V, broadcast shape, dimensionless.
    """
    return (12 * INCH / floats(depth)) ** floats(depth_exponent)


def repetitive_member_factor(kind: Kind, is_repetitive: bool) -> float:
    """Return the repetitive member factor C_r on Fb.

    Source: NDS 2018 4.3.9 (sawn, 2 to 4 in thick: 1.15); 8.3.7 (SCL: 1.04, from
    memory); timbers have none.

    Args:
        kind: family of factors.
        is_repetitive: three or more members at most 24 in apart, joined by a floor,
            roof or ceiling that shares load (see ``may_be_repetitive``).

    Returns:
        C_r, dimensionless.
    """
    if not is_repetitive or kind is Kind.TIMBER:
        return 1.0
    return _REPETITIVE_SCL if kind is Kind.SCL else _REPETITIVE_SAWN


def may_be_repetitive(spacing: float, count: int) -> bool:
    """Return True where spacing and number allow the repetitive member factor.

    Source: NDS 2018 4.3.9.

    Args:
        spacing: m, on centre.
        count: members side by side.

    Returns:
        True for three or more at most 24 in apart.
    """
    return count >= 3 and spacing <= _REPETITIVE_SPACING + 1e-6


def wet_service_factors(Fb_CF: Real, Fc_CF: Real) -> WetServiceFactors:
    """Return the wet service factors C_M of dimension lumber over 19 % moisture.

    Source: NDS 2018 4.3.3, Supplement Tables 4A and 4B.

    Args:
        Fb_CF: Pa, Fb times its size factor; 1150 psi and less takes no reduction.
        Fc_CF: Pa, Fc times its size factor; 750 psi and less takes no reduction.

    Returns:
        C_M for each property.
    """
    Fb, Fc = floats(Fb_CF), floats(Fc_CF)
    one = np.ones(np.broadcast_shapes(Fb.shape, Fc.shape))
    slack = 1 + 1e-9
    return WetServiceFactors(
        Fb=np.where(Fb <= 1150 * PSI * slack, 1.0, 0.85),
        Ft=1.0 * one,
        Fv=0.97 * one,
        Fc_perp=0.67 * one,
        Fc=np.where(Fc <= 750 * PSI * slack, 1.0, 0.8),
        E=0.9 * one,
    )


def buckling_stiffness_factor(le: Real, E: Real) -> Floats:
    """Return the buckling stiffness factor C_T on Emin.

    For compression chords of 2x4 or smaller, dry, visually graded, sheathed with at
    least 3/8 in panels nailed to the narrow face.

    Source: NDS 2018 4.4.2, Eq. 4.4-1, with K_M 2300 and K_T 0.59.

    Args:
        le: m, effective length of the chord, at most 96 in.
        E: Pa.

    Returns:
        C_T, at least 1, dimensionless.

    Raises:
        ScopeError: le is over 96 in.
    """
    inches = floats(le) / INCH
    if np.any(inches > 96 + 1e-6):
        raise ScopeError("NDS 2018 4.4.2", "le", np.max(inches), "at most 96 in")
    return 1 + 2300 * inches / (0.59 * floats(E) / PSI)


def _southern_pine_factors(width: int, breadth: float) -> SizeFactors:
    """Return the factors that Table 4B leaves to be applied."""
    wide = 0.9 if width > 12 else 1.0
    thick = 1.1 if breadth > 3 * INCH and width >= 8 else 1.0
    return SizeFactors(
        bending=wide * thick,
        tension=wide,
        compression=wide,
        clause="NDS 2018 Supplement Table 4B",
    )
