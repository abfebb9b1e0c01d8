"""The smallest rung that passes, also where a larger one fails again."""

from __future__ import annotations

from itertools import product
from types import SimpleNamespace

import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.remedy import remedies, search
from loadfall.solver.remedy.compare import proposals
from loadfall.solver.remedy.model import Ladder, RemedyKind, Rung
from loadfall.solver.remedy.runs import Following, Kept
from loadfall.solver.remedy.trouble import failures, why_it_fails
from loadfall.solver.solve import solve

from ..hips import HIP
from ..solve.houses import changed
from .test_beams import ROOM
from .test_remedies import UNTIED


@pytest.fixture
def climbed(monkeypatch):
    """Climb a ladder of which it is stated which rungs pass."""

    def go(passing, rises, likely=0):
        def why_not(trier, n):
            trier.solution(n)
            return () if passing[n] else ("it fails",)

        monkeypatch.setattr(search, "validate", lambda brief: None)
        monkeypatch.setattr(search.Trier, "why_not", why_not)
        monkeypatch.setattr(
            search.Trier, "is_weak", lambda trier, n: bool(trier.why_not(n))
        )
        monkeypatch.setattr(search.Trier, "score", lambda trier, n: (0, 0.0))
        rungs = tuple(Rung(size=str(n), brief=n) for n in range(len(passing)))
        ladder = Ladder(
            kind=RemedyKind.JOISTS, key="k", title="t", build="b", rungs=rungs,
            rises=rises, likely=likely,
        )  # fmt: skip
        run = lambda brief: SimpleNamespace(brief=brief)  # noqa: E731
        return search.climb(search.Trier(ladder, run))

    return lambda passing, rises, likely=0: go(
        [bool(p) for p in passing], rises, likely
    )


@pytest.mark.parametrize("passing", [(0, 1, 0, 0, 0, 0), (0, 0, 0, 1, 0, 1)])
def test_a_size_that_passes_between_two_that_fail_is_found(climbed, passing):
    found = climbed(passing, rises=False)
    assert found.solves
    assert found.rung.size == str(passing.index(1))
    assert found.smaller == f"{passing.index(1) - 1}: it fails"


@pytest.mark.parametrize(
    ("first", "likely"), list(product(range(11), (-2, 0, 3, 9, 40)))
)
def test_from_any_guess_the_first_of_a_rising_ladder_is_found(climbed, first, likely):
    found = climbed([n >= first for n in range(10)], rises=True, likely=likely)
    assert found.solves is (first < 10)
    assert found.rung.size == str(min(first, 9))
    assert first in (0, 10) or found.smaller == f"{first - 1}: it fails"


def test_a_good_guess_takes_two_roofs_and_none_at_all_four(climbed):
    assert climbed([n >= 6 for n in range(10)], True, likely=6).tried == 2
    assert climbed([False] * 10, True, likely=2).tried == 4


HOUSES = {
    "struts on joists": changed(
        ROOM, footprint={"length": "8 ft", "width": "20 ft"},
        walls=[{"name": "spine", "start": ["0 ft", "10 ft"], "end": ["8 ft", "10 ft"]}],
    ),
    "untied": changed(UNTIED, footprint={"length": "10 ft", "width": "20 ft"}),
    "hip": changed(
        HIP, footprint={"length": "20 ft", "width": "14 ft"}, hips={"size": "2x6"},
        walls=[], loads={"roof_live": "50 psf"},
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", HOUSES)
def test_the_search_finds_what_trying_every_size_finds(name):
    """Every rung of every ladder solved alone; the smallest that passes, or the best.

    Of a rising ladder that never passes: the smallest that leaves no more failing than
    the strongest; of another one that with fewest failing, then the least used.
    """
    before = solve(read_brief(HOUSES[name]))
    expected: dict[str, tuple[str, bool]] = {}
    seen = 0
    for ladder in proposals(before):
        if expected.get(ladder.key, ("", False))[1]:
            continue
        roofs = [solve(rung.brief) for rung in ladder.rungs]
        held = ladder.also or (lambda _roof: ())
        passing = [not (why_it_fails(roof) or held(roof)) for roof in roofs]
        bad = [len(failures(r)) + 10**6 * bool(r.refusal) for r in roofs]
        past = [
            ok or (ladder.deepens and _bears_too_much(roof, held))
            for ok, roof in zip(passing, roofs, strict=True)
        ]
        if ladder.rises:
            assert past == sorted(past), f"{ladder.key} does not rise"
        if True in passing:
            at = passing.index(True)
            assert not ladder.rises or at == past.index(True)
        elif ladder.rises and True in past:
            at = past.index(True)
        elif ladder.rises:
            at = next(n for n, count in enumerate(bad) if count <= bad[-1])
        else:
            use = [round(r.worst.utilisation, 2) if r.worst else 0.0 for r in roofs]
            at = min(range(len(roofs)), key=lambda n: (bad[n], use[n], n))
        trier = search.Trier(ladder, Following())
        found = search.climb(trier)
        if not found.solves:
            found = search.leanest(trier)
        assert (found.rung.size, found.solves) == (
            ladder.rungs[at].size,
            True in passing,
        )
        expected[ladder.key] = found.rung.size, found.solves
        seen += 1
    assert seen >= 3


def _bears_too_much(roof, held):
    """Whether all that fails are bearings, seats cut in, or depth to breadth."""
    bad = failures(roof)
    if not bad or roof.refusal:
        return False
    checks = {c for m in bad for c, use in (m.by_check or {}).items() if use > 1}
    past = {"bearing", "beam_slenderness", "notched_shear"}
    return checks <= past and all(m.by_check for m in bad)


def test_a_roof_that_was_kept_is_not_solved_again():
    asked = []
    kept = Kept(lambda brief: asked.append(brief) or solve(brief))
    brief = read_brief(ROOM)
    assert kept.keep(brief) is kept(brief)
    assert asked == [brief]


def test_the_search_counts_every_roof_and_can_be_stopped():
    """What a caller hands in solves every roof, so it may count and stop."""

    class EnoughError(Exception):
        pass

    solved = []

    def run(brief):
        if len(solved) == 4:
            raise EnoughError
        solved.append(brief)
        return solve(brief)

    with pytest.raises(EnoughError):
        remedies(read_brief(ROOM), run)
    assert len(solved) == 4
