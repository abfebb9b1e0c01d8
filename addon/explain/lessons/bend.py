"""Lesson: how the whole roof bends, every member of it, from day one to fifty years."""

from __future__ import annotations

import math
from collections.abc import Iterable

from ...bridge import bent
from ...bridge.pipeline import Outcome, Pipeline
from ...picture.words import Label
from ..board import Actor, Lesson, Look, Step
from ..timeline import Aim
from . import scenery as s
from .scenery import Spot

KEY, TITLE = "bend", "How the whole roof bends"
_CREEP = "Years by a published law of creep, scaled to the code's factor."
_NAMES = {
    "rafter": "rafter", "jack_rafter": "jack rafter", "hip_rafter": "hip",
    "valley_rafter": "valley", "ceiling_joist": "ceiling joist", "beam": "beam",
    "purlin": "purlin", "ridge_beam": "ridge beam",
}  # fmt: skip
_TURN, _DOWN = 32.0, 27.0  # degrees that a whole roof is looked at from
_MOST = 2  # members that are named in the picture


def compose(outcome: Outcome, _pipeline: Pipeline) -> Lesson:
    """Return the lesson.

    Raises:
        LessonError: no member has a sag.
    """
    worst = worst_of_roles(outcome)
    if not worst:
        raise s.LessonError("This roof has no member with a sag to show.")
    shapes = bent.shapes_of(outcome)
    assert shapes is not None
    keys = tuple(outcome.solution.members)
    factor = s.factor_of((outcome,), keys, shapes.combination)
    spot = Spot(factor, shapes.combination)
    where = overall(outcome, keys)
    actor = Actor(
        name="Roof", outcome=outcome, keys=keys, combination=shapes.combination
    )
    return Lesson(
        key=KEY, title=TITLE, actors=(actor,), factor=factor,
        steps=_steps(outcome, worst, spot, where, len(shapes.members)),
        walls=s.wall_pieces(outcome.brief), caution=s.CAUTION, lens=s.LENS,
    )  # fmt: skip


def overall(
    outcome: Outcome, keys: Iterable[str], against: tuple[float, float] = (0.0, 0.0)
) -> Aim:
    """Return an aim at a whole roof, on its longer side, from one corner and above.

    Args:
        outcome: the solved roof.
        keys: of the members that are seen.
        against: way on plan that it must not look along, such as a slope's fall.
    """
    size, down = outcome.brief.footprint, math.radians(_DOWN)
    turn = math.radians(_TURN)
    across, along = math.cos(turn), math.sin(turn)
    flat = (along, across) if size.length >= size.width else (across, -along)
    if flat[0] * against[0] + flat[1] * against[1] > 0:
        flat = (-flat[0], -flat[1])
    look = (*(math.cos(down) * v for v in flat), -math.sin(down))
    return s.aim_at(s.ends_of(outcome, keys), look, room=(0.06, 0.94, 0.31, 0.8))


def worst_of_roles(outcome: Outcome) -> tuple[str, ...]:
    """Return members of different kinds that sag most in fifty years, largest first.

    Those whose worst load is another than the one that is drawn are left out, so that
    what is written is what is seen.
    """
    found: dict[str, tuple[float, str]] = {}
    shapes = bent.shapes_of(outcome)
    for key, member in outcome.solution.members.items():
        sags = bent.sags_of(outcome, key) if member.role in _NAMES else None
        if shapes is None or sags is None or not sags.fifty > 0:
            continue
        if sags.combination == shapes.combination:
            most = found.get(member.role, (0.0, ""))
            found[member.role] = max(most, (sags.fifty, key))
    return tuple(key for _, key in sorted(found.values(), reverse=True)[:_MOST])


def name_of(outcome: Outcome, key: str) -> str:
    """Return what people call a member of this kind."""
    role = outcome.solution.members[key].role
    return _NAMES.get(role, role.replace("_", " "))


def _labels(
    outcome: Outcome, worst: tuple[str, ...], spot: Spot, bend: int
) -> tuple[Label, ...]:
    """Return the sags of the worst at a time, in words."""
    out = []
    for key in worst:
        sags = bent.sags_of(outcome, key)
        assert sags is not None
        sag = (sags.now, sags.ten, sags.fifty)[bend]
        words = f"{name_of(outcome, key)} {s.sag_words(outcome, sag)}"
        alarm = s.is_over(outcome, key)
        out.append(spot.label(words, outcome, key, 0.5, bend, alarm=alarm))
    return tuple(out)


def _steps(
    outcome: Outcome, worst: tuple[str, ...], spot: Spot, where: Aim, count: int
) -> tuple[Step, ...]:
    """Return the steps."""
    sags = bent.sags_of(outcome, worst[0])
    assert sags is not None
    name = name_of(outcome, worst[0])

    def at(bend: int, caption: tuple[str, ...], title: str) -> Step:
        return Step(
            name=title,
            caption=caption,
            aim=where,
            looks={"Roof": Look(bend)},
            labels=_labels(outcome, worst, spot, bend),
            has_scale=True,
            note=_CREEP if bend else "",
            move=2.0,
        )

    return (
        Step(
            name="As framed",
            caption=(
                "The roof as it was framed: every stick is straight",
                f"{count} of them are in the analysis.",
            ),
            aim=where,
            looks={"Roof": Look()},
            has_legend=True,
        ),
        at(
            0,
            (
                f"Loaded: every stick bends; the worst {name} sags "
                f"{s.sag_words(outcome, sags.now)}",
                "Each one leans on the next: where one sags, what stands on it "
                "comes down with it.",
            ),
            "Loaded",
        ),
        at(
            1,
            (
                f"Ten years on, the same {name}: {s.sag_words(outcome, sags.ten)}",
                "Wood under a lasting load goes on bending: it creeps.",
            ),
            "Ten years",
        ),
        at(
            2,
            (
                f"Fifty years on: {s.sag_words(outcome, sags.fifty)}",
                "Most of it came early; what has crept does not come back.",
            ),
            "Fifty years",
        ),
        s.closing(where, {"Roof": Look(2)}),
    )
