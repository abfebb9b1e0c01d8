"""The smallest rung of a ladder that passes, by halving where the ladder rises.

Every rung that is judged is solved as any brief is. The one chosen passes and the one
below it was solved and does not. A ladder that need not rise is tried rung by rung.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from ..brief.model import Brief
from ..brief.validate import validate
from ..errors import SolverError
from ..solve import Solution, solve
from .model import Ladder, Rung
from .trouble import failures, why_it_fails


@dataclass(frozen=True, eq=False, kw_only=True)
class Climbed:
    """Where a search ended.

    Attributes:
        rung: the smallest that passes, or the best of a ladder that never does.
        solution: of it.
        solves: whether it passes.
        why_not: what fails, if anything.
        smaller: the rung below, which fails, and why; "" where there is none.
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
    run: Callable[[Brief], Solution] = solve
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

    def score(self, n: int) -> tuple[int, float]:
        """Return how bad a rung is: members that fail, then the worst use, to 1 %."""
        found = self.solution(n)
        if isinstance(found, str):
            return 10**9, 0.0
        worst = found.worst
        use = 0.0 if worst is None else round(worst.utilisation or 0.0, 2)
        return len(failures(found)) + 10**6 * bool(found.refusal), use


def climb(ladder: Ladder, run: Callable[[Brief], Solution] = solve) -> Climbed | None:
    """Return the smallest rung that passes, or the best where none does.

    Args:
        ladder: at least one rung, the weakest first.
        run: how a brief is solved.

    Returns:
        None where no rung can be framed at all.
    """
    trier = Trier(ladder, run)
    high = _halved(trier) if ladder.rises else _in_turn(trier)
    at = high
    if high == len(ladder.rungs):
        at = min(trier.solved, key=lambda n: (*trier.score(n), n))
    found = trier.solution(at)
    if isinstance(found, str):
        return None
    smaller = ""
    if at > 0 and at - 1 in trier.solved:
        why = trier.why_not(at - 1)
        smaller = f"{ladder.rungs[at - 1].size}: {why[0]}" if why else ""
    return Climbed(
        rung=ladder.rungs[at],
        solution=found,
        solves=high < len(ladder.rungs),
        why_not=trier.why_not(at),
        smaller=smaller,
        tried=len(trier.solved),
    )


def _halved(trier: Trier) -> int:
    """Return the smallest rung that passes, or how many there are; by halving."""
    low, high = -1, len(trier.ladder.rungs)  # low fails or is none, high passes or none
    while high - low > 1:
        middle = (low + high) // 2
        if trier.why_not(middle):
            low = middle
        else:
            high = middle
    return high


def _in_turn(trier: Trier) -> int:
    """Return the first rung that passes, or how many there are."""
    rungs = range(len(trier.ladder.rungs))
    return next((n for n in rungs if not trier.why_not(n)), len(rungs))
