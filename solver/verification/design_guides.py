"""HUD Residential Structural Design Guide, 2nd edition; a maker's LVL guide of 2014."""

from __future__ import annotations

import math

from ..basis.materials import Kind, reference_values
from ..basis.nds.adjustment import size_factors
from ..basis.protocol import Check
from ..basis.sections import section
from ..units import FOOT, INCH, POUND, POUND_FOOT, PSF, PSI
from .model import QUOTED, Record
from .support import check_one, forces

HUD = "HUD Residential Structural Design Guide, 2nd edition"


def post_of_four_by_four(out: Record) -> None:
    """Example 5.6: 4x4 SPF No.2, 7.3 ft, 4800 lb, C_D 1."""
    result = check_one(
        "4x4",
        "SPF",
        "No.2",
        [1.0],
        forces(N=-4800 * POUND),
        le_strong=7.3 * FOOT,
        le_weak=7.3 * FOOT,
        axial_is_primary=True,
    )
    rows = result.checks[Check.COMPRESSION]
    C_P = float(result.strengths.factors["C_P"][0, 0])
    for what, printed, ours, rel, unit in (
        ("C_P", 0.43783, C_P, 0.001, ""),
        ("Fc'", 579.0, rows.capacity[0] / PSI, 0.002, "psi"),
        ("utilisation", 0.6767, rows.utilisation[0], 0.002, ""),
    ):
        out.check(
            "CV-505",
            f"{HUD}, example 5.6",
            QUOTED,
            what,
            printed,
            float(ours),
            rel=rel,
            unit=unit,
        )


def floor_joist_by_each_limit(out: Record) -> None:
    """Example 5.1: 2x8, Fb 975, Fv 150 with its shear factor, Fc-perp 405 psi."""
    piece = section("2x8")
    size = size_factors(Kind.SAWN, "No.1", piece.breadth, piece.depth)
    w, live = (40 * PSF * 16 * INCH, 30 * PSF * 16 * INCH)
    Fb = 975 * PSI * 1.15 * size.bending
    EI = 1500000.0 * PSI * piece.I_strong
    for what, printed, ours, rel in (
        ("bending", 14.865, math.sqrt(8 * Fb * piece.section_modulus / w), 0.002),
        ("shear", 40.8, 2 * 150 * PSI * piece.area / 1.5 / w, 0.002),
        ("bearing, 2 in", 45.6, 2 * 405 * PSI * 3 * INCH**2 / w, 0.002),
        ("L/360 live", 13.8, (384 * EI / (5 * 360 * live)) ** (1 / 3), 0.003),
        ("L/360 all", 12.5, (384 * EI / (5 * 360 * w)) ** (1 / 3), 0.006),
    ):
        out.check(
            "CV-506",
            f"{HUD}, example 5.1",
            QUOTED,
            f"span by {what}",
            printed,
            ours / FOOT,
            rel=rel,
            unit="ft",
        )


def sloped_rafter(out: Record) -> None:
    """Geometry of example 5.7: 2x8 DF-L No.2, 14.4 ft along 33.7 deg, 30 psf, 16 in."""
    w = 30 * PSF * math.cos(math.radians(33.7)) * 16 * INCH
    moment = w * (14.4 * FOOT) ** 2 / 8
    result = check_one(
        "2x8", "DF-L", "No.2", [1.15], forces(M=moment), is_repetitive=True
    )
    values = reference_values("DF-L", "No.2", section("2x8"))
    sag = 5 * w * (14.4 * FOOT) ** 4 / (384 * values.E * section("2x8").I_strong)
    source = f"{HUD}, geometry of example 5.7"
    out.check(
        "CV-507",
        source,
        QUOTED,
        "bending utilisation",
        0.5515,
        float(result.checks[Check.BENDING].utilisation[0]),
        rel=0.002,
    )
    out.check(
        "CV-507",
        source,
        QUOTED,
        "sag",
        0.4224,
        sag / INCH,
        rel=0.003,
        unit="in",
    )


def laminated_veneer_lumber(out: Record) -> None:
    """3.5 x 11.25 in of grade 2.0E-2900Fb, with (12/d)^0.111."""
    source = "A maker's guide to laminated veneer lumber, 2014"
    acting = forces(M=17970 * POUND_FOOT, V=7481 * POUND)
    result = check_one("3.5x11.25", "LVL", "2.0E-2900Fb", [1.0], acting)
    piece = section("3.5x11.25")
    M = result.strengths.bending_sag[0, 0] * piece.section_modulus
    V = result.strengths.shear[0, 0] * piece.area / 1.5
    out.check(
        "CV-518",
        source,
        QUOTED,
        "moment",
        17970,
        float(M) / POUND_FOOT,
        rel=0.003,
        unit="lb-ft",
    )
    out.check(
        "CV-518",
        source,
        QUOTED,
        "shear",
        7481,
        float(V) / POUND,
        rel=0.002,
        unit="lb",
    )


GROUPS = (
    post_of_four_by_four,
    floor_joist_by_each_limit,
    sloped_rafter,
    laminated_veneer_lumber,
)
