"""NDS 2015 and 2018: printed tables of the clauses themselves."""

import math

import pytest
from loadfall.solver.basis.load_duration import LOAD_DURATION_FACTORS
from loadfall.solver.basis.nds import bearing, creep, nail_joints, nails, shear
from loadfall.solver.units import INCH, PLF, POUND, PSI

from .support import table


@pytest.mark.parametrize(
    ("lb", "printed"),
    [(0.5, 1.75), (1, 1.38), (1.5, 1.25), (2, 1.19), (3, 1.13), (4, 1.10), (6, 1.0)],
)
def test_bearing_area_factors(verification, lb, printed):
    verification.check(
        "CV-203", "NDS 2018 Table 3.10.4", "memory", f"C_b for {lb} in", printed,
        float(bearing.bearing_area_factor(lb * INCH, 12 * INCH)), tol=0.0065,
    )  # fmt: skip


@pytest.mark.parametrize(
    "row",
    table("nds_2018_table_12n.csv"),
    ids=lambda r: f"{r['nail']} {r['species']}",
)
def test_lateral_values_of_nails(verification, row):
    """Side member 1.5 in, equal species; printed to the pound; mode IV throughout."""
    G = {"Southern Pine": 0.55, "Douglas Fir-Larch": 0.50, "Hem-Fir": 0.43}
    own = G.get(row["species"], 0.42)
    fastener = nails.Nail(
        row["nail"], float(row["diameter_in"]) * INCH, float(row["length_in"]) * INCH
    )
    found = nails.lateral_value(fastener, 1.5 * INCH, 3.5 * INCH, own, own)
    seen = (row["nail"], row["species"]) == ("16d common", "Douglas Fir-Larch")
    verification.check(
        "CV-601", "NDS 2018 Table 12N, nails in single shear",
        "seen" if seen else "memory", f"{row['nail']} {row['species']}",
        float(row["lateral_lb"]), found.Z / POUND, tol=0.5, unit="lb",
    )  # fmt: skip
    assert found.mode is nails.YieldMode.TWO_HINGES


def test_nail_through_a_thin_side_member(verification):
    """0.148 x 3 in nail, 3/4 in side member, Douglas fir-larch."""
    fastener = nails.Nail("10d common", 0.148 * INCH, 3 * INCH)
    found = nails.lateral_value(fastener, 0.75 * INCH, 3.5 * INCH, 0.5, 0.5)
    verification.check(
        "CV-602", "Nail lateral design value, worked example",
        "seen in a transcription", "Z of 0.148 x 3 in, 3/4 in side member", 105.1,
        found.Z / POUND, rel=3e-3, unit="lb",
    )  # fmt: skip
    assert found.mode is nails.YieldMode.SIDE_HINGE


def test_withdrawal_of_a_common_nail(verification):
    """AWC Structural Wood Design Examples, E2.1a: 8d common in spruce-pine-fir."""
    source = "AWC Structural Wood Design Examples 2015/2018, E2.1a"
    per_length = nails.withdrawal_per_length(0.42, 0.131 * INCH)
    verification.check(
        "CV-604", source, "seen in a transcription", "W", 20.67,
        per_length / (12 * PLF), rel=1e-3, unit="lb/in",
    )  # fmt: skip
    whole = nail_joints.adjusted_withdrawal_value(per_length, 2.395 * INCH, 1.0)
    verification.check(
        "CV-604", source, "seen in a transcription", "W times 2.395 in", 49.5,
        whole / POUND, rel=2e-3, unit="lb",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("condition", "printed"),
    [
        (creep.Condition.UNSEASONED_OR_WET, 0.50),
        (creep.Condition.SEASONED_DRY, 0.375),
    ],
)
def test_long_term_deflection(verification, condition, printed):
    """AWC's answer on creep: a quarter inch at first."""
    factor = creep.creep_factor(condition)
    verification.check(
        "CV-206", "AWC answer on creep (NDS 3.5.2)", "seen", condition.value, printed,
        float(creep.long_term_deflection(0.25, 0.0, factor)), unit="in",
    )  # fmt: skip


def test_load_duration_factors_follow_the_madison_curve(verification):
    """Forests 2021, 12(9), 1148: SL = 18.3 + 108.4 t^-0.0464 percent, t in seconds."""
    day, year = 86400.0, 365.25 * 86400.0

    def strength(t):
        return 18.3 + 108.4 * t**-0.0464

    for case, seconds, tolerance in (
        ("W", 600.0, 0.012),
        ("Lr", 7 * day, 0.015),
        ("S", 60 * day, 0.012),
        ("D", 50 * year, 0.055),
    ):
        verification.check(
            "CV-801", "Forests 2021, 12(9), 1148, the Madison curve", "seen",
            f"duration of {case} over ten years",
            strength(seconds) / strength(10 * year),
            LOAD_DURATION_FACTORS[case], tol=tolerance,
        )  # fmt: skip


def test_hankinson_by_hand(verification):
    """45 deg: 2 P Q / (P + Q) = 2 * 1552.5 * 625 / 2177.5 = 891.2 psi."""
    found = bearing.bearing_at_angle(1552.5 * PSI, 625 * PSI, math.pi / 4)
    verification.check(
        "CV-204", "NDS 2018 3.10.3, by hand", "formula", "45 degrees",
        2 * 1552.5 * 625 / (1552.5 + 625), float(found) / PSI, rel=1e-9, unit="psi",
    )  # fmt: skip


def test_notched_shear_by_hand():
    """2x6, Fv' 225 psi, 4.125 in left: 2/3*225*1.5*4.125*(0.75)^2 = 522.1 lb."""
    whole = shear.notched_shear_capacity(225 * PSI, 1.5 * INCH, 5.5 * INCH, 5.5 * INCH)
    notched = shear.notched_shear_capacity(
        225 * PSI, 1.5 * INCH, 5.5 * INCH, 4.125 * INCH
    )
    assert float(whole) / POUND == pytest.approx(1237.5, rel=1e-6)
    assert float(notched) / POUND == pytest.approx(522.1, rel=1e-3)
