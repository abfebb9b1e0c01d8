"""NDS 2015 and 2018: printed tables of the clauses themselves."""

from __future__ import annotations

import math

from ..basis.load_duration import LOAD_DURATION_FACTORS
from ..basis.nds import bearing, creep, nail_joints, nails
from ..units import INCH, PLF, POUND, PSI
from .model import QUOTED, Record
from .support import table


def bearing_area_factors(out: Record) -> None:
    """Bearings shorter than 6 in."""
    for lb, printed in [
        (0.5, 1.75),
        (1, 1.38),
        (1.5, 1.25),
        (2, 1.19),
        (3, 1.13),
        (4, 1.1),
        (6, 1.0),
    ]:
        out.check(
            "CV-203",
            "NDS 2018 Table 3.10.4",
            "memory",
            f"C_b for {lb} in",
            printed,
            float(bearing.bearing_area_factor(lb * INCH, 12 * INCH)),
            tol=0.0065,
        )


def lateral_values_of_nails(out: Record) -> None:
    """Side member 1.5 in, equal species; printed to the pound; mode IV throughout."""
    for row in table("nds_2018_table_12n.csv"):
        G = {"Southern Pine": 0.55, "Douglas Fir-Larch": 0.5, "Hem-Fir": 0.43}
        own = G.get(row["species"], 0.42)
        fastener = nails.Nail(
            row["nail"],
            float(row["diameter_in"]) * INCH,
            float(row["length_in"]) * INCH,
        )
        found = nails.lateral_value(fastener, 1.5 * INCH, 3.5 * INCH, own, own)
        seen = (row["nail"], row["species"]) == ("16d common", "Douglas Fir-Larch")
        out.check(
            "CV-601",
            "NDS 2018 Table 12N, nails in single shear",
            "seen" if seen else "memory",
            f"{row['nail']} {row['species']}",
            float(row["lateral_lb"]),
            found.Z / POUND,
            tol=0.5,
            unit="lb",
        )


def nail_through_a_thin_side_member(out: Record) -> None:
    """0.148 x 3 in nail, 3/4 in side member, Douglas fir-larch."""
    fastener = nails.Nail("10d common", 0.148 * INCH, 3 * INCH)
    found = nails.lateral_value(fastener, 0.75 * INCH, 3.5 * INCH, 0.5, 0.5)
    out.check(
        "CV-602",
        "Nail lateral design value, worked example",
        QUOTED,
        "Z of 0.148 x 3 in, 3/4 in side member",
        105.1,
        found.Z / POUND,
        rel=0.003,
        unit="lb",
    )


def withdrawal_of_a_common_nail(out: Record) -> None:
    """AWC Structural Wood Design Examples, E2.1a: 8d common in spruce-pine-fir."""
    source = "AWC Structural Wood Design Examples 2015/2018, E2.1a"
    per_length = nails.withdrawal_per_length(0.42, 0.131 * INCH)
    out.check(
        "CV-604",
        source,
        QUOTED,
        "W",
        20.67,
        per_length / (12 * PLF),
        rel=0.001,
        unit="lb/in",
    )
    whole = nail_joints.adjusted_withdrawal_value(per_length, 2.395 * INCH, 1.0)
    out.check(
        "CV-604",
        source,
        QUOTED,
        "W times 2.395 in",
        49.5,
        whole / POUND,
        rel=0.002,
        unit="lb",
    )


def long_term_deflection(out: Record) -> None:
    """AWC's answer on creep: a quarter inch at first."""
    for condition, printed in [
        (creep.Condition.UNSEASONED_OR_WET, 0.5),
        (creep.Condition.SEASONED_DRY, 0.375),
    ]:
        factor = creep.creep_factor(condition)
        out.check(
            "CV-206",
            "AWC answer on creep (NDS 3.5.2)",
            "seen",
            condition.value,
            printed,
            float(creep.long_term_deflection(0.25, 0.0, factor)),
            unit="in",
        )


def load_duration_factors_follow_the_madison_curve(out: Record) -> None:
    """Forests 2021, 12(9), 1148: SL = 18.3 + 108.4 t^-0.0464 percent, t in seconds."""
    day, year = (86400.0, 365.25 * 86400.0)

    def strength(t: float) -> float:
        return 18.3 + 108.4 * t ** (-0.0464)

    for case, seconds, tolerance in (
        ("W", 600.0, 0.012),
        ("Lr", 7 * day, 0.015),
        ("S", 60 * day, 0.012),
        ("D", 50 * year, 0.055),
    ):
        out.check(
            "CV-801",
            "Forests 2021, 12(9), 1148, the Madison curve",
            "seen",
            f"duration of {case} over ten years",
            strength(seconds) / strength(10 * year),
            LOAD_DURATION_FACTORS[case],
            tol=tolerance,
        )


def hankinson_by_hand(out: Record) -> None:
    """45 deg: 2 P Q / (P + Q) = 2 * 1552.5 * 625 / 2177.5 = 891.2 psi."""
    found = bearing.bearing_at_angle(1552.5 * PSI, 625 * PSI, math.pi / 4)
    out.check(
        "CV-204",
        "NDS 2018 3.10.3, by hand",
        "formula",
        "45 degrees",
        2 * 1552.5 * 625 / (1552.5 + 625),
        float(found) / PSI,
        rel=1e-09,
        unit="psi",
    )


GROUPS = (
    bearing_area_factors,
    lateral_values_of_nails,
    nail_through_a_thin_side_member,
    withdrawal_of_a_common_nail,
    long_term_deflection,
    load_duration_factors_follow_the_madison_curve,
    hankinson_by_hand,
)
