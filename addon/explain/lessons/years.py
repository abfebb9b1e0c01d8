"""Lesson: what happens in ten years, and how the whole roof bends."""

from __future__ import annotations

import math

from ...bridge import bent
from ...bridge.pipeline import Outcome, Pipeline
from ..board import Actor, Lesson, Look, Step
from . import scenery as s
from .scenery import Spot

KEY, TITLE = "years", "What happens in ten years"
_CREEP = "Years by a published law of creep, scaled to the code's factor."


def compose(outcome: Outcome, _pipeline: Pipeline) -> Lesson:
    """Return the lesson: all joists and what stands on them, from day one to fifty.

    Raises:
        LessonError: the roof has no joists or beams at the ceiling.
    """
    members = outcome.solution.members
    ceiling = [
        m.key
        for m in members.values()
        if m.role in ("ceiling_joist", "beam") and bent.sags_of(outcome, m.key)
    ]
    if not ceiling:
        raise s.LessonError("This roof has no ceiling joist or beam that is analysed.")

    def fifty(key: str) -> float:
        sags = bent.sags_of(outcome, key)
        return sags.fifty if sags else 0.0

    worst = max(ceiling, key=fifty)
    sag = bent.sags_of(outcome, worst)
    assert sag is not None
    factor = s.factor_of((outcome,), ceiling, sag.combination)
    above = _above(outcome)
    look = _look(outcome, worst)
    own = {"outcome": outcome, "combination": sag.combination}
    actors = (
        Actor(name="Ceiling", keys=tuple(ceiling), **own),
        Actor(name="Over it", keys=above, **own),
    )
    return Lesson(
        key=KEY, title=TITLE, actors=actors, factor=factor,
        steps=_steps(outcome, worst, Spot(factor, sag.combination), look, above),
        walls=s.wall_pieces(outcome.brief), caution=s.CAUTION, lens=s.LENS,
    )  # fmt: skip


def _above(outcome: Outcome) -> tuple[str, ...]:
    """Return what stands on the ceiling, the roof itself left out."""
    kinds = ("strut", "purlin", "post")
    return tuple(m.key for m in outcome.solution.members.values() if m.role in kinds)


def _look(outcome: Outcome, worst: str) -> tuple[float, float, float]:
    """Return a direction to look in: across the worst member and down."""
    at = s.section(outcome, worst, turn=38.0, down=24.0)
    return at.look


def _steps(
    outcome: Outcome,
    worst: str,
    spot: Spot,
    look: tuple[float, float, float],
    above: tuple[str, ...],
) -> tuple[Step, ...]:
    """Return the steps."""
    members = outcome.solution.members
    sag = bent.sags_of(outcome, worst)
    aged = bent.ages_of(outcome)
    assert sag is not None
    assert aged is not None
    joists = [m.key for m in members.values() if m.role in ("ceiling_joist", "beam")]
    whole = s.aim_at(s.ends_of(outcome, (*joists, *above)), look)
    near = s.aim_at(s.ends_of(outcome, (worst,)), look, around=1.0)
    name = "the beam" if members[worst].role == "beam" else "the joist that sags most"
    over = {"Over it": Look(0, 0.7)}

    def place(bend: int | None, words: str, *, alarm: bool = False) -> tuple:
        return (spot.label(words, outcome, worst, 0.5, bend, alarm=alarm),)

    alarm = s.is_over(outcome, worst)
    pair = _worst_pair(outcome)
    return (
        Step(
            name="As built",
            caption=(
                "The ceiling on the day it is built: every joist is straight",
                f"{sum(m.role == 'ceiling_joist' for m in members.values())} joists "
                "hold up the ceiling and what stands on them.",
            ),
            aim=whole,
            looks={"Ceiling": Look(), "Over it": Look(dim=0.7)},
            labels=place(None, name),
            has_scale=True,
        ),
        Step(
            name="Loaded",
            caption=(
                f"When the load comes, the worst sags {s.sag_words(outcome, sag.now)}",
                f"Over a span of {s.length_words(outcome, sag.span)}.",
            ),
            aim=whole,
            looks={"Ceiling": Look(0), **over},
            labels=place(0, f"sags {s.sag_words(outcome, sag.now)}", alarm=alarm),
            has_scale=True,
        ),
        Step(
            name="Ten years",
            caption=(
                f"After ten years: {s.sag_words(outcome, sag.ten)}",
                "Wood under a lasting load goes on bending: it creeps.",
            ),
            aim=near,
            looks={"Ceiling": Look(1), "Over it": Look(1, 0.7)},
            labels=place(1, f"sags {s.sag_words(outcome, sag.ten)}", alarm=alarm),
            has_scale=True,
            note=_CREEP,
            move=2.0,
        ),
        Step(
            name="Fifty years",
            caption=(
                f"After fifty years: {s.sag_words(outcome, sag.fifty)}",
                "Most of it came early; what has crept does not come back.",
            ),
            aim=near,
            looks={"Ceiling": Look(2), "Over it": Look(2, 0.7)},
            labels=place(2, f"sags {s.sag_words(outcome, sag.fifty)}", alarm=alarm),
            has_scale=True,
            note=_CREEP,
            move=2.0,
        ),
        *((_crack(outcome, spot, look, pair),) if pair else ()),
        s.closing(whole, {"Ceiling": Look(2), **over}),
    )


def _worst_pair(outcome: Outcome) -> tuple[str, str] | None:
    """Return the two side by side that part the most in ten years, over the limit."""
    aged = bent.ages_of(outcome)
    assert aged is not None
    ten = aged.names.index("10 years")
    found = [p for p in aged.neighbours if p.may_crack[ten]]
    if not found:
        return None
    worst = max(found, key=lambda p: float(p.growth[ten]) / (p.limit or math.inf))
    return worst.first, worst.second


def _crack(
    outcome: Outcome,
    spot: Spot,
    look: tuple[float, float, float],
    pair: tuple[str, str],
) -> Step:
    """Return the step that shows where a ceiling may crack."""
    aged = bent.ages_of(outcome)
    assert aged is not None
    both = next(p for p in aged.neighbours if (p.first, p.second) == pair)
    ten = aged.names.index("10 years")
    grown = s.sag_words(outcome, float(both.growth[ten]))
    limit = s.sag_words(outcome, both.limit or 0.0)
    return Step(
        name="Side by side",
        caption=(
            f"Worse than the sag: two neighbours move {grown} apart",
            f"A ceiling between them may crack over {limit}.",
        ),
        aim=s.aim_at(s.ends_of(outcome, pair), look, around=0.8),
        looks={"Ceiling": Look(1), "Over it": Look(1, 0.85)},
        labels=(
            spot.label(f"{grown} apart", outcome, pair[0], 0.5, 1, alarm=True),
            spot.label("its neighbour", outcome, pair[1], 0.5, 1),
        ),
        has_scale=True,
        note=_CREEP,
    )
