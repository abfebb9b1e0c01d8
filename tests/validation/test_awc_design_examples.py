"""AWC Structural Wood Design Examples, 2015/2018: E1.2a, E1.6, E1.7 and E1.8.

Each example runs through the checks of the program, not through the clauses alone.
"""

import numpy as np
import pytest
from loadfall.solver.basis.protocol import Check
from loadfall.solver.units import FOOT, PLF, POUND

from .support import check_one, forces

BOOK = "AWC Structural Wood Design Examples 2015/2018"


def factor(result, name, combination):
    shape = result.strengths.shear.shape
    return float(np.broadcast_to(result.strengths.factors[name], shape)[combination, 0])


@pytest.mark.parametrize(("C_D", "tension"), [(0.9, 1420), (1.25, 2300), (1.6, 3180)])
def test_tie_with_bending_by_hand(C_D, tension):
    """E1.6: ft/Ft' + fb/Fb* written out; 2x8 Hem-Fir No.2, 12 ft, 32 plf."""
    acting = forces(N=tension * POUND, M=32 * PLF * (12 * FOOT) ** 2 / 8)
    result = check_one(
        "2x8", "HF", "No.2", [C_D], acting, unbraced_top=12 * FOOT, length=12 * FOOT
    )
    ft = tension / 10.875
    fb = 32 * 12**2 / 8 * 12 / (1.5 * 7.25**2 / 6)
    by_hand = ft / (525 * 1.2 * C_D) + fb / (850 * 1.2 * C_D)
    found = result.checks[Check.BENDING_TENSION].utilisation[0]
    assert found == pytest.approx(by_hand, rel=1e-9)
