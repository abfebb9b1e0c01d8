"""Drawn outlines solved whole: balance, exact shares, and who holds what."""

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.solve import solve
from loadfall.solver.verdict.model import Verdict

from ..outlines import outline

BEAM = {"kind": "beam", "size": "3.5x16", "species": "LVL", "grade": "2.0E"}


@pytest.fixture(scope="module", params=["L", "Z", "U", "T", "drawn"])
def roof(request):
    return solve(read_brief(outline(request.param, ridge=BEAM)))


def test_loads_and_reactions_balance(roof):
    assert not roof.refusal
    assert not roof.path.faults
    for name in ("D", "D+Lr"):
        flow = roof.flow(name)
        assert flow.ground_imbalance < 1e-10
        assert flow.imbalance < 1e-10


def test_shares_of_every_patch_add_to_one(roof):
    assert roof.shares().error < 1e-8


def test_what_keeps_the_house_from_drifting_takes_no_thrust(roof):
    total = np.abs(roof.loads.load[..., 2]).max()
    soft = [row for row in roof.model.ground if row.is_soft]
    force = np.abs(roof.frame.link_force[:, [row.link for row in soft]])
    assert force.max() < 100 * total


def test_without_joists_nothing_ties_the_commons():
    solution = solve(read_brief(outline("L", ceiling_joists=None)))
    assert solution.overall is Verdict.NO_LOAD_PATH
    assert {"R-S1-08", "R-E1-10"} <= set(solution.path.untied_rafters)
