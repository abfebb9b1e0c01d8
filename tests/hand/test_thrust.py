"""Thrust by hand where joists and rafters are not spaced alike."""

from __future__ import annotations

import pytest

from ..solve.houses import COTTAGE, solved

PLAIN = {"purlins": [], "struts": []}


def tie(rafters, joists):
    """Tie force by hand, and the largest in the frame, lb, of D+Lr; and the nails."""
    solution = solved(
        COTTAGE,
        rafters={"spacing": rafters},
        ceiling_joists={"spacing": joists},
        **PLAIN,
    )
    hand = solution.hand.thrust
    row = solution.hand.combinations.index("D+Lr")
    joist = max(m.axial for m in solution.members.values() if m.role == "ceiling_joist")
    return float(hand.tie_force[row]), joist, hand.nails_needed


def test_a_joist_on_every_pair_takes_one_pair():
    hand, frame, _ = tie("24 in", "24 in")
    assert hand == pytest.approx(frame, rel=0.02)


@pytest.mark.parametrize(
    ("rafters", "joists", "pairs"), [("24 in", "4 ft", 2), ("16 in", "24 in", 3)]
)
def test_a_joist_on_every_few_pairs_takes_them_all(rafters, joists, pairs):
    """Joists at 24 in lie beside rafters at 16 in on every third pair alone.

    The heel nails then hold three pairs; once they were counted for one.
    """
    hand, frame, nails = tie(rafters, joists)
    alone, _, few = tie(rafters, rafters)
    assert hand == pytest.approx(pairs * alone, rel=1e-9)
    if pairs == 2:
        assert hand == pytest.approx(frame, rel=0.08)
    else:  # the frame lets the joists between rafters pull on the plate besides
        assert hand / 2 == pytest.approx(frame, rel=0.08)
    assert pairs * few - pairs <= nails <= pairs * few


def test_joists_that_run_along_tie_nothing():
    solution = solved(COTTAGE, ceiling_joists={"direction": "along"}, **PLAIN)
    one = solved(COTTAGE, **PLAIN).hand.thrust.tie_force
    assert solution.hand.thrust.tie_force == pytest.approx(one)
