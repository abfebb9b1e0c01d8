"""Lesson: a rafter's span with and without a purlin, next to each other."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ...bridge import bent, variants
from ...bridge.pipeline import Outcome, Pipeline
from ...bridge.walls import Piece
from ...picture.words import Label
from ..board import Actor, Lesson, Look, Step
from . import scenery as s
from .scenery import Spot
from .strut import heaviest_strut, purlin_under, rafter_over

KEY, TITLE = "purlin", "A rafter with and without a purlin"
_NEAR = 0.6  # m of house that is left on each side of the cut


def compose(outcome: Outcome, pipeline: Pipeline) -> Lesson:
    """Return the lesson.

    Raises:
        LessonError: the roof has no purlin on a strut.
    """
    strut = heaviest_strut(outcome)
    rafter, purlin = rafter_over(outcome, strut), purlin_under(outcome, strut)
    bare = variants.without_purlins(outcome, pipeline)
    if bare is None or rafter not in bare.solution.members:
        raise s.LessonError("The roof cannot be framed without its purlins.")
    held, alone = bent.sags_of(outcome, rafter), bent.sags_of(bare, rafter)
    if held is None or alone is None:
        raise s.LessonError(f"{rafter} has no sag to show: it was not analysed.")
    combination = alone.combination
    at = s.section(outcome, rafter, turn=16.0, down=8.0, before=0.5, behind=_NEAR)
    offset = _beside(outcome, at, rafter)
    factor = s.factor_of((outcome, bare), (rafter,), combination)
    own = {"slice": at.slice, "combination": combination}
    off = {**own, "offset": offset, "outcome": bare}
    house = _house(outcome, at, rafter)
    own["outcome"] = outcome
    actors = (
        Actor(name="Plain without", keys=(rafter,), is_plain=True, **off),
        Actor(name="Without", keys=(rafter,), **off),
        Actor(name="House without", **off,
              keys=tuple(k for k in house if k in bare.solution.members)),
        Actor(name="Plain with", keys=(rafter, purlin, strut), is_plain=True, **own),
        Actor(name="With", keys=(rafter,), **own),
        Actor(name="Help", keys=(purlin, strut), **own),
        Actor(name="House with", keys=house, **own),
    )  # fmt: skip
    spot = Spot(factor, combination)
    return Lesson(
        key=KEY, title=TITLE, actors=actors, factor=factor, caution=s.CAUTION,
        steps=_steps((bare, outcome), (rafter, purlin, strut), spot, at.look, offset),
        walls=_walls(at, rafter, offset), lens=s.LENS,
    )  # fmt: skip


def _beside(outcome: Outcome, at: s.Section, rafter: str) -> tuple[float, float, float]:
    """Return how far off the second rafter stands: to the left in the picture."""
    ends = s.ends_of(outcome, (rafter,))
    along = ends[1] - ends[0]
    along[2] = 0.0
    along /= np.linalg.norm(along)
    right = np.cross(at.look, [0.0, 0.0, 1.0])
    wide = float(np.ptp(ends @ along)) + 1.5
    return tuple((-np.sign(along @ right) * wide * along).tolist())


def _house(outcome: Outcome, at: s.Section, rafter: str) -> tuple[str, ...]:
    """Return what stands around a rafter on its own side of the house."""
    roles = ("ceiling_joist", "ridge_board", "ridge_beam", "plate")
    ends = s.ends_of(outcome, (rafter,))[:, :2]
    low, high = ends.min(axis=0) - 0.4, ends.max(axis=0) + 0.4
    axis = int(np.ptp(ends, axis=0).argmax())
    out = []
    for key in at.keys(roles=roles):
        middle = s.line(outcome, key).mean(axis=0)
        if low[axis] <= middle[axis] <= high[axis]:
            out.append(key)
    return tuple(out)


def _walls(at: s.Section, rafter: str, offset: tuple) -> tuple[Piece, ...]:
    """Return the walls on the rafter's side, and the same under its twin."""
    ends = s.ends_of(at.outcome, (rafter,))[:, :2]
    axis = int(np.ptp(ends, axis=0).argmax())
    low, high = ends[:, axis].min() - 0.5, ends[:, axis].max() + 0.5
    out = []
    for wall in at.walls():
        if low <= (wall.start[axis] + wall.end[axis]) / 2 <= high:
            out += [wall, wall.moved(offset, "twin")]
    return tuple(out)


def _steps(
    both: tuple[Outcome, Outcome],
    keys: tuple[str, str, str],
    spot: Spot,
    look: tuple[float, float, float],
    offset: tuple[float, float, float],
) -> tuple[Step, ...]:
    """Return the steps: straight, loaded, and what it costs."""
    bare, outcome = both
    rafter, purlin, strut = keys
    held, alone = bent.sags_of(outcome, rafter), bent.sags_of(bare, rafter)
    assert held is not None
    assert alone is not None
    ends = s.ends_of(outcome, (rafter,))
    where = s.aim_at(np.vstack([ends, ends + offset]), look)
    house = {"House without": Look(dim=s.DIM), "House with": Look(dim=s.DIM)}

    def label(
        words: str, one: Outcome, key: str, part: float, bend: int | None = None
    ) -> Label:
        alarm = bend is not None and s.is_over(one, key)
        made = spot.label(words, one, key, part, bend, alarm=alarm)
        return replace(made, point=made.point + (offset if one is bare else 0.0))

    spans = (
        label(f"spans {s.length_words(bare, alone.span)}", bare, rafter, 0.5),
        label(f"spans {s.length_words(outcome, held.span)}", outcome, rafter, 0.75),
    )
    uses = (
        label(s.use_words(bare, rafter), bare, rafter, 0.5, 0),
        label(s.use_words(outcome, rafter), outcome, rafter, 0.75, 0),
    )
    size = outcome.solution.members[rafter].size
    force = s.force_words(outcome, outcome.solution.members[strut].axial)
    times = alone.now / held.now if held.now > 0 else 0.0
    return (
        Step(
            name="Two rafters",
            caption=(
                f"The same rafter, a {size}: alone, and over a purlin",
                "The purlin runs under the rafters; a strut holds it up.",
            ),
            aim=where,
            looks={**house, "Plain without": Look(), "Plain with": Look()},
            labels=(*spans, label("the purlin", outcome, purlin, _part(outcome, keys))),
        ),
        Step(
            name="Loaded",
            caption=(
                f"Alone it sags {s.sag_words(bare, alone.now)}; over the purlin it "
                f"{s.bends_words(outcome, held.now)}",
                f"{times:.1f} times as much; used to {s.use_words(bare, rafter)}, not "
                f"{s.use_words(outcome, rafter)}."
                if times >= 1.5
                else f"It is used to {s.use_words(bare, rafter)} and to "
                f"{s.use_words(outcome, rafter)}.",
            ),
            aim=where,
            looks={**house, "Without": Look(0), "With": Look(0), "Help": Look(0)},
            labels=uses,
            has_scale=True,
            move=1.5,
        ),
        Step(
            name="The price",
            caption=(
                f"The price: the strut under the purlin sets {force} down",
                "A wall, or a beam on posts, must be there to take it to the ground.",
            ),
            aim=where,
            looks={**house, "Without": Look(0, 0.7), "With": Look(0, 0.7),
                   "Help": Look(0)},
            labels=(label(force, outcome, strut, 0.3, 0),),
            has_scale=True,
        ),
        s.closing(where, {**house, "Without": Look(0), "With": Look(0),
                          "Help": Look(0)}),
    )  # fmt: skip


def _part(outcome: Outcome, keys: tuple[str, str, str]) -> float:
    """Return where along the purlin its strut holds it."""
    _, purlin, strut = keys
    start, end = s.line(outcome, purlin)
    head = max(s.line(outcome, strut), key=lambda p: float(p[2]))
    axis = end - start
    return float((head - start) @ axis / (axis @ axis))
