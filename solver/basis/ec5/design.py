"""Eurocode 5 as a design basis, of the same shape as the NDS one."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ...errors import TableError
from ..arrays import Floats, Real, floats
from ..pieces import Pieces, Stock, Strengths
from ..protocol import Check, Edge, Factor
from ..sections import Section
from . import factors, joints, stability
from .equations import EQUATIONS
from .materials import characteristic_values
from .record import factors_of, stability_of

_CLAUSES = {
    Check.BENDING: "EN 1995-1-1 6.1.6, 6.3.3",
    Check.BIAXIAL_BENDING: "EN 1995-1-1 6.1.6",
    Check.SHEAR: "EN 1995-1-1 6.1.7",
    Check.NOTCHED_SHEAR: "EN 1995-1-1 6.5.2",
    Check.TENSION: "EN 1995-1-1 6.1.2",
    Check.COMPRESSION: "EN 1995-1-1 6.1.4, 6.3.2",
    Check.SLENDERNESS: "EN 1995-1-1 has no limit",
    Check.BEAM_SLENDERNESS: "EN 1995-1-1 has no limit",
    Check.BENDING_TENSION: "EN 1995-1-1 6.2.3",
    Check.BENDING_COMPRESSION: "EN 1995-1-1 6.3.2, Eq. 6.23 and 6.24",
    Check.BEARING: "EN 1995-1-1 6.1.5, 6.2.2",
    Check.PLATE_BENDING: "not covered: no steel plates by EN 1995-1-1",
    Check.PLATE_SHEAR: "not covered: no steel plates by EN 1995-1-1",
    Check.PERSON: "EN 1991-1-1 6.3.4.2, Q_k on roofs (from memory)",
    Check.DEFLECTION_LIVE: "EN 1995-1-1 7.2",
    Check.DEFLECTION_TOTAL: "EN 1995-1-1 2.2.3, 7.2",
}


@dataclass(frozen=True)
class Eurocode5:
    """EN 1995-1-1:2004 for solid timber.

    Attributes:
        service: service class.
        notch_corner: m, from the line of a reaction to the corner of a notch.
        name: name and edition.
        slenderness_limit, beam_slenderness_limit: none.
    """

    service: factors.ServiceClass = factors.ServiceClass.SHELTERED
    notch_corner: float = 0.05
    name: str = "EN 1995-1-1:2004, solid timber, recommended values"
    slenderness_limit: float = math.inf
    beam_slenderness_limit: float = math.inf

    def clause(self, check: Check) -> str:
        """Return the clause of a check."""
        return _CLAUSES[check]

    def duration(self, cases: Sequence[str]) -> float:
        """Return k_mod of the shortest action, EN 1995-1-1 Table 3.1."""
        return factors.modification_factor(
            factors.shortest_duration(cases), self.service
        )

    def stock(self, section: Section, species: str, grade: str) -> Stock:
        """Return what section and strength class decide; the species is not used.

        Source: EN 338:2003; k_h of EN 1995-1-1 Eq. 3.1.

        Raises:
            TableError: no such strength class.
        """
        del species
        if section.plate is not None:
            raise TableError("size", section.name, "no steel plate by this basis")
        v = characteristic_values(grade)
        return Stock(
            values=v,
            Fb=v.Fb,
            Ft=v.Ft,
            Fv=v.Fv,
            Fc_perp=v.Fc_perp,
            Fc=v.Fc,
            E=v.E,
            Emin=v.Emin,
            breadth=section.breadth,
            depth=section.depth,
            plies=float(section.plies),
            size_bending=factors.size_factor(section.depth),
            size_tension=factors.size_factor(section.depth),
            size_compression=1.0,
            flat_use=factors.size_factor(section.breadth)
            / factors.size_factor(section.depth),
            volume=1.0,
            column_c=factors.STRAIGHTNESS,
            nominal_ratio=section.depth / section.total_breadth,
            by_proportions=False,
            repetitive=factors.SYSTEM_STRENGTH,
        )

    def strengths(self, pieces: Pieces, duration: Floats) -> Strengths:
        """Return the design values.

        Source: EN 1995-1-1:2004 Eq. 2.14, 6.3.2, 6.3.3.

        Args:
            pieces: (n,) members; characteristic values.
            duration: (ncomb,) k_mod.

        Returns:
            Values, Pa, (ncomb, n) or (1, n).
        """
        k_mod = floats(duration)[:, None]
        p = pieces
        whole = factors.design_value(p.Fb * p.size_bending * p.repetitive, k_mod)
        sag = _edge(p, p.unbraced_top)
        hog = _edge(p, p.unbraced_bottom)
        strong = _column(p, p.le_strong, p.depth)
        together = _column(p, p.le_weak, p.total_breadth)
        alone = _column(p, p.le_weak, p.breadth)
        weak = np.maximum(p.built_up * together.factor, alone.factor)
        k_c = np.minimum(strong.factor, weak)
        crushing = factors.design_value(p.Fc * p.size_compression, k_mod)
        return Strengths(
            bending_sag=whole * sag.factor,
            bending_hog=whole * hog.factor,
            bending_star=whole,
            bending_sag_no_volume=whole * sag.factor,
            bending_hog_no_volume=whole * hog.factor,
            bending_weak=factors.design_value(
                p.Fb * p.size_bending * p.flat_use, k_mod
            ),
            shear=factors.design_value(p.Fv, k_mod),
            tension=factors.design_value(p.Ft * p.size_tension, k_mod),
            compression=crushing * k_c,
            compression_star=crushing,
            bearing=factors.design_value(p.Fc_perp, k_mod),
            euler_strong=strong.critical[None],
            euler_weak=together.critical[None],
            lateral_sag=sag.critical[None],
            lateral_hog=hog.critical[None],
            slenderness=np.maximum(strong.slenderness, together.slenderness)[None],
            beam_slenderness_sag=sag.slenderness[None],
            beam_slenderness_hog=hog.slenderness[None],
            factors={
                "k_mod": k_mod,
                "1/gamma_M": np.full((1, 1), 1 / factors.PARTIAL_FACTOR),
                "k_h (fm)": p.size_bending[None],
                "k_h (ft)": p.size_tension[None],
                "k_sys": p.repetitive[None],
                "k_crit (sagging)": sag.factor[None],
                "k_crit (hogging)": hog.factor[None],
                "k_c": k_c[None],
                "k_c (strong)": strong.factor[None],
                "k_c (weak)": weak[None],
                "lambda (strong)": strong.slenderness[None],
                "lambda (weak)": together.slenderness[None],
                "lambda_rel,m (sagging)": sag.slenderness[None],
                "lambda_rel,m (hogging)": hog.slenderness[None],
            },
        )

    def bending_tension(
        self, tension: Real, bending: Real, bending_weak: Real
    ) -> Floats:
        """Return EN 1995-1-1 Eq. 6.17 and 6.18, the larger."""
        return floats(tension) + _two_axes(bending, bending_weak)

    def bending_compression(
        self,
        compression: Real,
        bending: Real,
        bending_weak: Real,
        euler_strong: Real,
        euler_weak: Real,
        lateral: Real,
    ) -> Floats:
        """Return EN 1995-1-1 Eq. 6.23 and 6.24, the larger, with the smaller k_c.

        Lateral buckling stays in the bending ratio, on the cautious side of 6.35; the
        critical stresses are inside k_c and k_crit.
        """
        del euler_strong, euler_weak, lateral
        return floats(compression) + _two_axes(bending, bending_weak)

    def notched_shear(self, shear_value: Real, b: Real, d: Real, d_n: Real) -> Floats:
        """Return the shear force of a notched end, EN 1995-1-1 Eq. 6.60, N."""
        k_v = joints.notch_factor(d, d_n, self.notch_corner)
        return floats(shear_value) * k_v * b * d_n / 1.5

    def bearing(
        self,
        along: Real,
        across: Real,
        angle: Real,
        length: Real,
        end_distance: Real,
    ) -> Floats:
        """Return the bearing strength at an angle with k_c,90 of 1, Pa."""
        del length, end_distance
        return joints.bearing_at_angle(along, across, angle, 1.0)

    def product(self, check: Check, edge: Edge) -> tuple[Factor, ...]:
        """Return the terms of a design value, EN 1995-1-1 Eq. 2.14."""
        return factors_of(check, edge)

    def equation(self, check: Check) -> str:
        """Return how the lines of a check come together, after EN 1995-1-1:2004."""
        return EQUATIONS[check]

    def stability(self, check: Check, edge: Edge) -> tuple[Factor, ...]:
        """Return what the stability factor of a check is made of."""
        return stability_of(check, edge)

    @property
    def counts_lasting_sag(self) -> bool:
        """True: the limit is on the final deflection, EN 1995-1-1 7.2."""
        return True

    def creep(self) -> float:
        """Return 1 + k_def, EN 1995-1-1 2.2.3 and Table 3.2."""
        return 1 + factors.deformation_factor(self.service)


@dataclass(frozen=True, eq=False)
class _Buckling:
    """Stability of an edge or about an axis, (n,)."""

    factor: Floats
    critical: Floats
    slenderness: Floats


def _edge(pieces: Pieces, unbraced: Floats) -> _Buckling:
    """Return lateral buckling of the edge with these unbraced lengths."""
    held = unbraced == 0
    length = np.where(held, 0.0, np.where(np.isinf(unbraced), pieces.length, unbraced))
    le = stability.beam_effective_length(length, pieces.depth)
    critical = stability.critical_bending_stress(
        pieces.total_breadth, pieces.depth, pieces.Emin, le
    )
    k_crit = stability.lateral_buckling_factor(pieces.Fb, critical)
    relative = np.where(held, 0.0, np.sqrt(pieces.Fb / critical))
    return _Buckling(np.where(held, 1.0, k_crit), critical, relative)


def _column(pieces: Pieces, length: Floats, depth: Floats) -> _Buckling:
    """Return buckling of columns of these lengths in the plane of this depth."""
    relative = stability.relative_slenderness(length, depth, pieces.Fc, pieces.Emin)
    critical = pieces.Fc / np.maximum(relative, 1e-3) ** 2
    slenderness = length * np.sqrt(12) / depth
    return _Buckling(stability.buckling_factor(relative), critical, slenderness)


def _two_axes(bending: Real, bending_weak: Real) -> Floats:
    """Return the larger sum of two bending ratios, one of them times k_m."""
    strong, weak, k_m = floats(bending), floats(bending_weak), factors.REDISTRIBUTION
    return np.maximum(strong + k_m * weak, k_m * strong + weak)


EC5 = Eurocode5()
