"""Work on explainers in steps beside the interface: what runs, how far it is."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass

from ..bridge.pipeline import Outcome, Pipeline
from . import lessons
from .board import Lesson
from .theatre import Steps

_LOOK = 0.05  # s between looks at the thread


@dataclass
class Job:
    """Work that is going on.

    Attributes:
        title: what is being made.
        steps: the work.
        done: is called with what it made.
        part: how far it is, 0 to 1.
        words: what is being done.
        is_stopped: whether the user stopped it.
    """

    title: str
    steps: Steps[object]
    done: Callable[[object], None]
    part: float = 0.0
    words: str = ""
    is_stopped: bool = False

    def go_on(self, seconds: float) -> bool:
        """Work for about so long; return whether there is more to do.

        Raises:
            SolverError: what is being made cannot be.
        """
        until = time.perf_counter() + seconds
        while not self.is_stopped:
            try:
                self.part, self.words = next(self.steps)
            except StopIteration as ended:
                self.done(ended.value)
                return False
            if time.perf_counter() > until:
                return True
        self.steps.close()
        return False


class Jobs:
    """The one job that runs, if any."""

    def __init__(self) -> None:
        self.now: Job | None = None


JOBS = Jobs()


def composing(key: str, outcome: Outcome, pipeline: Pipeline) -> Steps[Lesson]:
    """Compose a lesson in a thread, since what it compares with may take long.

    Raises:
        LessonError: this roof cannot give it.
    """
    found: list[Lesson] = []
    failed: list[lessons.SolverError] = []

    def work() -> None:
        try:
            found.append(lessons.lesson(key, outcome, pipeline))
        except lessons.SolverError as error:
            failed.append(error)

    thread = threading.Thread(target=work, daemon=True)
    thread.start()
    while thread.is_alive():
        thread.join(_LOOK)
        yield 0.0, "solving what the roof is compared with"
    if failed:
        raise failed[0]
    return found[0]


__all__ = ["JOBS", "Job", "composing"]
