"""The beam under a load that grows along it, against closed forms and plain statics.

Sources: a triangle of load on a simple span has its largest moment, 2 W L / (9 sqrt 3)
= 0.1283 W L, at L / sqrt 3 from the light end (any beam table); a load without growth
is the continuous beam under uniform load.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from loadfall.solver.hand.beams import continuous_beam
from loadfall.solver.hand.sloping_load import beam_under_sloping_load


def test_a_triangle_on_a_simple_span():
    beam = beam_under_sloping_load([0, 6.0], 0.0, 200.0)
    total = 200 * 6**2 / 2
    assert beam.reactions == pytest.approx([total / 3, 2 * total / 3])
    assert beam.largest_moment == pytest.approx(2 * total * 6 / (9 * np.sqrt(3)))
    assert beam.largest_moment == pytest.approx(0.1283 * total * 6, rel=5e-4)


@settings(deadline=None, max_examples=40, derandomize=True)
@given(st.lists(st.floats(0.5, 6), min_size=1, max_size=4), st.floats(1, 5000))
def test_no_growth_is_the_continuous_beam(spans, load):
    ours = beam_under_sloping_load([0, *np.cumsum(spans)], load, 0.0)
    known = continuous_beam(np.array(spans), load)
    size = load * sum(spans)
    assert np.abs(ours.reactions - known.reactions).max() < 1e-9 * size
    assert np.abs(ours.support_moments - known.support_moments).max() < 1e-9 * size
    assert ours.largest_moment == pytest.approx(known.largest_moment, rel=1e-9)


@settings(deadline=None, max_examples=40, derandomize=True)
@given(
    st.lists(st.floats(0.5, 6), min_size=1, max_size=4),
    st.floats(0, 3000), st.floats(1, 3000),
)  # fmt: skip
def test_forces_and_moments_balance(spans, load, growth):
    stops = np.array([0, *np.cumsum(spans)])
    beam = beam_under_sloping_load(stops, load, growth)
    length = stops[-1]
    total = load * length + growth * length**2 / 2
    about = load * length**2 / 2 + growth * length**3 / 3
    assert beam.reactions.sum() == pytest.approx(total)
    assert beam.reactions @ stops == pytest.approx(about)


@settings(deadline=None, max_examples=40, derandomize=True)
@given(st.lists(st.floats(0.5, 6), min_size=2, max_size=4), st.floats(1, 3000))
def test_turned_about_it_is_the_same_beam(spans, growth):
    stops = np.array([0, *np.cumsum(spans)])
    there = beam_under_sloping_load(stops, 0.0, growth)
    back = beam_under_sloping_load(
        (stops[-1] - stops)[::-1], growth * stops[-1], -growth
    )
    np.testing.assert_allclose(back.reactions[::-1], there.reactions, rtol=1e-6,
                               atol=1e-6 * growth)  # fmt: skip
    assert back.largest_moment == pytest.approx(there.largest_moment, rel=1e-6)
