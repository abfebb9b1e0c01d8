"""AWC Structural Wood Design Examples, 2015/2018: E1.2a, E1.6, E1.7 and E1.8.

Each example runs through the checks of the program, not through the clauses alone.
"""

from __future__ import annotations

import numpy as np

from ..basis.nds import bending
from ..basis.protocol import Check
from ..basis.sections import section
from ..checks.results import CheckResult
from ..units import FOOT, INCH, PLF, POUND, POUND_INCH, PSI
from .model import QUOTED, Record
from .support import check_one, forces

BOOK = "AWC Structural Wood Design Examples 2015/2018"


def factor(result: CheckResult, name: str, combination: int) -> float:
    """Return an adjustment factor of the one member."""
    shape = result.strengths.shear.shape
    return float(np.broadcast_to(result.strengths.factors[name], shape)[combination, 0])


def beam_held_at_its_ends_alone(out: Record) -> None:
    """E1.2a: 4x16 DF-L Select Structural, 20 ft, load at the centre."""
    piece = section("4x16")
    le = bending.effective_length(
        240 * INCH, piece.depth, bending.SpanLoad.CENTRE_UNBRACED
    )
    R_B = bending.beam_slenderness_ratio(le, piece.depth, piece.breadth)
    F_bE = bending.critical_bending_stress(690000.0 * PSI, R_B)
    C_L = bending.beam_stability_factor(F_bE, 1500 * PSI)
    for what, printed, ours, rel, unit in (
        ("A", 53.38, piece.area / INCH**2, 0.001, "in2"),
        ("S", 135.66, piece.section_modulus / INCH**3, 0.001, "in3"),
        ("le", 375, le / INCH, 0.002, "in"),
        ("R_B", 21.6, R_B, 0.002, ""),
        ("F_bE", 1776, F_bE / PSI, 0.002, "psi"),
        ("C_L", 0.876, C_L, 0.001, ""),
        ("Fb'", 1313, 1500 * C_L, 0.001, "psi"),
    ):
        out.check(
            "CV-501",
            f"{BOOK}, E1.2a",
            QUOTED,
            what,
            printed,
            float(ours),
            rel=rel,
            unit=unit,
        )


def tie_with_bending(out: Record) -> None:
    """E1.6: 2x8 Hem-Fir No.2, 12 ft, 32 plf, T 1420, 2300 and 3180 lb."""
    C_D = (0.9, 1.25, 1.6)
    moment = 32 * PLF * (12 * FOOT) ** 2 / 8
    acting = forces(N=np.array([1420, 2300, 3180]) * POUND, M=moment)
    result = check_one(
        "2x8", "HF", "No.2", C_D, acting, unbraced_top=12 * FOOT, length=12 * FOOT
    )
    le = bending.effective_length(144 * INCH, 7.25 * INCH, bending.SpanLoad.UNIFORM)
    R_B = bending.beam_slenderness_ratio(le, 7.25 * INCH, 1.5 * INCH)
    F_bE = bending.critical_bending_stress(470000.0 * PSI, R_B)
    printed = ((0.6738, 0.8033, 567), (0.5089, 0.6811, 787.5), (0.4044, 0.6124, 1008))
    for k, (C_L, unity, Ft) in enumerate(printed):
        ours = bending.beam_stability_factor(F_bE, 850 * 1.2 * C_D[k] * PSI)
        found = result.checks[Check.BENDING_TENSION].every[k, 0]
        for what, value, mine, rel, unit in (
            ("C_L", C_L, float(ours), 0.002, ""),
            ("ft/Ft' + fb/Fb*", unity, float(found), 0.003, ""),
            ("Ft'", Ft, float(result.strengths.tension[k, 0]) / PSI, 0.001, "psi"),
        ):
            out.check(
                "CV-502",
                f"{BOOK}, E1.6",
                QUOTED,
                f"{what} at C_D {C_D[k]}",
                value,
                mine,
                rel=rel,
                unit=unit,
            )


def stud_with_wind(out: Record) -> None:
    """E1.7: 2x6 Southern Pine No.1, 9 ft, weak axis held; D 560, S 840 lb, W 100."""
    C_D = (1.6, 1.15, 0.9)
    axial = -np.array([1400, 1400, 560]) * POUND
    moment = np.array([100 * PLF * (9 * FOOT) ** 2 / 8, 0.0, 0.0])
    result = check_one(
        "2x6", "SP", "No.1", C_D, forces(N=axial, M=moment), le_strong=9 * FOOT
    )
    combined = result.checks[Check.BENDING_COMPRESSION].every[:, 0]
    plain = result.checks[Check.COMPRESSION].every[:, 0]
    s = result.strengths
    printed = (
        (2480, 0.432, 1073, 2160, 0.888),
        (1782.5, 0.555, 990, 1552.5, 0.171),
        (1395, 0.647, 904, 1215, 0.075),
    )
    for k, (star, C_P, Fc, Fb, unity) in enumerate(printed):
        for what, value, mine, rel, unit in (
            ("Fc*", star, s.compression_star[k, 0] / PSI, 0.002, "psi"),
            ("C_P", C_P, factor(result, "C_P", k), 0.003, ""),
            ("Fc'", Fc, s.compression[k, 0] / PSI, 0.003, "psi"),
            ("Fb'", Fb, s.bending_sag[k, 0] / PSI, 0.002, "psi"),
            ("unity", unity, combined[k] if k == 0 else plain[k], 0.008, ""),
        ):
            out.check(
                "CV-503",
                f"{BOOK}, E1.7",
                QUOTED,
                f"{what} at C_D {C_D[k]}",
                value,
                float(mine),
                rel=rel,
                unit=unit,
            )


def bending_about_both_axes(out: Record) -> None:
    """E1.8: 2x4 Southern Pine No.2, 36 in, loads at the centre about both axes."""
    C_D = (1.6, 1.15, 0.9)
    axial = -np.array([900, 900, 300]) * POUND
    strong = np.array([120, 0, 0]) * 9 * POUND_INCH
    weak = np.array([150, 150, 50]) * 9 * POUND_INCH
    result = check_one(
        "2x4",
        "SP",
        "No.2",
        C_D,
        forces(N=axial, M=strong, M_weak=weak),
        le_strong=36 * INCH,
        le_weak=36 * INCH,
        unbraced_top=36 * INCH,
        length=36 * INCH,
    )
    s = result.strengths
    le = bending.effective_length(
        36 * INCH, 3.5 * INCH, bending.SpanLoad.CENTRE_UNBRACED
    )
    R_B = bending.beam_slenderness_ratio(le, 3.5 * INCH, 1.5 * INCH)
    F_bE = bending.critical_bending_stress(510000.0 * PSI, R_B)
    C_L = bending.beam_stability_factor(F_bE, 1100 * 1.6 * PSI)
    unity = result.checks[Check.BENDING_COMPRESSION].every[:, 0]
    rows = [
        ("F_cE1", 3944, s.euler_strong[0, 0] / PSI, 0.006, "psi"),
        ("F_cE2", 724.4, s.euler_weak[0, 0] / PSI, 0.006, "psi"),
        ("R_B", 9.646, R_B, 0.001, ""),
        ("C_L at C_D 1.6", 0.982, C_L, 0.002, ""),
        ("Fb1' at C_D 1.6", 1729, 1760 * C_L, 0.002, "psi"),
    ]
    printed = (
        (2320, 0.29, 1936, 0.98),
        (1667, 0.387, 1392, 1.04),
        (1305, 0.473, 1089, 0.35),
    )
    for k, (star, C_P, Fb2, whole) in enumerate(printed):
        at = f"at C_D {C_D[k]}"
        rows += [
            (f"Fc* {at}", star, s.compression_star[k, 0] / PSI, 0.002, "psi"),
            (f"C_P {at}", C_P, factor(result, "C_P", k), 0.005, ""),
            (f"Fb2' {at}", Fb2, s.bending_weak[k, 0] / PSI, 0.002, "psi"),
            (f"unity {at}", whole, unity[k], 0.03, ""),
        ]
    for what, value, mine, rel, unit in rows:
        out.check(
            "CV-504",
            f"{BOOK}, E1.8",
            QUOTED,
            what,
            value,
            float(mine),
            rel=rel,
            unit=unit,
        )


GROUPS = (
    beam_held_at_its_ends_alone,
    tie_with_bending,
    stud_with_wind,
    bending_about_both_axes,
)
