"""Values of one nail: toe-nails by the book's own formulas, slip, both at once."""

import math

import numpy as np
import pytest
from loadfall.solver.basis.ec5.slip import nail_slip_stiffness
from loadfall.solver.basis.nds.nails import nail
from loadfall.solver.basis.nds.toe_nails import (
    nails_for_both,
    toe_nail_lateral_value,
    toe_nail_withdrawal_value,
)
from loadfall.solver.connections.nail_values import face_nails, toe_nails
from loadfall.solver.errors import ScopeError
from loadfall.solver.units import INCH, POUND

SPF = 0.42


def test_toe_nail_by_hand():
    """10d common, 0.148 x 3 in, in SPF, by NDS 2018 Table 12.3.1A written out.

    l_s = 3/3 = 1 in; p_L = 3 cos 30 - 1 = 1.598 in (over 10 D = 1.48); F_e = 3350 psi
    (Table 12.3.3), F_yb = 90 ksi, R_d = 2.2. With R_e = 1 mode IIIs is
    k3 D l_s F_e / (3 R_d), k3 = -1 + sqrt(4 + 2 F_yb 3 D^2 / (3 F_e l_s^2)) = 1.2751:
    95.80 lb. Mode IV is D^2 / R_d sqrt(2 F_e F_yb / 6) = 99.8 lb, so IIIs governs.
    """
    k3 = -1 + math.sqrt(4 + 2 * 90e3 * 3 * 0.148**2 / (3 * 3350 * 1.0**2))
    side_hinge = k3 * 0.148 * 1.0 * 3350 / (3 * 2.2)
    two_hinges = 0.148**2 / 2.2 * math.sqrt(2 * 3350 * 90e3 / 6)
    found = toe_nail_lateral_value(nail("10d common"), 3 * INCH, SPF, SPF)
    assert side_hinge < two_hinges
    assert found.mode == "IIIs"
    assert pytest.approx(side_hinge, rel=1e-9) == found.Z / POUND
    assert found.modes["IV"] / POUND == pytest.approx(two_hinges, rel=1e-9)
    assert found.penetration / INCH == pytest.approx(1.598, abs=5e-4)


def test_toe_nail_withdrawal_by_hand():
    """1380 x 0.42^2.5 x 0.148 = 23.35 lb/in (NDS Eq. 12.2-3), times 1.598 in."""
    found = toe_nail_withdrawal_value(nail("10d common"), 3 * INCH, SPF)
    assert found / POUND == pytest.approx(23.35 * 1.598, rel=5e-4)


def test_adjusted_toe_nails():
    """NDS 12.5.4: 0.83 sideways, 0.67 in withdrawal, both times C_D."""
    each = toe_nails("10d common", SPF, (3 * INCH, SPF), np.array([0.9, 1.6]))
    assert each.lateral == pytest.approx(each.reference.Z * 0.83 * np.array([0.9, 1.6]))
    assert each.withdrawal == pytest.approx(
        each.reference_withdrawal * 0.67 * np.array([0.9, 1.6])
    )


def test_a_thin_main_member_holds_less():
    thin = toe_nail_withdrawal_value(nail("16d common"), 1.5 * INCH, SPF)
    thick = toe_nail_withdrawal_value(nail("16d common"), 3 * INCH, SPF)
    assert thin / thick == pytest.approx(1.5 / (3.5 * (math.cos(math.pi / 6) - 1 / 3)))


def test_face_nail_counts_no_pull():
    one = 1.5 * INCH, SPF
    each = face_nails("16d common", one, one, np.array([1.15]))
    assert each.lateral[0] / POUND == pytest.approx(138, rel=0.005)
    assert np.isinf(each.withdrawal).all()


def test_lateral_and_withdrawal_add():
    """NDS Eq. 12.4-2 at angle a: R = W Z / (W cos a + Z sin a) asks for one nail."""
    Z, W = 100.0, 30.0
    for angle in np.linspace(0.0, math.pi / 2, 7):
        R = W * Z / (W * math.cos(angle) + Z * math.sin(angle))
        asked = nails_for_both(R * math.cos(angle), R * math.sin(angle), Z, W)
        assert asked == pytest.approx(1.0, rel=1e-12)


def test_slip_of_a_nail_by_hand():
    """EN 1995-1-1 Table 7.1: 420^1.5 x 4^0.8 / 30 = 8607.4 x 3.0314 / 30 N/mm."""
    assert nail_slip_stiffness(4e-3, 420, 420) == pytest.approx(869.8e3, rel=1e-3)
    assert nail_slip_stiffness(4e-3, 350, 504) == pytest.approx(869.8e3, rel=1e-3)


def test_slip_of_thick_dowels_is_not_covered():
    with pytest.raises(ScopeError, match="up to 8 mm"):
        nail_slip_stiffness(9e-3, 420, 420)
