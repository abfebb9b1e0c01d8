"""Lesson: ways out, each one built, solved and checked."""

from __future__ import annotations

from ...bridge import bent, variants
from ...bridge.pipeline import Outcome, Pipeline
from ...bridge.variants import Remedy
from ..board import Actor, Lesson, Look, Step
from ..timeline import Aim
from . import scenery as s
from .scenery import Spot

KEY, TITLE = "ways", "Five ways out"
_MOST = 5
_NEW_WALL = "#3a78ae"
_SHOWN = ("strut", "purlin", "post", "beam", "ceiling_joist", "ridge_beam")
_NUMBER = {1: "One way out", 2: "Two ways out", 3: "Three ways out",
           4: "Four ways out", 5: TITLE}  # fmt: skip


def compose(outcome: Outcome, _pipeline: Pipeline) -> Lesson:
    """Return the lesson: the trouble, then five remedies, those that solve it first.

    Raises:
        LessonError: nothing is over its limit.
    """
    found = variants.ways_out(outcome)
    if not found:
        raise s.LessonError(
            "Nothing on this roof is over its limit: no way out needed."
        )
    chosen = sorted(
        found, key=lambda r: (not r.solves, not r.unbeaten, r.measures.failing)
    )[:_MOST]
    worst = _worst(outcome)
    sag = bent.sags_of(outcome, worst)
    combination = sag.combination if sag else None
    after = {r.key: variants.outcome_of(r) for r in chosen}
    factor = s.factor_of((outcome,), _shown(outcome), combination)
    at = s.section(outcome, worst, turn=38.0, down=22.0)
    where = s.aim_at(s.ends_of(outcome, _shown(outcome)), at.look)
    actors = [
        Actor(name="As it is", outcome=outcome, keys=_shown(outcome),
              combination=combination)
    ]  # fmt: skip
    for remedy in chosen:
        keys = _shown(after[remedy.key])
        new = tuple(k for k in keys if _is_new(outcome, remedy, k))
        actors += [
            Actor(name=remedy.key, outcome=after[remedy.key], combination=combination,
                  keys=tuple(k for k in keys if k not in set(new))),
            Actor(name=f"{remedy.key}, new", outcome=after[remedy.key], keys=new,
                  combination=combination, boxes=_new_walls(outcome, remedy),
 wall_colour=_NEW_WALL),
        ]  # fmt: skip
    steps = [_trouble(outcome, worst, Spot(factor, combination), where)]
    for n, remedy in enumerate(chosen, start=1):
        steps.append(_way(after[remedy.key], remedy, n, where))
    steps.append(s.closing(where, {"As it is": Look(2)}))
    return Lesson(
        key=KEY, title=_NUMBER[len(chosen)], actors=tuple(actors), steps=tuple(steps),
        factor=factor, walls=s.wall_pieces(outcome.brief), caution=s.CAUTION,
        lens=s.LENS,
    )  # fmt: skip


def _worst(outcome: Outcome) -> str:
    """Return the member of the ceiling, or else of all, that is used the most."""
    members = outcome.solution.members.values()
    level = [m for m in members if m.role in ("ceiling_joist", "beam")]
    over = [m for m in level if (m.utilisation or 0) > 1]
    found = max(over or level or members, key=lambda m: m.utilisation or 0.0)
    return found.key


def _shown(outcome: Outcome) -> tuple[str, ...]:
    """Return what is shown with the roof taken off."""
    members = outcome.solution.members.values()
    return tuple(m.key for m in members if m.role in _SHOWN)


def _is_new(outcome: Outcome, remedy: Remedy, key: str) -> bool:
    """Return whether a member is new, or another piece than before."""
    before = outcome.solution.members.get(key)
    after = remedy.solution.members[key]
    if before is None:
        return True
    return (before.size, before.plies) != (after.size, after.plies)


def _new_walls(outcome: Outcome, remedy: Remedy) -> tuple[s.Piece, ...]:
    """Return the walls that a remedy builds."""
    old = {(wall.start, wall.end) for wall in s.wall_pieces(outcome.brief)}
    new = s.wall_pieces(remedy.brief)
    return tuple(wall for wall in new if (wall.start, wall.end) not in old)


def _trouble(outcome: Outcome, worst: str, spot: Spot, where: Aim) -> Step:
    """Return the step that shows what is wrong."""
    failing = [k for k in _shown(outcome) if s.is_over(outcome, k)]
    use = s.use_words(outcome, worst)
    count = f"{len(failing)} members are over their limit" if len(failing) > 1 else use
    return Step(
        name="As it is",
        caption=(
            f"As it is: {count}",
            f"The striped ones. {worst} is used to {use}.",
        ),
        aim=where,
        looks={"As it is": Look(0)},
        labels=(spot.label(use, outcome, worst, 0.5, 0, alarm=True),),
        has_scale=True,
    )


def _way(after: Outcome, remedy: Remedy, number: int, where: Aim) -> Step:
    """Return the step of one remedy."""
    m = remedy.measures
    sag = s.sag_words(after, m.ceiling.ten_years)
    lumber = f"{m.pieces.count} pieces, {m.pieces.board_feet:,.0f} board feet"
    if m.walls:
        lumber = f"{s.length_words(after, m.walls)} of new wall; {lumber}"
    engineer = " Needs an engineer." if remedy.engineer else ""
    still = f"{m.failing} still fail." if m.failing > 1 else "One member still fails."
    solved = (
        f"The most used stick is at {m.utilisation or 0:.0%} of its limit."
        if remedy.solves
        else f"Not enough by itself: {still}"
    )
    return Step(
        name=remedy.title[:40],
        caption=(
            f"{number}. {remedy.title[0].upper()}{remedy.title[1:]}",
            f"{solved} In ten years the ceiling sags {sag}.",
            f"To carry in: {lumber}.{engineer}",
        ),
        aim=where,
        looks={remedy.key: Look(0, 0.72), f"{remedy.key}, new": Look(0)},
        has_scale=True,
        hold=4.0,
    )
