"""The statics of the hand method against closed forms of any handbook."""

from __future__ import annotations

import numpy as np
import pytest
from loadfall.solver.basis.sections import section
from loadfall.solver.hand.beams import continuous_beam, simple_span
from loadfall.solver.hand.strength import strut_capacity, strut_slenderness
from loadfall.solver.units import FOOT, INCH, POUND

EI = 8.4e4


@pytest.mark.parametrize(
    ("spans", "reactions", "largest"),
    [
        (1, [0.5, 0.5], 0.125),
        (2, [0.375, 1.25, 0.375], 0.125),
        (3, [0.4, 1.1, 1.1, 0.4], 0.1),
        (4, [0.393, 1.143, 0.929, 1.143, 0.393], 0.107),
        (5, [0.395, 1.132, 0.974, 0.974, 1.132, 0.395], 0.105),
    ],
)
def test_equal_spans(spans, reactions, largest):
    """Continuous-beam coefficients of equal spans (common tables, three digits)."""
    beam = continuous_beam(np.full(spans, 3.0), 700.0)
    np.testing.assert_allclose(
        beam.reactions / (700 * 3.0), reactions, atol=6e-4, rtol=0
    )
    assert beam.largest_moment / (700 * 9.0) == pytest.approx(largest, abs=6e-4)


def test_two_unequal_spans():
    """M = w (a^3 + b^3) / 8 (a + b) over the middle."""
    beam = continuous_beam(np.array([2.0, 5.0]), 100.0)
    assert beam.support_moments[1] == pytest.approx(-100 * (8 + 125) / 56)
    assert beam.reactions.sum() == pytest.approx(700)
    about_start = beam.reactions[1] * 2 + beam.reactions[2] * 7
    assert about_start == pytest.approx(100 * 7 * 3.5)


def test_a_short_span_beside_a_long_one_may_pull():
    beam = continuous_beam(np.array([0.5, 6.0]), 100.0)
    assert beam.reactions[0] < 0
    assert beam.span_moments[0] == pytest.approx(0.0, abs=1e-9)


def test_no_load_no_force():
    beam = continuous_beam(np.array([2.0, 5.0]), 0.0)
    assert not beam.reactions.any()
    assert beam.largest_moment == 0


def span(points, load=0.0, length=4.0):
    places = [(at, np.atleast_1d(np.asarray(p, float))) for at, p in points]
    return simple_span(length, np.atleast_1d(float(load)), places, EI)


def one(value):
    return float(np.ravel(value)[0])


def test_a_uniform_load():
    """w L^2 / 8 and 5 w L^4 / 384 E I."""
    beam = span([], 1000)
    assert one(beam.moment) == pytest.approx(1000 * 16 / 8)
    assert one(beam.sag) == pytest.approx(5 * 1000 * 256 / 384 / EI)


@pytest.mark.parametrize("at", [0.4, 1.0, 2.0, 2.7, 3.99])
def test_a_point_load(at):
    """P a b / L; sag P b (L^2 - b^2)^1.5 / 9 sqrt(3) E I L, b the less of the two."""
    beam = span([(at, 500.0)])
    a, b = max(at, 4 - at), min(at, 4 - at)
    assert one(beam.moment) == pytest.approx(500 * a * b / 4)
    largest = 500 * b * (16 - b * b) ** 1.5 / (9 * 3**0.5 * EI * 4)
    assert one(beam.sag) == pytest.approx(largest, rel=1e-4)


def test_loads_add_up_and_mirror():
    both = span([(1.0, 300.0), (2.5, 200.0)], 400)
    mirrored = span([(3.0, 300.0), (1.5, 200.0)], 400)
    assert one(both.moment) == pytest.approx(one(mirrored.moment), rel=1e-6)
    assert one(both.sag) == pytest.approx(one(mirrored.sag), rel=1e-4)
    x = np.linspace(0, 4, 4001)
    m = 400 * x * (4 - x) / 2
    for at, p in ((1.0, 300.0), (2.5, 200.0)):
        m += np.where(x <= at, p * (4 - at) * x / 4, p * at * (4 - x) / 4)
    assert one(both.moment) == pytest.approx(m.max(), rel=1e-4)


def test_a_load_over_a_support_bends_nothing():
    for at in (0.0, 4.0):
        assert one(span([(at, 1e6)]).moment) == 0


def test_slenderness_of_a_strut_and_its_remedies():
    """10 ft of 2x4: 80 the weak way; 40 held at mid, 34.3 the strong way."""
    made, length = section("2x4"), 10 * FOOT
    assert strut_slenderness(made, length, False, False) == pytest.approx((80, 34.2857))
    assert strut_slenderness(made, length, True, False) == pytest.approx((40, 34.2857))
    ratio = strut_slenderness(made, length, False, True)
    area, inertia = 10.5, (1.5 * 3.5**3 + 3.5 * 1.5**3) / 12
    assert ratio[0] == pytest.approx(120 / (12 * inertia / area) ** 0.5)


def test_the_longest_strut_within_the_limit():
    """NDS 2018 3.7.1.4: le/d of 50 is 6 ft 3 in for 1.5 in, whatever the length."""
    for feet in (3, 6.25, 12):
        _, ratio, longest = strut_capacity(
            "Spruce-Pine-Fir", "Stud", section("2x4"), feet * FOOT, 1.25
        )
        assert longest == pytest.approx(6.25 * FOOT)
        assert ratio == pytest.approx(feet * 12 / 1.5)


def test_plies_of_a_strut_count_for_no_more_than_the_clause_lets_them():
    """NDS 2018 15.3.2: 0.6 for nailed plies, but never less than the plies alone."""
    length, thin = 8 * FOOT, ("Spruce-Pine-Fir", "Stud", section("2x4"))
    single, _, _ = strut_capacity(*thin, length, 1.25)
    double, _, _ = strut_capacity(
        "Spruce-Pine-Fir", "Stud", section("2x4", 2), length, 1.25
    )
    assert double > 2 * single * 1.01
    solid = 3.0 * INCH
    assert length / solid == pytest.approx(32)
    assert double / POUND < 2 * 1683 * 1.2  # 2x4 at le/d of 32 carries 1,683 lb
