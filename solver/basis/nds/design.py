"""The NDS as a design basis: clause functions put together for many members at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Real, floats
from ..asce7.concentrated import PERSON_CLAUSE
from ..load_duration import load_duration_factor
from ..pieces import Pieces, Stock, Strengths
from ..protocol import Check, Edge, Factor
from ..sections import Section
from . import bearing, bending, combined, compression, creep, shear
from .equations import EQUATIONS
from .record import factors_of, stability_of
from .stock import stock

_CLAUSES = {
    Check.BENDING: "NDS 2018 3.3",
    Check.BIAXIAL_BENDING: "NDS 2018 3.9.2, Eq. 3.9-3",
    Check.SHEAR: "NDS 2018 3.4.2",
    Check.NOTCHED_SHEAR: "NDS 2018 3.4.3.2",
    Check.TENSION: "NDS 2018 3.8.1",
    Check.COMPRESSION: "NDS 2018 3.6, 3.7",
    Check.SLENDERNESS: "NDS 2018 3.7.1.4",
    Check.BEAM_SLENDERNESS: "NDS 2018 3.3.3.7",
    Check.BENDING_TENSION: "NDS 2018 3.9.1",
    Check.BENDING_COMPRESSION: "NDS 2018 3.9.2",
    Check.BEARING: "NDS 2018 3.10",
    Check.PLATE_BENDING: "AISC 360-16 F11, to first yield",
    Check.PLATE_SHEAR: "AISC 360-16 G4",
    Check.PERSON: PERSON_CLAUSE,
    Check.DEFLECTION_LIVE: "IRC 2018 Table R301.7",
    Check.DEFLECTION_TOTAL: "NDS 2018 3.5.2; IBC 2018 Table 1604.3",
}


@dataclass(frozen=True)
class NationalDesignSpecification:
    """NDS 2018, allowable stress design, dry service."""

    name: str = "NDS 2018 (ASD), dry service"
    slenderness_limit: float = compression.SLENDERNESS_LIMIT
    beam_slenderness_limit: float = bending.SLENDERNESS_LIMIT

    def clause(self, check: Check) -> str:
        """Return the clause of a check."""
        return _CLAUSES[check]

    def duration(self, cases: Sequence[str]) -> float:
        """Return C_D of the load cases present, NDS 2018 2.3.2."""
        return load_duration_factor(cases)

    def stock(self, section: Section, species: str, grade: str) -> Stock:
        """Return reference values and size factors; TableError if unknown."""
        return stock(section, species, grade)

    def strengths(self, pieces: Pieces, duration: Floats) -> Strengths:
        """Return the adjusted design values.

        Source: NDS 2018 Table 4.3.1 (sawn), Table 8.3.1 (SCL); clauses as in the
        functions that this puts together.

        Args:
            pieces: (n,) members.
            duration: (ncomb,) C_D.

        Returns:
            Values, Pa, (ncomb, n) or (1, n).
        """
        C_D = floats(duration)[:, None]
        volume = pieces.volume
        whole = pieces.Fb * pieces.size_bending * pieces.repetitive * C_D
        sag = _stability(pieces, whole, pieces.unbraced_top, pieces.unbraced_bottom)
        hog = _stability(pieces, whole, pieces.unbraced_bottom, pieces.unbraced_top)
        column = _column(pieces, C_D)
        flat = pieces.Fb * pieces.size_bending * pieces.flat_use * C_D
        return Strengths(
            bending_sag=whole * _with_volume(sag.factor, volume),
            bending_hog=whole * _with_volume(hog.factor, volume),
            bending_star=whole * volume,
            bending_sag_no_volume=whole * sag.factor,
            bending_hog_no_volume=whole * hog.factor,
            bending_weak=flat,
            shear=pieces.Fv * C_D,
            tension=pieces.Ft * pieces.size_tension * C_D,
            compression=column.star * column.factor,
            compression_star=column.star,
            bearing=pieces.Fc_perp[None],
            euler_strong=column.euler_strong[None],
            euler_weak=column.euler_weak[None],
            lateral_sag=sag.critical[None],
            lateral_hog=hog.critical[None],
            slenderness=column.slenderness[None],
            beam_slenderness_sag=sag.slenderness[None],
            beam_slenderness_hog=hog.slenderness[None],
            factors={
                "C_D": C_D,
                "C_F (Fb)": pieces.size_bending[None],
                "C_F (Ft)": pieces.size_tension[None],
                "C_F (Fc)": pieces.size_compression[None],
                "C_fu": pieces.flat_use[None],
                "C_r": pieces.repetitive[None],
                "C_V": volume[None],
                "C_L (sagging)": sag.factor,
                "C_L C_V (sagging)": _with_volume(sag.factor, volume),
                "C_L C_V (hogging)": _with_volume(hog.factor, volume),
                "R_B (sagging)": sag.slenderness[None],
                "R_B (hogging)": hog.slenderness[None],
                "C_L (hogging)": hog.factor,
                "le (sagging)": sag.le[None],
                "le (hogging)": hog.le[None],
                "C_P": column.factor,
                "C_P (strong)": column.strong,
                "C_P (weak)": column.weak,
                "K_f": pieces.built_up[None],
                "c": pieces.column_c[None],
                "le/d (strong)": column.slenderness_strong[None],
                "le/d (weak)": column.slenderness_weak[None],
            },
        )

    def bending_tension(
        self, tension: Real, bending: Real, bending_weak: Real
    ) -> Floats:
        """Return NDS 2018 Eq. 3.9-1; adding the weak axis is the cautious side."""
        return floats(tension) + bending + bending_weak

    def bending_compression(
        self,
        compression: Real,
        bending: Real,
        bending_weak: Real,
        euler_strong: Real,
        euler_weak: Real,
        lateral: Real,
    ) -> Floats:
        """Return NDS 2018 Eq. 3.9-3, or 3.9-4 where weak axis bending raises it."""
        ratio = combined.bending_compression_ratio(
            compression, bending, bending_weak, euler_strong, euler_weak, lateral
        )
        if not np.any(bending_weak):
            return ratio
        second = combined.flatwise_stability_ratio(euler_weak, lateral)
        return np.where(floats(bending_weak) > 0, np.maximum(ratio, second), ratio)

    def notched_shear(self, shear_value: Real, b: Real, d: Real, d_n: Real) -> Floats:
        """Return NDS 2018 Eq. 3.4-3, N."""
        return shear.notched_shear_capacity(shear_value, b, d, d_n)

    def bearing(
        self,
        along: Real,
        across: Real,
        angle: Real,
        length: Real,
        end_distance: Real,
    ) -> Floats:
        """Return the bearing design value, NDS 2018 3.10.3 with C_b of 3.10.4, Pa."""
        C_b = bearing.bearing_area_factor(length, end_distance)
        return bearing.bearing_at_angle(along, across * C_b, angle)

    def product(self, check: Check, edge: Edge) -> tuple[Factor, ...]:
        """Return the terms of a design value, NDS 2018 Tables 4.3.1 and 8.3.1."""
        return factors_of(check, edge)

    def equation(self, check: Check) -> str:
        """Return how the lines of a check come together, NDS 2018 symbols."""
        return EQUATIONS[check]

    def stability(self, check: Check, edge: Edge) -> tuple[Factor, ...]:
        """Return what C_P or C_L is made of, NDS 2018 3.7.1 and 3.3.3."""
        return stability_of(check, edge)

    @property
    def counts_lasting_sag(self) -> bool:
        """False: the limit is on creep and the rest, IBC 2018 Table 1604.3 note d."""
        return False

    def creep(self) -> float:
        """Return K_cr of seasoned lumber in dry use, NDS 2018 3.5.2."""
        return creep.creep_factor(creep.Condition.SEASONED_DRY)


@dataclass(frozen=True, eq=False)
class _Edge:
    """Stability of one compression edge."""

    factor: Floats  # (ncomb, n)
    critical: Floats  # (n,)
    slenderness: Floats  # (n,)
    le: Floats  # (n,)


@dataclass(frozen=True, eq=False)
class _Column:
    """Column stability."""

    star: Floats
    factor: Floats
    strong: Floats
    weak: Floats
    euler_strong: Floats
    euler_weak: Floats
    slenderness: Floats
    slenderness_strong: Floats
    slenderness_weak: Floats


def _stability(
    pieces: Pieces, Fb_star: Floats, unbraced: Floats, other_edge: Floats
) -> _Edge:
    """Return the stability of the edge with these unbraced lengths."""
    unknown = np.isinf(unbraced)
    by_rule = pieces.by_proportions & bending.held_by_proportions(
        pieces.nominal_ratio, edge_held=unbraced == 0, other_edge_held=other_edge == 0
    )
    squat = pieces.depth <= pieces.total_breadth * (1 + 1e-9)  # 3.3.3.1
    held = (unbraced == 0) | squat | (unknown & by_rule)
    lu = np.where(held, 0.0, np.where(unknown, pieces.length, unbraced))
    le = bending.effective_length(lu, pieces.depth)
    R_B = bending.beam_slenderness_ratio(le, pieces.depth, pieces.total_breadth)
    F_bE = bending.critical_bending_stress(pieces.Emin, R_B)
    C_L = np.where(held, 1.0, bending.beam_stability_factor(F_bE, Fb_star))
    return _Edge(C_L, F_bE, R_B, le)


def _with_volume(C_L: Floats, C_V: Floats) -> Floats:
    """Return the factor of stability and volume together, NDS 2018 8.3.6."""
    return np.where(C_V > 1, C_L * C_V, np.minimum(C_L, C_V))


def _column(pieces: Pieces, C_D: Floats) -> _Column:
    """Return column stability about both axes."""
    star = pieces.Fc * pieces.size_compression * C_D
    c, Emin = pieces.column_c, pieces.Emin
    strong = compression.column_slenderness(pieces.le_strong, pieces.depth)
    weak = compression.column_slenderness(pieces.le_weak, pieces.total_breadth)
    alone = compression.column_slenderness(pieces.le_weak, pieces.breadth)
    euler = [
        compression.critical_compression_stress(Emin, ratio)
        for ratio in (strong, weak, alone)
    ]
    C_P = [compression.column_stability_factor(F_cE, star, c) for F_cE in euler]
    across = compression.built_up_stability_factor(C_P[1], C_P[2], pieces.built_up)
    C_P[0] = np.where(pieces.le_strong > 0, C_P[0], 1.0)
    across = np.where(pieces.le_weak > 0, across, 1.0)
    return _Column(
        star=star,
        factor=np.minimum(C_P[0], across),
        strong=C_P[0],
        weak=across,
        euler_strong=euler[0],
        euler_weak=euler[1],
        slenderness=np.maximum(strong, weak),
        slenderness_strong=strong,
        slenderness_weak=weak,
    )


NDS = NationalDesignSpecification()
