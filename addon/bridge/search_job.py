"""The search for what to build instead, beside the interface and stoppable.

Pure of Blender: a thread that solves roofs and touches nothing else.
"""

from __future__ import annotations

import threading
from collections.abc import Callable

from ...solver.brief import Brief
from ...solver.errors import SolverError
from ...solver.remedy import Comparison, remedies
from ...solver.remedy.compare import proposals
from ...solver.solve import Solution, solve


class StoppedError(Exception):
    """The search was stopped by hand."""


class SearchJob:
    """One search, from start to its comparison.

    Attributes:
        before: the solved roof that is to be mended.
        solved: roofs solved so far.
        expected: roofs that it will take, about.
        comparison: what was found, None until then.
        error: why the search could not be made, or "".
    """

    def __init__(
        self, before: Solution, run: Callable[[Brief], Solution] = solve
    ) -> None:
        self.before, self._run = before, run
        self.solved, self.expected = 0, 0
        self.comparison: Comparison | None = None
        self.error = ""
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self.work, daemon=True)

    @property
    def part(self) -> float:
        """How far it has come, 0 to 1."""
        return min(self.solved / self.expected, 1.0) if self.expected else 0.0

    @property
    def is_running(self) -> bool:
        """Whether it still works."""
        return self._thread.is_alive()

    @property
    def is_stopped(self) -> bool:
        """Whether it was stopped by hand."""
        return self._stop.is_set()

    def start(self) -> None:
        """Work beside whoever called."""
        self._thread.start()

    def stop(self) -> None:
        """Stop after the roof that is being solved, and wait for it."""
        self._stop.set()
        if self._thread.is_alive():
            self._thread.join()

    def work(self) -> None:
        """Search to the end in the thread that calls."""
        try:
            self.expected = _expected(self.before)
            self.comparison = remedies(self.before.brief, self._counted)
        except StoppedError:
            return
        except SolverError as error:
            self.error = str(error)
        except Exception:
            self.error = "The search broke off; the system console holds the details"
            raise

    def _counted(self, brief: Brief) -> Solution:
        """Solve one roof, and count it.

        Raises:
            StoppedError: the search was stopped meanwhile.
        """
        if self._stop.is_set():
            raise StoppedError
        if brief == self.before.brief:
            return self.before
        found = self._run(brief)
        self.solved += 1
        return found


def _expected(before: Solution) -> int:
    """Return how many roofs a search solves, about: two for each remedy."""
    ladders = [ladder for ladder in proposals(before) if not ladder.spare]
    return 1 + sum(min(2, len(ladder.rungs)) for ladder in ladders)
