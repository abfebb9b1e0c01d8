"""Eurocode 5: EN 338 classes, Benoit, Legrand and Tastet, Porteous and Kermani.

Examples run through the same checks as the NDS, with the other basis object.
"""

from __future__ import annotations

from ..basis.ec5 import factors, stability
from ..basis.ec5.design import EC5, Eurocode5
from ..basis.ec5.materials import characteristic_values
from ..basis.protocol import Check
from ..checks.detail import explain
from .model import QUOTED, Record
from .support import check_one, forces

MM, MPA, KN = (0.001, 1000000.0, 1000.0)

DRY = Eurocode5(service=factors.ServiceClass.DRY)

FRENCH = "Benoit, Legrand, Tastet, Calcul de structures en bois"

BRITISH = "Porteous and Kermani, Structural timber design to Eurocode 5"


def strength_classes(out: Record) -> None:
    """Strengths and stiffness of two classes."""
    for grade, printed in (
        ("C16", (16, 10, 17, 2.2, 8000, 5400)),
        ("C24", (24, 14, 21, 2.5, 11000, 7400)),
    ):
        v = characteristic_values(grade)
        ours = (v.Fb, v.Ft, v.Fc, v.Fc_perp, v.E, v.Emin)
        names = ("f_m", "f_t,0", "f_c,0", "f_c,90", "E mean", "E 0.05")
        for name, value, mine in zip(names, printed, ours, strict=True):
            out.check(
                "CV-910",
                "EN 338:2003 Table 1",
                QUOTED,
                f"{grade} {name}",
                value,
                mine / MPA,
                rel=1e-09,
                unit="MPa",
            )


def modification_and_deformation_factors(out: Record) -> None:
    """All load durations in all service classes."""
    rows = (
        (factors.ServiceClass.DRY, (0.6, 0.7, 0.8, 0.9, 1.1), 0.6),
        (factors.ServiceClass.SHELTERED, (0.6, 0.7, 0.8, 0.9, 1.1), 0.8),
        (factors.ServiceClass.EXPOSED, (0.5, 0.55, 0.65, 0.7, 0.9), 2.0),
    )
    for service, printed, k_def in rows:
        for duration, value in zip(factors.Duration, printed, strict=True):
            out.check(
                "CV-912",
                "EN 1995-1-1 Table 3.1",
                QUOTED,
                f"k_mod, service class {service:d}, {duration}",
                value,
                factors.modification_factor(duration, service),
            )
        out.check(
            "CV-913",
            "EN 1995-1-1 Table 3.2",
            QUOTED,
            f"k_def, class {service:d}",
            k_def,
            factors.deformation_factor(service),
        )


def design_strengths(out: Record) -> None:
    """C24, medium duration, service class 1."""
    result = check_one("75x200 mm", "", "C24", [0.8], forces(M=1.0), basis=DRY)
    s = result.strengths
    for what, printed, ours in (
        ("f_m,d", 14.769, s.bending_sag[0, 0]),
        ("f_v,d", 1.53846, s.shear[0, 0]),
    ):
        out.check(
            "CV-901",
            f"{FRENCH}, design strengths of C24",
            QUOTED,
            what,
            printed,
            float(ours) / MPA,
            rel=0.0001,
            unit="N/mm2",
        )


def joist(out: Record) -> None:
    """Example 2.3.1: 75 x 200 C24, 4.5 m, 0.5 m apart, G 0.5, Q 1.5 kN/m2."""
    q = 0.5 * (1.35 * 0.5 + 1.5 * 1.5) * KN
    k_mod = EC5.duration(["D", "L"])
    result = check_one(
        "75x200 mm",
        "",
        "C24",
        [k_mod],
        forces(M=q * 4.5**2 / 8),
        basis=DRY,
        is_repetitive=True,
    )
    out.check(
        "CV-902",
        f"{FRENCH}, ex. 2.3.1",
        QUOTED,
        "bending ratio",
        0.45573,
        float(result.checks[Check.BENDING].utilisation[0]),
        rel=0.0001,
    )


def sag_of_the_joist(out: Record) -> None:
    """With shear deflection, G 690 MPa: 5 q L^4/(384 E I) + 1.2 q L^2/(8 G A)."""
    L, b, h = (4.5, 0.075, 0.2)
    inertia, area = (b * h**3 / 12, b * h)
    v = characteristic_values("C24")

    def sag(q: float) -> float:
        return 5 * q * L**4 / (384 * v.E * inertia) + 1.2 * q * L**2 / (
            8 * 690 * MPA * area
        )

    creep = DRY.creep() - 1
    for record, what, printed, ours in (
        ("CV-903", "0.75 kN/m", 7.501, sag(0.75 * KN)),
        ("CV-903", "1.0 kN/m", 10.001, sag(1.0 * KN)),
        ("CV-904", "creep part", 3.0604, creep * sag((0.57 + 0.3 * 1.5) * 0.5 * KN)),
    ):
        out.check(
            record,
            f"{FRENCH}, ex. 2.3.1",
            QUOTED,
            f"sag, {what}",
            printed,
            ours / MM,
            rel=0.001,
            unit="mm",
        )


def lateral_buckling_stress(out: Record) -> None:
    """Example 2.3.2: 50 x 200 C24, 5 m, effective length 0.9 L + 2 h."""
    le = stability.beam_effective_length(5.0, 0.2)
    v = characteristic_values("C24")
    ours = stability.critical_bending_stress(0.05, 0.2, v.Emin, le)
    out.check(
        "CV-906",
        f"{FRENCH}, ex. 2.3.2",
        QUOTED,
        "critical bending stress",
        14.72,
        float(ours) / MPA,
        rel=0.002,
        unit="N/mm2",
    )


def column(out: Record) -> None:
    """Example 5.7.3: 100 x 200 C24, 3.75 m, service class 2."""
    result = check_one(
        "100x200 mm",
        "",
        "C24",
        [EC5.duration(["D", "L"])],
        forces(N=-27.5 * KN),
        basis=EC5,
        le_strong=3.75,
        le_weak=3.75,
        axial_is_primary=True,
    )
    lines = {x.symbol: x.value for x in explain(result, 0, Check.COMPRESSION)}
    relative = stability.relative_slenderness(3.75, 0.1, 21 * MPA, 7400 * MPA)
    for what, printed, ours, provenance, rel in (
        ("lambda_z", 129.9, lines["lambda weak"], "seen", 0.001),
        ("lambda_rel,z", 2.203, float(relative), "formula", 0.002),
        ("k_c,z", 0.188, lines["k_c weak"], "formula", 0.005),
    ):
        out.check(
            "CV-905", f"{BRITISH}, ex. 5.7.3", provenance, what, printed, ours, rel=rel
        )


GROUPS = (
    strength_classes,
    modification_and_deformation_factors,
    design_strengths,
    joist,
    sag_of_the_joist,
    lateral_buckling_stress,
    column,
)
