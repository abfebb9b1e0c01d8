"""Strengths that a hand calculation needs, composed from the clauses of the basis."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..basis.materials import ReferenceValues, reference_values
from ..basis.nds.adjustment import (
    repetitive_member_factor,
    size_factors,
    volume_factor,
)
from ..basis.nds.compression import (
    NAILED,
    SLENDERNESS_LIMIT,
    built_up_stability_factor,
    column_c,
    column_slenderness,
    column_stability_factor,
    critical_compression_stress,
)
from ..basis.sections import Section

Floats = NDArray[np.float64]


def bending_strength(
    species: str, grade: str, section: Section, C_D: Floats | float, repetitive: bool
) -> Floats:
    """Return Fb' for bending on edge, both edges held.

    Source: NDS 2018 Table 4.3.1 (8.3.1 for structural composite lumber), C_L = 1.

    Args:
        species: row of the lumber tables.
        grade: row of the lumber tables.
        section: dressed section.
        C_D: load duration factors.
        repetitive: whether C_r applies.

    Returns:
        Fb', Pa, of the shape of C_D.
    """
    values = reference_values(species, grade, section)
    size = size_factors(values.kind, values.grade, section.breadth, section.depth)
    factor = size.bending * repetitive_member_factor(values.kind, repetitive)
    if values.depth_exponent:
        factor *= float(volume_factor(section.depth, values.depth_exponent))
    return values.Fb * factor * np.asarray(C_D, dtype=float)


def compression_strength(
    values: ReferenceValues,
    section: Section,
    slenderness: float,
    C_D: Floats | float,
) -> Floats:
    """Return Fc' at a slenderness ratio, by formula even past le/d of 50.

    Source: NDS 2018 Table 4.3.1 and 3.7.1.5.
    """
    size = size_factors(values.kind, values.grade, section.breadth, section.depth)
    star = values.Fc * size.compression * np.asarray(C_D, dtype=float)
    euler = critical_compression_stress(values.Emin, slenderness)
    return star * column_stability_factor(euler, star, column_c(values.kind))


def strut_slenderness(
    section: Section, length: float, held_at_mid: bool, stiffener: bool
) -> tuple[float, float]:
    """Return le/d of a strut about both axes, the governing one first.

    A stiffener makes a T of two equal pieces. Its le/d uses the depth of the rectangle
    of the same radius of gyration, ``d = sqrt(12 I / A)``, the pieces acting as one;
    common statics, no clause.

    Args:
        section: of the strut.
        length: m, between its ends.
        held_at_mid: held at mid-length the weak way.
        stiffener: a second equal piece nailed on as a T.
    """
    weak_length = length / 2 if held_at_mid else length
    b, d = section.breadth, section.depth
    if not stiffener:
        ratios = (
            float(column_slenderness(weak_length, section.total_breadth)),
            float(column_slenderness(length, d)),
        )
        return max(ratios), min(ratios)
    area = 2 * b * d
    weak = (b * d**3 + d * b**3) / 12
    arm = (b + d) / 4
    strong = weak + area * arm**2
    ratios = tuple(
        float(column_slenderness(le, np.sqrt(12 * inertia / area)))
        for le, inertia in ((weak_length, weak), (length, strong))
    )
    return max(ratios), min(ratios)


def strut_capacity(
    species: str,
    grade: str,
    section: Section,
    length: float,
    C_D: Floats | float,
    held_at_mid: bool = False,
    stiffener: bool = False,
) -> tuple[Floats, float, float]:
    """Return the axial capacity of a strut and its slenderness.

    Source: NDS 2018 3.7.1; 15.3.2 with K_f = 0.6 for nailed plies across their faces,
    and the same K_f for a nailed T, which that clause does not name (a cautious
    reading).

    Args:
        species: row of the lumber tables.
        grade: row of the lumber tables.
        section: of the strut.
        length: m.
        C_D: load duration factors.
        held_at_mid: see ``strut_slenderness``.
        stiffener: see ``strut_slenderness``.

    Returns:
        Capacity in N (of the shape of C_D), governing le/d, and the greatest length
        in m that keeps le/d within 50.
    """
    values = reference_values(species, grade, section)
    governing, _ = strut_slenderness(section, length, held_at_mid, stiffener)
    area = section.area
    strength = compression_strength(values, section, governing, C_D)
    longest = length * SLENDERNESS_LIMIT / governing
    if stiffener:
        return (
            strength * 2 * section.breadth * section.depth * NAILED,
            governing,
            longest,
        )
    if section.plies > 1:
        alone = length / (2 if held_at_mid else 1) / section.breadth
        single = compression_strength(values, section, alone, C_D)
        factor = built_up_stability_factor(strength, single, NAILED)
        strength = np.minimum(strength, factor)
    return strength * area, governing, longest
