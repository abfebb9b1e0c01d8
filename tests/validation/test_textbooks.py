"""Aghayere and Vigil; Missouri S&T CE 5260; solved questions."""

import pytest
from loadfall.solver.basis.protocol import Check
from loadfall.solver.units import FOOT, POUND

from .support import check_one, forces

FIRST = "Aghayere and Vigil, Structural Wood Design (2007)"
SECOND = "Aghayere and Vigil, Structural Wood Design, 2nd edition (2017)"
COURSE = "Missouri S&T, CE 5260, problem 6.27"
QUESTIONS = "Wood design questions of a structural examination course, 2022"


def test_slenderness_decides_where_the_rule_does_not():
    """A 2x4 brace at the 8 ft of the prescriptive rule: le/d 64, over 50."""
    result = check_one(
        "2x4", "SPF", "Stud", [1.25], forces(N=-300 * POUND), le_strong=8 * FOOT,
        le_weak=8 * FOOT, axial_is_primary=True,
    )  # fmt: skip
    slender = result.checks[Check.SLENDERNESS]
    assert slender.demand[0] == pytest.approx(64)
    assert slender.utilisation[0] == pytest.approx(1.28)
    assert result.checks[Check.COMPRESSION].utilisation[0] < 1
    assert result.governing_check(0) is Check.SLENDERNESS


def test_the_post_of_the_second_edition_passes():
    """Example 5.6: 6x6 DF-L No.1, 12 ft, 17 000 lb of the 17 463 printed."""
    result = check_one(
        "6x6", "DF-L", "No.1", [1.15], forces(N=-17000 * POUND), le_strong=12 * FOOT,
        le_weak=12 * FOOT, axial_is_primary=True,
    )  # fmt: skip
    assert 0.97 < result.checks[Check.COMPRESSION].utilisation[0] < 1
