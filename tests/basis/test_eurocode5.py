"""Edges of Eurocode 5 clauses and the list of combinations of actions."""

import numpy as np
import pytest
from loadfall.solver.basis.ec5 import factors, joints, stability
from loadfall.solver.basis.ec5.combinations import ultimate_combinations
from loadfall.solver.basis.ec5.materials import characteristic_values
from loadfall.solver.errors import ScopeError, TableError


def test_size_factor():
    """(150/75)^0.2 = 1.149; at most 1.3; none from 150 mm."""
    assert factors.size_factor(0.075) == pytest.approx(1.1487, rel=1e-4)
    assert factors.size_factor(0.02) == 1.3
    assert factors.size_factor(0.2) == 1.0


def test_lateral_buckling_is_continuous():
    strength = 24.0
    for relative in (0.75, 1.4):
        critical = strength / np.array([relative - 1e-6, relative + 1e-6]) ** 2
        below, above = stability.lateral_buckling_factor(strength, critical)
        assert below == pytest.approx(above, abs=3e-3)
    assert float(stability.lateral_buckling_factor(24.0, 24.0 / 4)) == 0.25


def test_buckling_factor_ends():
    assert float(stability.buckling_factor(0.3)) == 1.0
    slender = float(stability.buckling_factor(10.0))
    assert slender == pytest.approx(1 / 100, rel=0.03)


def test_bearing_at_an_angle():
    assert float(joints.bearing_at_angle(10.0, 2.0, 0.0, 1.0)) == pytest.approx(10.0)
    across = float(joints.bearing_at_angle(10.0, 2.0, np.pi / 2, 1.5))
    assert across == pytest.approx(3.0)


def test_notch_factor_by_hand():
    """h 200, left 150, corner 50 mm: a 0.75; sqrt(0.1875) + 0.2 sqrt(1.3333 - 0.5625).

    5 / (14.142 * (0.43301 + 0.17559)) = 0.5810.
    """
    assert float(joints.notch_factor(0.2, 0.15, 0.05)) == pytest.approx(0.581, rel=1e-3)
    assert float(joints.notch_factor(0.2, 0.2, 0.0)) == 1.0
    with pytest.raises(ScopeError, match=r"6\.5\.2"):
        joints.notch_factor(0.2, 0.0, 0.05)


def test_durations():
    assert factors.shortest_duration(["D"]) is factors.Duration.PERMANENT
    assert factors.shortest_duration(["D", "L", "W"]) is factors.Duration.INSTANT
    with pytest.raises(TableError, match="load case"):
        factors.shortest_duration(["X"])
    with pytest.raises(TableError, match="at least one"):
        factors.shortest_duration([])


def test_combinations_of_actions():
    """EN 1990 Eq. 6.10: each variable action leads once, the others follow."""
    found = {c.name: c for c in ultimate_combinations(["L", "S", "W"])}
    assert list(found) == [
        "1.35D", "1.35D+1.5L+0.75S+0.9W", "1.35D+1.5S+1.05L+0.9W",
        "1.35D+1.5W+1.05L+0.75S", "1D+1.5W",
    ]  # fmt: skip
    assert found["1.35D"].duration is factors.Duration.PERMANENT
    roof = ultimate_combinations(["Lr", "SuS", "SuN"])
    assert [c.name for c in roof] == [
        "1.35D", "1.35D+1.5Lr", "1.35D+1.5SuS", "1.35D+1.5SuN",
    ]  # fmt: skip


def test_unknown_class_is_refused():
    with pytest.raises(TableError, match="C24"):
        characteristic_values("C25")
