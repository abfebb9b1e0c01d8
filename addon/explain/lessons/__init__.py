"""Story boards from the user's own solved roof: one module for each lesson."""

from __future__ import annotations

from collections.abc import Callable

from ...bridge.pipeline import Outcome, Pipeline
from ..board import Lesson
from . import bend, hip, joist, load, purlin, snow, strut, ways, years
from .scenery import LessonError, SolverError

MODULES = (strut, joist, years, bend, snow, ways, hip, purlin, load)
LESSONS: dict[str, tuple[str, Callable[[Outcome, Pipeline], Lesson]]] = {
    module.KEY: (module.TITLE, module.compose) for module in MODULES
}

__all__ = ["LESSONS", "LessonError", "SolverError", "lesson"]


def lesson(key: str, outcome: Outcome, pipeline: Pipeline) -> Lesson:
    """Return a lesson of a solved roof.

    Args:
        key: one of ``LESSONS``.
        outcome: the solved roof.
        pipeline: that solves what the lesson compares it with.

    Raises:
        LessonError: this roof cannot give it; the message says why.
    """
    if key not in LESSONS:
        raise LessonError(f"{key} is no lesson; there are {', '.join(LESSONS)}.")
    if outcome.solution.frame is None:
        why = outcome.solution.refusal
        raise LessonError(f"The roof has no analysis to show: {why}")
    return LESSONS[key][1](outcome, pipeline)
