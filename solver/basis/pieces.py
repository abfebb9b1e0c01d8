"""What a design basis is given of members, and what it gives back: plain arrays.

One row per member; SI units. Knows no clause and no frame.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from .arrays import Bools, Floats
from .materials import ReferenceValues


@dataclass(frozen=True, eq=False, kw_only=True)
class Pieces:
    """Members as a design basis sees them, all arrays (n,).

    Attributes:
        breadth: m, one ply.
        depth: m.
        plies: number of plies.
        Fb, Ft, Fv, Fc_perp, Fc: Pa, reference (or characteristic) strengths.
        E: Pa, modulus for deflection.
        Emin: Pa, modulus for stability.
        size_bending, size_tension, size_compression: size factors.
        flat_use: factor on bending about the weak axis.
        repetitive: factor of load-sharing members on bending.
        volume: volume factor on bending, 1 for sawn lumber.
        column_c: constant of the column formula.
        by_proportions: True where depth to breadth rules may stand for bracing.
        nominal_ratio: nominal depth over nominal total breadth.
        unbraced_top: m between supports of the top edge; 0 held throughout, inf not
            known: depth to breadth rules, else the whole length.
        unbraced_bottom: m, likewise for the bottom edge.
        length: m, whole length.
        le_strong: m, column length that buckles along the depth; 0 held.
        le_weak: m, column length that buckles across it; 0 held.
        built_up: factor on the stability of several plies across them, 1 for one ply.
    """

    breadth: Floats
    depth: Floats
    plies: Floats
    Fb: Floats
    Ft: Floats
    Fv: Floats
    Fc_perp: Floats
    Fc: Floats
    E: Floats
    Emin: Floats
    size_bending: Floats
    size_tension: Floats
    size_compression: Floats
    flat_use: Floats
    repetitive: Floats
    volume: Floats
    column_c: Floats
    by_proportions: Bools
    nominal_ratio: Floats
    unbraced_top: Floats
    unbraced_bottom: Floats
    length: Floats
    le_strong: Floats
    le_weak: Floats
    built_up: Floats

    @property
    def total_breadth(self) -> Floats:
        """(n,) m."""
        return self.breadth * self.plies

    @property
    def area(self) -> Floats:
        """(n,) m2."""
        return self.total_breadth * self.depth

    @property
    def section_modulus(self) -> Floats:
        """(n,) m3, on edge."""
        return self.area * self.depth / 6

    @property
    def section_modulus_weak(self) -> Floats:
        """(n,) m3, flatwise, plies sliding on each other."""
        return self.area * self.breadth / 6


@dataclass(frozen=True, kw_only=True)
class Stock:
    """What a section, a species and a grade decide; fields as in `Pieces`.

    Attributes:
        values: the row of the tables.
        repetitive: the factor that a load-sharing member of it gets.
    """

    values: ReferenceValues
    breadth: float
    depth: float
    plies: float
    Fb: float
    Ft: float
    Fv: float
    Fc_perp: float
    Fc: float
    E: float
    Emin: float
    size_bending: float
    size_tension: float
    size_compression: float
    flat_use: float
    volume: float
    column_c: float
    nominal_ratio: float
    by_proportions: bool
    repetitive: float


@dataclass(frozen=True, eq=False, kw_only=True)
class Strengths:
    """Adjusted design values, Pa; (ncomb, n) or (1, n) where no duration enters.

    Attributes:
        bending_sag: strong axis, top edge in compression.
        bending_hog: strong axis, bottom edge in compression.
        bending_star: without the stability factor.
        bending_sag_no_volume, bending_hog_no_volume: without the volume factor.
        bending_weak: weak axis.
        shear, tension: parallel to grain.
        compression: parallel to grain, with column stability.
        compression_star: without it.
        bearing: perpendicular to grain, without its bearing area factor.
        euler_strong, euler_weak: critical column stress about each axis.
        lateral_sag, lateral_hog: critical bending stress for each edge.
        slenderness: le/d, the larger of both axes.
        beam_slenderness_sag, beam_slenderness_hog: ratio of the beam formula.
        factors: every factor by its symbol, for the record of a check.
    """

    bending_sag: Floats
    bending_hog: Floats
    bending_star: Floats
    bending_sag_no_volume: Floats
    bending_hog_no_volume: Floats
    bending_weak: Floats
    shear: Floats
    tension: Floats
    compression: Floats
    compression_star: Floats
    bearing: Floats
    euler_strong: Floats
    euler_weak: Floats
    lateral_sag: Floats
    lateral_hog: Floats
    slenderness: Floats
    beam_slenderness_sag: Floats
    beam_slenderness_hog: Floats
    factors: Mapping[str, Floats]
