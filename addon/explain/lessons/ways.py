"""Lesson: ways out, each one built, solved and checked."""

from __future__ import annotations

from ...bridge import bent, variants
from ...bridge.pipeline import Outcome, Pipeline
from ...bridge.variants import Remedy
from ..board import Actor, Lesson, Look, Step
from ..timeline import Aim
from . import scenery as s
from .bend import name_of, overall
from .hip import over_corner
from .scenery import Spot

KEY, TITLE = "ways", "Five ways out"
_MOST = 5
_NEW_WALL = "#3a78ae"
_CEILING = ("ceiling_joist", "beam")
_SHOWN = ("strut", "purlin", "post", *_CEILING, "ridge_beam", "web", "header")
_HIPS = ("hip_rafter", "valley_rafter")
_SLOPES = (*s.ROOFING, "valley_rafter", "ridge_board")
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
    chosen = _unlike(found)
    worst = _worst(outcome)
    sag = bent.sags_of(outcome, worst)
    combination = sag.combination if sag else None
    after = {r.key: variants.outcome_of(r) for r in chosen}
    roles = _roles(outcome, worst)
    shown = _shown(outcome, roles)
    factor = s.factor_of((outcome,), shown, combination)
    where = _where(outcome, worst, shown)
    actors = [
        Actor(name="As it is", outcome=outcome, keys=shown, combination=combination)
    ]
    for remedy in chosen:
        keys = _shown(after[remedy.key], roles)
        new = tuple(
            k for k in after[remedy.key].solution.members if _is_new(outcome, remedy, k)
        )
        actors += [
            Actor(name=remedy.key, outcome=after[remedy.key], combination=combination,
                  keys=tuple(k for k in keys if k not in set(new))),
            Actor(name=f"{remedy.key}, new", outcome=after[remedy.key], keys=new,
                  combination=combination, boxes=_new_walls(outcome, remedy),
 wall_colour=_NEW_WALL),
        ]  # fmt: skip
    steps = [_trouble(outcome, worst, shown, Spot(factor, combination), where)]
    for n, remedy in enumerate(chosen, start=1):
        steps.append(_way(after[remedy.key], remedy, worst, n, where))
    steps.append(s.closing(where, {"As it is": Look(2)}))
    return Lesson(
        key=KEY, title=_NUMBER[len(chosen)], actors=tuple(actors), steps=tuple(steps),
        factor=factor, walls=s.wall_pieces(outcome.brief), caution=s.CAUTION,
        lens=s.LENS,
    )  # fmt: skip


def _unlike(found: tuple[Remedy, ...]) -> list[Remedy]:
    """Return the best remedy of each family, best first, then the next best."""
    every = sorted(
        found, key=lambda r: (not r.solves, not r.unbeaten, r.measures.failing)
    )
    first: dict[object, Remedy] = {}
    for remedy in every:
        first.setdefault(remedy.kinds, remedy)
    best = list(first.values())[:_MOST]
    rest = [r for r in every if r not in best][: _MOST - len(best)]
    return [r for r in every if r in best or r in rest]


def _worst(outcome: Outcome) -> str:
    """Return the most used of the ceiling's members over their limit, or of the hips.

    Where all of those pass it is the most used of the others that have a span.
    """
    members = outcome.solution.members.values()
    over = [m for m in members if s.is_over(outcome, m.key)]
    ceiling = [m for m in over if m.role in _CEILING]
    hips = [m for m in over if m.role in _HIPS]
    spans = [m for m in over or members if bent.sags_of(outcome, m.key)]
    found = ceiling or hips or spans
    if not found:
        raise s.LessonError("No member of this roof has a span to show.")
    return max(found, key=lambda m: m.utilisation or 0.0).key


def _roles(outcome: Outcome, worst: str) -> tuple[str, ...]:
    """Return the roles that are shown: the slopes are taken off if they are not it."""
    on_slope = outcome.solution.members[worst].role in _SLOPES
    return (*_SHOWN, *_SLOPES) if on_slope else _SHOWN


def _shown(outcome: Outcome, roles: tuple[str, ...]) -> tuple[str, ...]:
    """Return the members that are shown."""
    members = outcome.solution.members.values()
    return tuple(m.key for m in members if m.role in roles)


def _where(outcome: Outcome, worst: str, shown: tuple[str, ...]) -> Aim:
    """Return an aim at what is shown: over a hip's corner, or along the ceiling."""
    role = outcome.solution.members[worst].role
    if role in _HIPS:
        return s.aim_at(s.ends_of(outcome, shown), over_corner(outcome, worst))
    if role in _SLOPES:
        return overall(outcome, shown)
    at = s.section(outcome, worst, turn=38.0, down=22.0)
    return s.aim_at(s.ends_of(outcome, shown), at.look)


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


def _trouble(
    outcome: Outcome, worst: str, shown: tuple[str, ...], spot: Spot, where: Aim
) -> Step:
    """Return the step that shows what is wrong."""
    failing = [k for k in shown if s.is_over(outcome, k)]
    use = s.use_words(outcome, worst)
    count = f"{len(failing)} members are over their limit" if len(failing) > 1 else use
    return Step(
        name="As it is",
        caption=(
            f"As it is: {count}",
            f"The striped ones. This {name_of(outcome, worst)}, {worst}, is used to "
            f"{use}.",
        ),
        aim=where,
        looks={"As it is": Look(0)},
        labels=(spot.label(use, outcome, worst, 0.5, 0, alarm=True),),
        has_scale=True,
    )


def _way(after: Outcome, remedy: Remedy, worst: str, number: int, where: Aim) -> Step:
    """Return the step of one remedy."""
    m = remedy.measures
    told = f"In ten years the ceiling sags {s.sag_words(after, m.ceiling.ten_years)}."
    member = after.solution.members.get(worst)
    if member is not None and member.role in _HIPS:
        told = f"The {name_of(after, worst)} is then at {s.use_words(after, worst)}."
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
            f"{solved} {told}",
            f"To carry in: {lumber}.{engineer}",
        ),
        aim=where,
        looks={remedy.key: Look(0, 0.72), f"{remedy.key}, new": Look(0)},
        has_scale=True,
        hold=4.0,
    )
