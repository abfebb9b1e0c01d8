"""Under a beam that carries the ridge there is no thrust by hand, and no number."""

from __future__ import annotations

from loadfall.solver.report import results

from ..solve.houses import COTTAGE, solved


def test_no_thrust_is_said_of_a_ridge_beam():
    beam = {"kind": "beam", "size": "2x12", "plies": 3, "posts": ["11 ft", "21 ft"]}
    solution = solved(COTTAGE, ridge=beam)
    assert solution.hand.thrust is None
    assert results(solution)["hand"]["thrust"] is None
    board = results(solved(COTTAGE))["hand"]["thrust"]
    assert board["nails_needed"] > 0
