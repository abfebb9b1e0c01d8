"""Eurocode 5: EN 338 classes, Benoit, Legrand and Tastet, Porteous and Kermani.

Examples run through the same checks as the NDS, with the other basis object.
"""

import math

import numpy as np
import pytest
from loadfall.solver.basis.ec5 import factors, stability
from loadfall.solver.basis.ec5.design import EC5, Eurocode5
from loadfall.solver.basis.ec5.materials import characteristic_values
from loadfall.solver.basis.protocol import Check
from loadfall.solver.checks.detail import explain

from .support import check_one, forces

SEEN = "seen in a transcription"
MM, MPA, KN = 1e-3, 1e6, 1e3
DRY = Eurocode5(service=factors.ServiceClass.DRY)
FRENCH = "Benoit, Legrand, Tastet, Calcul de structures en bois"
BRITISH = "Porteous and Kermani, Structural timber design to Eurocode 5"


def test_strength_classes(verification):
    for grade, printed in (
        ("C16", (16, 10, 17, 2.2, 8000, 5400)),
        ("C24", (24, 14, 21, 2.5, 11000, 7400)),
    ):
        v = characteristic_values(grade)
        ours = (v.Fb, v.Ft, v.Fc, v.Fc_perp, v.E, v.Emin)
        names = ("f_m", "f_t,0", "f_c,0", "f_c,90", "E mean", "E 0.05")
        for name, value, mine in zip(names, printed, ours, strict=True):
            verification.check(
                "CV-910", "EN 338:2003 Table 1", SEEN, f"{grade} {name}", value,
                mine / MPA, rel=1e-9, unit="MPa",
            )  # fmt: skip


def test_modification_and_deformation_factors(verification):
    rows = (
        (factors.ServiceClass.DRY, (0.6, 0.7, 0.8, 0.9, 1.1), 0.6),
        (factors.ServiceClass.SHELTERED, (0.6, 0.7, 0.8, 0.9, 1.1), 0.8),
        (factors.ServiceClass.EXPOSED, (0.5, 0.55, 0.65, 0.7, 0.9), 2.0),
    )
    for service, printed, k_def in rows:
        for duration, value in zip(factors.Duration, printed, strict=True):
            verification.check(
                "CV-912", "EN 1995-1-1 Table 3.1", SEEN,
                f"k_mod, service class {service:d}, {duration}", value,
                factors.modification_factor(duration, service),
            )  # fmt: skip
        verification.check(
            "CV-913", "EN 1995-1-1 Table 3.2", SEEN, f"k_def, class {service:d}", k_def,
            factors.deformation_factor(service),
        )  # fmt: skip


def test_design_strengths(verification):
    """C24, medium duration, service class 1."""
    result = check_one("75x200 mm", "", "C24", [0.8], forces(M=1.0), basis=DRY)
    s = result.strengths
    for what, printed, ours in (
        ("f_m,d", 14.769, s.bending_sag[0, 0]),
        ("f_v,d", 1.53846, s.shear[0, 0]),
    ):
        verification.check(
            "CV-901", f"{FRENCH}, design strengths of C24", SEEN, what, printed,
            float(ours) / MPA, rel=1e-4, unit="N/mm2",
        )  # fmt: skip


def test_joist(verification):
    """Example 2.3.1: 75 x 200 C24, 4.5 m, 0.5 m apart, G 0.5, Q 1.5 kN/m2."""
    q = 0.5 * (1.35 * 0.5 + 1.5 * 1.5) * KN
    k_mod = EC5.duration(["D", "L"])
    result = check_one(
        "75x200 mm", "", "C24", [k_mod], forces(M=q * 4.5**2 / 8), basis=DRY,
        is_repetitive=True,
    )  # fmt: skip
    verification.check(
        "CV-902", f"{FRENCH}, ex. 2.3.1", SEEN, "bending ratio", 0.45573,
        float(result.checks[Check.BENDING].utilisation[0]), rel=1e-4,
    )  # fmt: skip


def test_sag_of_the_joist(verification):
    """With shear deflection, G 690 MPa: 5 q L^4/(384 E I) + 1.2 q L^2/(8 G A)."""
    L, b, h = 4.5, 0.075, 0.2
    inertia, area = b * h**3 / 12, b * h
    v = characteristic_values("C24")

    def sag(q):
        return 5 * q * L**4 / (384 * v.E * inertia) + 1.2 * q * L**2 / (
            8 * 690 * MPA * area
        )

    creep = DRY.creep() - 1
    for record, what, printed, ours in (
        ("CV-903", "0.75 kN/m", 7.501, sag(0.75 * KN)),
        ("CV-903", "1.0 kN/m", 10.001, sag(1.0 * KN)),
        ("CV-904", "creep part", 3.0604, creep * sag((0.57 + 0.3 * 1.5) * 0.5 * KN)),
    ):
        verification.check(
            record, f"{FRENCH}, ex. 2.3.1", SEEN, f"sag, {what}", printed, ours / MM,
            rel=1e-3, unit="mm",
        )  # fmt: skip


def test_lateral_buckling_stress(verification):
    """Example 2.3.2: 50 x 200 C24, 5 m, effective length 0.9 L + 2 h."""
    le = stability.beam_effective_length(5.0, 0.2)
    v = characteristic_values("C24")
    ours = stability.critical_bending_stress(0.05, 0.2, v.Emin, le)
    verification.check(
        "CV-906", f"{FRENCH}, ex. 2.3.2", SEEN, "critical bending stress", 14.72,
        float(ours) / MPA, rel=2e-3, unit="N/mm2",
    )  # fmt: skip


def test_column(verification):
    """Example 5.7.3: 100 x 200 C24, 3.75 m, service class 2."""
    result = check_one(
        "100x200 mm", "", "C24", [EC5.duration(["D", "L"])], forces(N=-27.5 * KN),
        basis=EC5, le_strong=3.75, le_weak=3.75, axial_is_primary=True,
    )  # fmt: skip
    lines = {x.symbol: x.value for x in explain(result, 0, Check.COMPRESSION)}
    relative = stability.relative_slenderness(3.75, 0.1, 21 * MPA, 7400 * MPA)
    for what, printed, ours, provenance, rel in (
        ("lambda_z", 129.9, lines["lambda weak"], "seen", 1e-3),
        ("lambda_rel,z", 2.203, float(relative), "formula", 2e-3),
        ("k_c,z", 0.188, lines["k_c weak"], "formula", 5e-3),
    ):
        verification.check(
            "CV-905", f"{BRITISH}, ex. 5.7.3", provenance, what, printed, ours, rel=rel
        )
    product = lines["f_c,0,k"] * lines["k_mod"] * lines["1/gamma_M"] * lines["k_c"]
    assert product == pytest.approx(lines["capacity"], rel=1e-12)


def test_column_with_end_moments_by_hand():
    """10 kN + 17.5 kN, 25 and 10 mm off centre: Eq. 6.23 and 6.24 on paper.

    N = 1.35*10 + 1.5*17.5 = 39.75 kN; sigma_c = 1.9875; sigma_my = 39750*25/666667 =
    1.4906; sigma_mz = 39750*10/333333 = 1.1925 N/mm2; f_c,d = 12.923; f_m,d = 14.769,
    about z times (150/100)^0.2 = 1.0845.
    """
    N = (1.35 * 10 + 1.5 * 17.5) * KN
    result = check_one(
        "100x200 mm", "", "C24", [0.8],
        forces(N=-N, M=N * 0.025, M_weak=N * 0.010), basis=EC5, le_strong=3.75,
        le_weak=3.75,
    )  # fmt: skip
    lam = 3.75 * math.sqrt(12) / 0.1 / math.pi * math.sqrt(21 / 7400)
    k = 0.5 * (1 + 0.2 * (lam - 0.3) + lam**2)
    k_c = 1 / (k + math.sqrt(k * k - lam * lam))
    c, y = 1.9875 / (k_c * 12.92308), 1.490625 / 14.76923
    z = 1.1925 / (14.76923 * 1.5**0.2)
    by_hand = c + max(y + 0.7 * z, 0.7 * y + z)
    found = result.checks[Check.BENDING_COMPRESSION].utilisation[0]
    assert found == pytest.approx(by_hand, rel=1e-5)


def test_both_bases_take_the_same_members():
    """The seam: one member, one set of forces, two bases, both finite and different."""
    acting = forces(N=-5 * KN, M=800.0, V=2 * KN)
    american = check_one("2x6", "SPF", "No.2", [1.15], acting, le_strong=3.0)
    european = check_one("2x6", "SPF", "C24", [0.9], acting, le_strong=3.0, basis=EC5)
    assert set(american.checks) == set(european.checks)
    for result in (american, european):
        assert np.isfinite(result.utilisation).all()
    bending = [r.checks[Check.BENDING].utilisation[0] for r in (american, european)]
    assert bending[0] != bending[1]
