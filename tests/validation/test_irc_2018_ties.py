"""International Residential Code 2018, raised ties and heel joints, by hand."""

import pytest
from loadfall.solver.basis import irc
from loadfall.solver.units import FOOT, PLF, POUND


def test_thrust_of_a_gable_by_hand():
    """60 plf, 28 ft, 4:12: rise 56 in = 4.667 ft; 60 * 28^2 / (8 * 4.667) = 1260 lb."""
    thrust = irc.heel_joint_thrust(60 * PLF / (2 * FOOT), 2 * FOOT, 28 * FOOT, 4 / 12)
    assert thrust == pytest.approx(1260 * POUND, rel=1e-12)
