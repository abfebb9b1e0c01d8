"""Eurocode 5: EN 338 classes, Benoit, Legrand and Tastet, Porteous and Kermani.

Examples run through the same checks as the NDS, with the other basis object.
"""

import math

import numpy as np
import pytest
from loadfall.solver.basis.ec5 import factors
from loadfall.solver.basis.ec5.design import EC5, Eurocode5
from loadfall.solver.basis.protocol import Check
from loadfall.solver.checks.detail import explain

from .support import check_one, forces

SEEN = "seen as quoted elsewhere"
MM, MPA, KN = 1e-3, 1e6, 1e3
DRY = Eurocode5(service=factors.ServiceClass.DRY)
FRENCH = "Benoit, Legrand, Tastet, Calcul de structures en bois"
BRITISH = "Porteous and Kermani, Structural timber design to Eurocode 5"


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


def test_the_factors_of_a_column_multiply_to_its_strength():
    result = check_one(
        "100x200 mm", "", "C24", [EC5.duration(["D", "L"])], forces(N=-27.5 * KN),
        basis=EC5, le_strong=3.75, le_weak=3.75, axial_is_primary=True,
    )  # fmt: skip
    lines = {x.symbol: x.value for x in explain(result, 0, Check.COMPRESSION)}
    product = lines["f_c,0,k"] * lines["k_mod"] * lines["1/gamma_M"] * lines["k_c"]
    assert product == pytest.approx(lines["capacity"], rel=1e-12)
