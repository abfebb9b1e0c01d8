"""The smallest rung of a ladder that passes, found with few roofs solved.

Every rung that is judged is solved as any brief is. The one chosen passes and the one
below it was solved and does not. A ladder that rises is entered where a hand
calculation puts its answer, and halved from there; one that need not rise is tried
rung by rung. What comes out is that of trying every rung.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from ..basis.protocol import Check
from ..brief.model import Brief
from ..brief.validate import validate
from ..errors import SolverError
from ..solve import Solution
from ..verdict.model import MemberResult
from .model import Ladder, Rung
from .trouble import failures, why_it_fails

# A deeper hip over the same plate is cut down to the same height: its seat decides.
_PAST = {c.value for c in (Check.BEARING, Check.BEAM_SLENDERNESS, Check.NOTCHED_SHEAR)}
_NEAR = 3  # rungs at the guess, before what is left is halved


@dataclass(frozen=True, eq=False, kw_only=True)
class Climbed:
    """Where a search ended.

    Attributes:
        rung: the smallest that passes; of a rising ladder that never does, the
            smallest that leaves no more members failing than the strongest; of another
            one, the one that comes nearest.
        solution: of it.
        solves: whether it passes.
        why_not: what fails, if anything.
        smaller: of one that passes the rung below, which fails, and why; or "".
        tried: how many rungs were solved.
    """

    rung: Rung
    solution: Solution
    solves: bool
    why_not: tuple[str, ...]
    smaller: str
    tried: int


@dataclass
class Trier:
    """Solves rungs, each once, and judges them.

    Attributes:
        ladder: what is climbed.
        run: brief to solution.
        solved: rung number to its solution, or why it cannot be framed.
    """

    ladder: Ladder
    run: Callable[[Brief], Solution]
    solved: dict[int, Solution | str] = field(default_factory=dict)

    def solution(self, n: int) -> Solution | str:
        """Return the solution of a rung, or why there is none."""
        if n not in self.solved:
            brief = self.ladder.rungs[n].brief
            try:
                validate(brief)
                self.solved[n] = self.run(brief)
            except SolverError as error:
                self.solved[n] = str(error)
        return self.solved[n]

    def why_not(self, n: int) -> tuple[str, ...]:
        """Return why a rung does not pass; empty where it does."""
        found = self.solution(n)
        if isinstance(found, str):
            return (found,)
        fails = why_it_fails(found)
        if fails or self.ladder.also is None:
            return fails
        return self.ladder.also(found)

    def is_weak(self, n: int) -> bool:
        """Return whether a rung fails by something that a stronger one mends.

        A deeper beam is stiffer, draws more load and rests on the same breadth; where
        that alone is too much, a still deeper one is no help.
        """
        found, ladder = self.solution(n), self.ladder
        if not self.why_not(n):
            return False
        if isinstance(found, str) or not ladder.deepens or found.refusal:
            return True
        failing = failures(found)
        return not failing or any(not _failed(member) <= _PAST for member in failing)

    def score(self, n: int) -> tuple[int, float]:
        """Return how bad a rung is: members that fail, then the worst use, to 1 %."""
        found = self.solution(n)
        if isinstance(found, str):
            return 10**9, 0.0
        worst = found.worst
        use = 0.0 if worst is None else round(worst.utilisation or 0.0, 2)
        return len(failures(found)) + 10**6 * bool(found.refusal), use


def climb(trier: Trier) -> Climbed | None:
    """Return the smallest rung that passes, or what is told where none does.

    Returns:
        None where no rung can be framed at all.
    """
    ladder = trier.ladder
    count = len(ladder.rungs)
    if ladder.rises:
        at = _first(lambda n: not trier.is_weak(n), count, ladder.likely)
    else:
        at = next((n for n in range(count) if not trier.why_not(n)), count)
    return _climbed(trier, at if at < count else _strongest(trier))


def leanest(trier: Trier) -> Climbed | None:
    """Return what is told of a ladder where no rung passes.

    Of a rising one the smallest rung that leaves no more members failing than the
    strongest does.
    """
    last = _strongest(trier)
    if not trier.ladder.rises or not trier.is_weak(last):
        return _climbed(trier, last)
    most = trier.score(last)[0]
    return _climbed(trier, _first(lambda n: trier.score(n)[0] <= most, last + 1, 0))


def _climbed(trier: Trier, at: int) -> Climbed | None:
    """Return a rung as where the search ended, None where it cannot be framed."""
    found, rungs = trier.solution(at), trier.ladder.rungs
    if isinstance(found, str):
        return None
    smaller, why_not = "", trier.why_not(at)
    if not why_not and at - 1 in trier.solved:
        why = trier.why_not(at - 1)
        smaller = f"{rungs[at - 1].size}: {why[0]}" if why else ""
    return Climbed(
        rung=rungs[at],
        solution=found,
        solves=not why_not,
        why_not=why_not,
        smaller=smaller,
        tried=len(trier.solved),
    )


def _failed(member: MemberResult) -> set[str]:
    """Return the checks that a member fails, or why it has no load path."""
    failed = {check for check, use in (member.by_check or {}).items() if use > 1}
    return failed or {member.reason}


def _first(passes: Callable[[int], bool], count: int, likely: int) -> int:
    """Return the first of so many that passes, or how many there are.

    The likely one is tried, then those beside it, toward the answer; if none of them
    passes the last one. What is left is halved.

    Args:
        passes: of a number; True for every number after one that passes.
        count: how many there are.
        likely: number that the answer is guessed to be.
    """
    low, high = -1, count  # low fails or is none, high passes or is none
    guess = min(max(likely, 0), count - 1)
    for _ in range(_NEAR):
        if not low < guess < high:
            break
        if passes(guess):
            high, guess = guess, guess - 1
        else:
            low, guess = guess, guess + 1
    if low < count - 1 and high == count:
        if not passes(count - 1):
            return count
        high = count - 1
    while high - low > 1:
        middle = (low + high) // 2
        if passes(middle):
            high = middle
        else:
            low = middle
    return high


def _strongest(trier: Trier) -> int:
    """Return the strongest rung of use, of a ladder where none passes.

    Of one that need not rise, the one that comes nearest to passing.
    """
    last = len(trier.ladder.rungs) - 1
    if not trier.ladder.rises:
        return min(range(last + 1), key=lambda n: (*trier.score(n), n))
    past = [n for n in trier.solved if not trier.is_weak(n)]
    if past:
        return min(past)
    while last > 0 and isinstance(trier.solution(last), str):
        last -= 1
    return last
