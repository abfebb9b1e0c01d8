"""Lesson: snow comes and goes, what has crept stays."""

from __future__ import annotations

import numpy as np

from ...bridge import bent, marking
from ...bridge.bent import Winters
from ...bridge.pipeline import Outcome, Pipeline
from ...picture.words import Label
from ..board import Actor, Lesson, Look, Step
from ..timeline import Aim
from . import scenery as s
from .bend import name_of, overall
from .scenery import Spot

KEY, TITLE = "snow", "Snow comes and goes"
_CREEP = "Years by a published law of creep. Snow is taken not to creep."


def compose(outcome: Outcome, _pipeline: Pipeline) -> Lesson:
    """Return the lesson.

    Raises:
        LessonError: no snow lies on this roof, or it bends nothing.
    """
    told = bent.winters_of(outcome)
    if told is None:
        raise s.LessonError("This roof has no snow: state a ground snow load.")
    row = int(np.argmax(told.snow))
    if not told.snow[row] > 0:
        raise s.LessonError("Snow bends no member of this roof.")
    keys = tuple(outcome.solution.members)
    factor = s.factor_of((outcome,), keys, told.snowed)
    actor = Actor(
        name="Roof", outcome=outcome, keys=keys, combination=told.bare,
        snowed=told.snowed, shaded=told.bare,
    )  # fmt: skip
    return Lesson(
        key=KEY, title=TITLE, actors=(actor,), factor=factor,
        steps=_steps(outcome, told, row, factor, overall(outcome, keys)),
        walls=s.wall_boxes(outcome.brief), caution=s.CAUTION, lens=s.LENS,
    )  # fmt: skip


def _use(outcome: Outcome, key: str, combination: str) -> str:
    """Return how far a member is used in one combination, in words."""
    use = marking.use_under(outcome.solution.members[key], combination)
    return f"{use:.1f} times its limit" if use > 1.05 else f"{use:.0%} of its limit"


def _steps(
    outcome: Outcome, told: Winters, row: int, factor: float, where: Aim
) -> tuple[Step, ...]:
    """Return the steps: a summer, a winter, and the same after years."""
    key = told.member[row]
    name = name_of(outcome, key)
    dry = [s.sag_words(outcome, float(v[row])) for v in told.without]
    wet = [s.sag_words(outcome, float(v[row] + told.snow[row])) for v in told.without]
    adds = s.sag_words(outcome, float(told.snow[row]))

    def label(words: str, bend: int, *, snow: bool) -> tuple[Label, ...]:
        combination = told.snowed if snow else told.bare
        use = marking.use_under(outcome.solution.members[key], combination)
        spot = Spot(factor, combination)
        return (spot.label(words, outcome, key, 0.5, bend, alarm=use > 1),)

    def at(
        title: str, bend: int, snow: float, words: str, caption: tuple[str, ...],
        **more: float,
    ) -> Step:  # fmt: skip
        return Step(
            name=title, caption=caption, aim=where,
            looks={"Roof": Look(bend, snow=snow)},
            labels=label(words, bend, snow=bool(snow)), has_scale=True,
            note=_CREEP if bend else "", **{"move": 1.5, **more},
        )  # fmt: skip

    return (
        at(
            "First summer", 0, 0.0, f"{name} sags {dry[0]}",
            (
                f"Summer, no snow: this {name} sags {dry[0]} under the lasting load",
                f"It is used to {_use(outcome, key, told.bare)}.",
            ),
        ),
        at(
            "First winter", 0, 1.0, f"{name} sags {wet[0]}",
            (
                f"The first snow presses it {adds} further down, to {wet[0]}",
                f"While the snow lies it is used to {_use(outcome, key, told.snowed)}.",
            ),
        ),
        at(
            "First spring", 0, 0.0, f"back to {dry[0]}",
            (
                f"The snow melts, and the {name} comes back up to {dry[0]}",
                "Within its limit, wood springs back from a load that goes again.",
            ),
        ),
        at(
            "Ten years", 1, 0.0, f"sags {dry[1]}",
            (
                f"Ten winters later, without snow: {dry[1]}, not {dry[0]} any more",
                "What lies on it day and night has bent it for good: it creeps.",
            ),
            move=8.0, winters=10,
        ),
        at(
            "Snow again", 1, 1.0, f"sags {wet[1]}",
            (
                f"The same snow again, and now it sags {wet[1]}",
                f"The snow adds {adds}, as it did on the first day.",
            ),
        ),
        at(
            "Fifty years", 2, 1.0, f"sags {wet[2]}",
            (
                f"After fifty years: {dry[2]} without snow, {wet[2]} with it",
                f"The snow still adds {adds}; the rest stays.",
            ),
            move=3.0,
        ),
        s.closing(where, {"Roof": Look(2)}),
    )  # fmt: skip
