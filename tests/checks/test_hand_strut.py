"""A strut of 2x4 spruce-pine-fir No.2, 6 ft at 45 degrees under 980 lb, by hand.

axial = 980 / sin 45 = 1385.9 lb;  le/d = 72 / 1.5 = 48
Fc*  = 1150 * 1.15 * 1.25 = 1653.1 psi;  F_cE = 0.822 * 510000 / 48^2 = 182.0
r = 0.11007, (1 + r)/1.6 = 0.69379, C_P = 0.69379 - sqrt(0.48135 - 0.13758) = 0.1075
capacity = 1653.1 * 0.1075 * 5.25 = 933 lb
"""

import math

import numpy as np
import pytest
from loadfall.solver.basis.protocol import Check
from loadfall.solver.checks.detail import explain
from loadfall.solver.units import FOOT, INCH, POUND, PSI
from loadfall.tests.validation.support import check_one, forces


def strut(length, pounds, **more):
    fields = {
        "le_strong": length, "le_weak": length, "axial_is_primary": True, **more,
    }  # fmt: skip
    return check_one("2x4", "SPF", "No.2", [1.25], forces(N=-pounds * POUND), **fields)


def test_column_capacity():
    result = strut(6 * FOOT, 980 / math.sin(math.pi / 4))
    rows = result.checks[Check.COMPRESSION]
    assert rows.capacity[0] / PSI * 5.25 == pytest.approx(932.9, rel=5e-3)
    assert rows.utilisation[0] == pytest.approx(1385.9 / 932.9, rel=5e-3)
    assert result.checks[Check.SLENDERNESS].demand[0] == pytest.approx(48)


def test_held_at_mid_length_the_weak_way():
    """10 ft held at mid: le/d 40 weak, 34.3 strong; Stud grade: 1122 lb by hand.

    Fc* = 725 * 1.05 * 1.25 = 951.6; F_cE = 0.822 * 440000 / 1600 = 226.1; r = 0.2376;
    0.7735 - sqrt(0.5983 - 0.2970) = 0.2246; 951.6 * 0.2246 * 5.25 = 1122 lb.
    """
    result = check_one(
        "2x4", "SPF", "Stud", [1.25], forces(N=-1000 * POUND), le_strong=10 * FOOT,
        le_weak=5 * FOOT, axial_is_primary=True,
    )  # fmt: skip
    capacity = result.checks[Check.COMPRESSION].capacity[0] / PSI * 5.25
    assert capacity == pytest.approx(1122, rel=2e-3)
    assert result.checks[Check.SLENDERNESS].demand[0] == pytest.approx(40)


def test_too_slender_is_flagged_and_still_computed():
    rows = strut(10 * FOOT, 100.0)
    assert rows.checks[Check.SLENDERNESS].utilisation[0] == pytest.approx(80 / 50)
    assert rows.checks[Check.COMPRESSION].utilisation[0] < 1
    assert np.isfinite(rows.utilisation).all()


def test_the_rounding_of_a_solve_is_no_compression():
    for pounds, limit in ((1e-10, 0.0), (1.0, 80 / 50)):
        rows = strut(10 * FOOT, pounds)
        assert rows.checks[Check.SLENDERNESS].utilisation[0] == pytest.approx(limit)


def test_a_held_column_has_no_stability_factor():
    result = strut(6 * FOOT, 1000.0, le_strong=0.0, le_weak=0.0)
    assert result.strengths.factors["C_P"][0, 0] == pytest.approx(1.0)


def test_plies_apart_are_never_stronger_than_plies_nailed():
    """Nailed plies reach 0.6 C_P together; alone, each has its own slenderness."""
    short = check_one(
        "2x4", "SPF", "No.2", [1.0], forces(N=-1.0), plies=2, le_weak=6 * INCH
    )
    long = check_one(
        "2x4", "SPF", "No.2", [1.0], forces(N=-1.0), plies=2, le_weak=10 * FOOT
    )
    # Short: the plies on their own govern (C_P near 1); long: 0.6 C_P with d = 3 in.
    assert short.strengths.factors["C_P"][0, 0] > 0.95
    by_hand = _column_factor(120 / 3.0, 1150 * 1.15)
    assert long.strengths.factors["C_P"][0, 0] == pytest.approx(0.6 * by_hand, rel=1e-9)


def _column_factor(slenderness, Fc_star):
    r = 0.822 * 510e3 / slenderness**2 / Fc_star
    a = (1 + r) / 1.6
    return a - math.sqrt(a * a - r / 0.8)


def test_the_record_multiplies_to_the_capacity():
    """What `explain` lists can be redone on paper: product, then demand over it."""
    result = strut(6 * FOOT, 1385.9)
    lines = explain(result, 0, Check.COMPRESSION)
    value = {line.symbol: line.value for line in lines}
    product = value["Fc"] * value["C_D"] * value["C_F"] * value["C_P"]
    assert product == pytest.approx(value["capacity"], rel=1e-12)
    assert value["P"] / value["A"] == pytest.approx(value["f_c"], rel=1e-12)
    assert value["f_c"] / value["capacity"] == pytest.approx(value["utilisation"])
    assert value["C_P"] == pytest.approx(min(value["C_P strong"], value["C_P weak"]))
