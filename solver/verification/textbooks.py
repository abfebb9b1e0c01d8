"""Aghayere and Vigil; Missouri S&T CE 5260; solved questions."""

from __future__ import annotations

import numpy as np

from ..basis.materials import Kind, reference_values
from ..basis.nds import adjustment, bending, compression
from ..basis.protocol import Check
from ..basis.sections import section
from ..units import FOOT, INCH, PLF, POUND, PSF, PSI
from .model import QUOTED, Record
from .support import check_one, forces

FIRST = "Aghayere and Vigil, Structural Wood Design (2007)"

SECOND = "Aghayere and Vigil, Structural Wood Design, 2nd edition (2017)"

COURSE = "Missouri S&T, CE 5260, problem 6.27"

QUESTIONS = "Wood design questions of a structural examination course, 2022"


def built_up_column(out: Record) -> None:
    """Example 5.7: three 2x6 DF-L No.1 nailed together, 12 ft, across the plies."""
    result = check_one(
        "2x6",
        "DF-L",
        "No.1",
        [1.0],
        forces(N=-1000 * POUND),
        plies=3,
        le_weak=12 * FOOT,
        built_up=compression.NAILED,
        axial_is_primary=True,
    )
    ours = float(result.strengths.factors["C_P"][0, 0])
    for what, printed, mine in (
        ("0.6 C_P", 0.16793, ours),
        ("C_P", 0.27988, ours / compression.NAILED),
    ):
        out.check(
            "CV-508",
            f"{FIRST}, example 5.7",
            QUOTED,
            what,
            printed,
            mine,
            rel=0.002,
        )


def post(out: Record) -> None:
    """Example 5.6: 6x6 DF-L No.1, 12 ft, D 6800 and S 10 200 lb."""
    result = check_one(
        "6x6",
        "DF-L",
        "No.1",
        [1.15],
        forces(N=-17000 * POUND),
        le_strong=12 * FOOT,
        le_weak=12 * FOOT,
        axial_is_primary=True,
    )
    s = result.strengths
    for what, printed, ours, rel, unit in (
        ("F_cE", 695, s.euler_strong[0, 0] / PSI, 0.002, "psi"),
        ("C_P", 0.502, s.factors["C_P"][0, 0], 0.002, ""),
        ("capacity", 17463, s.compression[0, 0] * 30.25 * INCH**2 / POUND, 0.003, "lb"),
    ):
        out.check(
            "CV-509",
            f"{SECOND}, example 5.6",
            QUOTED,
            what,
            printed,
            float(ours),
            rel=rel,
            unit=unit,
        )


def stud_wall(out: Record) -> None:
    """Example 5.9: 2x6 DF-L No.2 studs, 10 ft, D 1440, L 640, S 1440 lb."""
    axial = 1440 + 0.75 * (640 + 1440)
    result = check_one(
        "2x6", "DF-L", "No.2", [1.15], forces(N=-axial * POUND), le_strong=10 * FOOT
    )
    rows = result.checks[Check.COMPRESSION]
    for what, printed, ours, rel, unit in (
        ("D + 0.75 (L + S)", 3000, axial, 1e-06, "lb"),
        ("C_P", 0.492, result.strengths.factors["C_P"][0, 0], 0.004, ""),
        ("Fc'", 840, rows.capacity[0] / PSI, 0.004, "psi"),
        ("utilisation", 0.433, rows.utilisation[0], 0.004, ""),
    ):
        out.check(
            "CV-510",
            f"{SECOND}, example 5.9",
            QUOTED,
            what,
            printed,
            float(ours),
            rel=rel,
            unit=unit,
        )


def rafter_problem(out: Record) -> None:
    """DF-L No.1 rafters at 24 in, 4:12, 14 ft on plan, D 15 on slope, S 50 on plan."""
    stretch = np.hypot(1, 4 / 12)
    w = (15 * PSF * stretch + 50 * PSF) * 24 * INCH
    acting = forces(M=w * (14 * FOOT) ** 2 / 8)
    twelve = check_one("2x12", "DF-L", "No.1", [1.15], acting, is_repetitive=True)
    fourteen = check_one("2x14", "DF-L", "No.1", [1.15], acting, is_repetitive=True)
    needed = w * (14 * FOOT) ** 2 / 8 / (900 * PSI) / INCH**3
    for what, printed, ours, unit in (
        ("slope length", 14.76, 14 * stretch, "ft"),
        ("dead load on plan", 15.81, 15 * stretch, "psf"),
        ("line load", 10.97, w / (12 * PLF), "lb/in"),
        ("section modulus needed at 900 psi", 43.0, needed, "in3"),
        ("S of 2x14", 43.89, section("2x14").section_modulus / INCH**3, "in3"),
        ("Fb' 2x12", 1323, twelve.strengths.bending_sag[0, 0] / PSI, "psi"),
        ("Fb' 2x14", 1190, fourteen.strengths.bending_sag[0, 0] / PSI, "psi"),
        ("Fv'", 207, twelve.strengths.shear[0, 0] / PSI, "psi"),
    ):
        out.check(
            "CV-511", COURSE, "seen", what, printed, float(ours), rel=0.001, unit=unit
        )


def examination_questions(out: Record) -> None:
    """Answers of the option that fits, 2022."""
    timber = section("6x14")
    size = adjustment.size_factors(
        Kind.TIMBER, "Select Structural", timber.breadth, timber.depth
    )
    F_b = reference_values("DF-L", "SS", timber).Fb / PSI
    le = bending.effective_length(
        48 * INCH, 9.25 * INCH, bending.SpanLoad.THIRD_POINTS_BRACED
    )
    R_B = bending.beam_slenderness_ratio(le, 9.25 * INCH, 3.5 * INCH)
    wet_E = 620000.0 * float(adjustment.wet_service_factors(10000000.0, 10000000.0).E)
    rafter = check_one(
        "2x6", "DF-L", "No.1", [1.25], forces(M=1.0), is_repetitive=True
    ).strengths.bending_sag[0, 0]
    needed = 45 * PLF * (14 * FOOT) ** 2 / 8 / rafter / INCH**3
    post = reference_values("SP", "No.1", section("4x12")).Fc
    wet = float(adjustment.wet_service_factors(10000000.0, post).Fc)
    stud = reference_values("HF", "Stud", section("2x6")).Emin
    ratio = compression.column_slenderness(120 * INCH, 5.5 * INCH)
    for record, what, printed, ours, rel, unit in (
        ("CV-512", "4x10 held at third points, R_B", 7.8, R_B, 0.004, ""),
        (
            "CV-512",
            "F_bE, wet",
            11000,
            bending.critical_bending_stress(wet_E * PSI, 7.8) / PSI,
            0.003,
            "psi",
        ),
        (
            "CV-513",
            "Fb' of a 6x14 timber, C_L 0.85",
            1544,
            F_b * 1.15 * 0.85 * size.bending,
            0.002,
            "psi",
        ),
        ("CV-514", "2x6 rafter, S needed", 7.08, needed, 0.002, "in3"),
        ("CV-515", "4x12 post, wet, Fc'", 1120, post * wet / PSI, 0.001, "psi"),
        (
            "CV-516",
            "2x6 stud, F_cE along its depth",
            761,
            compression.critical_compression_stress(stud, ratio) / PSI,
            0.003,
            "psi",
        ),
    ):
        out.check(
            record, QUESTIONS, "seen", what, printed, float(ours), rel=rel, unit=unit
        )


def glued_laminated_beam(out: Record) -> None:
    """6.75 x 30 in, 40 ft, uniform load, held at midspan."""
    le = bending.effective_length(240 * INCH, 30 * INCH, bending.SpanLoad.UNIFORM)
    R_B = bending.beam_slenderness_ratio(le, 30 * INCH, 6.75 * INCH)
    F_bE = bending.critical_bending_stress(690000.0 * PSI, R_B)
    for what, printed, ours, rel, unit in (
        ("le", 481, le / INCH, 0.001, "in"),
        ("R_B", 17.8, R_B, 0.002, ""),
        ("F_bE", 2613, F_bE / PSI, 0.002, "psi"),
    ):
        out.check(
            "CV-517",
            "Wood design examples, example 6.6",
            "seen",
            what,
            printed,
            float(ours),
            rel=rel,
            unit=unit,
        )


GROUPS = (
    built_up_column,
    post,
    stud_wall,
    rafter_problem,
    examination_questions,
    glued_laminated_beam,
)
