"""Reactions, shares and what lifts: as results.json has them, by another route."""

from __future__ import annotations

import numpy as np
import pytest
from loadfall.solver.report.results import results
from loadfall.solver.report.supports import lifted_words, reactions, surface_shares
from loadfall.solver.units import POUND

from .briefs import ALL, solved


@pytest.mark.parametrize("name", list(ALL))
def test_reactions_are_those_of_the_results(name):
    solution = solved(name)
    found, written = reactions(solution), results(solution)["supports"]
    assert list(found) == list(written)
    for owner, (up, across) in found.items():
        for n, combination in enumerate(solution.combinations.names):
            assert up[n] / POUND == pytest.approx(
                written[owner]["vertical"][combination], abs=1e-6
            )
            assert across[n] / POUND == pytest.approx(
                written[owner]["sideways"][combination], abs=1e-6
            )


@pytest.mark.parametrize("name", list(ALL))
def test_reactions_balance_the_loads(name):
    solution = solved(name)
    up = np.sum([up for up, _ in reactions(solution).values()], axis=0)
    model, frame = solution.model, solution.model.frame
    span = frame.xyz[frame.ends[:, 1]] - frame.xyz[frame.ends[:, 0]]
    length = np.linalg.norm(span, axis=1)
    cases = -(model.loads.element_load[:, :, 2] @ length)
    cases -= model.loads.node_load[:, :, 2].sum(axis=1)
    np.testing.assert_allclose(up, solution.combinations.factors @ cases, rtol=1e-8)


@pytest.mark.parametrize("name", list(ALL))
def test_shares_of_each_surface_add_to_one(name):
    shares = surface_shares(solved(name))
    assert shares
    for owners in shares.values():
        assert sum(owners.values()) == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize("name", list(ALL))
def test_what_lifts_is_what_the_results_list(name):
    solution = solved(name)
    written = results(solution)["equilibrium"]["lifted"]
    words = lifted_words(solution)
    assert list(words) == list(written)
    for combination, lines in words.items():
        text = " ".join(lines)
        assert ("slack" in text) == any("slack" in w for w in written[combination])
        assert (" off " in text) == any(" off " in w for w in written[combination])


def test_a_mirrored_roof_shares_alike():
    shares = surface_shares(solved("cottage"))
    south, north = shares["roof S"], shares["roof N"]
    assert south["W-SOUTH"] == pytest.approx(north["W-NORTH"], rel=1e-6)
    assert south["W-spine"] == pytest.approx(north["W-spine"], rel=1e-6)
