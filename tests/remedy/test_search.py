"""The smallest rung that passes, also where a larger one fails again."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from loadfall.solver.remedy import search
from loadfall.solver.remedy.model import Ladder, RemedyKind, Rung


@pytest.fixture
def climbed(monkeypatch):
    """Climb a ladder of which it is stated which rungs pass."""

    def go(passing, rises):
        def why_not(trier, n):
            trier.solution(n)
            return () if passing[n] else ("it fails",)

        monkeypatch.setattr(search, "validate", lambda brief: None)
        monkeypatch.setattr(search.Trier, "why_not", why_not)
        monkeypatch.setattr(search.Trier, "score", lambda trier, n: (0, 0.0))
        rungs = tuple(Rung(size=str(n), brief=n) for n in range(len(passing)))
        ladder = Ladder(
            kind=RemedyKind.JOISTS, key="k", title="t", build="b", rungs=rungs,
            rises=rises,
        )  # fmt: skip
        return search.climb(ladder, lambda brief: SimpleNamespace(brief=brief))

    return lambda passing, rises: go([bool(p) for p in passing], rises)


@pytest.mark.parametrize("passing", [(0, 1, 0, 0, 0, 0), (0, 0, 0, 1, 0, 1)])
def test_a_size_that_passes_between_two_that_fail_is_found(climbed, passing):
    found = climbed(passing, rises=False)
    assert found.solves
    assert found.rung.size == str(passing.index(1))
    assert found.smaller == f"{passing.index(1) - 1}: it fails"


@pytest.mark.parametrize("first", range(7))
def test_halving_finds_the_first_of_a_rising_ladder(climbed, first):
    found = climbed([n >= first for n in range(6)], rises=True)
    assert found.solves is (first < 6)
    assert first == 6 or found.rung.size == str(first)
