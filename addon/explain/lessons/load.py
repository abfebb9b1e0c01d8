"""Lesson: the load's way down, of one patch of roof and of the whole roof."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ...bridge import drawing, ways
from ...bridge.pipeline import Outcome, Pipeline
from ...picture.words import Label
from ..board import Actor, Lesson, Look, Step
from . import scenery as s
from .scenery import Spot

KEY, TITLE = "load", "From the shingles to the ground"
_BODIES = 150
_LEAST = 0.1  # part of the patch's load below which no arrow is drawn


def compose(outcome: Outcome, _pipeline: Pipeline) -> Lesson:
    """Return the lesson.

    Raises:
        LessonError: no rafter of the roof has a load path.
    """
    combination = outcome.solution.main_combination
    own = ways.own_loads(outcome, combination)
    members = outcome.solution.members
    roofing = {k: v for k, v in own.items() if members[k].role in s.ROOFING}
    commons = {k: v for k, v in roofing.items() if members[k].role == "rafter"}
    if not roofing:
        raise s.LessonError("No rafter of this roof has a load path to show.")
    patch = _patch(outcome, commons or roofing)
    at = s.section(outcome, patch)
    path = drawing.path(outcome, patch)
    near = s.section(outcome, patch, turn=30.0, down=16.0)
    whole = _cut_open(outcome, at)
    on_way = tuple(path.members) if path is not None else ()
    actors = (
        replace(s.context("Behind", at, (patch, *on_way)), boxes=at.walls()),
        Actor(name="Patch", outcome=outcome, keys=(patch,), slice=at.slice),
        Actor(name="On its way", outcome=outcome, slice=at.slice,
              keys=tuple(k for k in on_way if k != patch)),
        Actor(name="House", outcome=outcome, keys=whole,
 boxes=s.wall_pieces(outcome.brief)),
    )  # fmt: skip
    return Lesson(
        key=KEY, title=TITLE, actors=actors, factor=1.0,
        steps=_steps(outcome, patch, roofing, near.look, whole),
        caution=s.CAUTION, lens=s.LENS,
    )  # fmt: skip


def _patch(outcome: Outcome, rafters: dict[str, float]) -> str:
    """Return the rafter whose load takes the most turns on its way, or the heaviest."""

    def turns(key: str) -> tuple[int, float]:
        path = drawing.path(outcome, key)
        return (len(path.members) if path else 0), rafters[key]

    size = outcome.brief.footprint
    inner = [
        k for k in rafters
        if 0.2 < float(s.line(outcome, k)[:, 0].mean()) / size.length < 0.8
    ]  # fmt: skip
    return max(inner or rafters, key=turns)


def _cut_open(outcome: Outcome, at: s.Section) -> tuple[str, ...]:
    """Return the house with the slope nearest to the camera taken off."""
    look = np.array([*at.look[:2], 0.0])
    size = outcome.brief.footprint
    centre = np.array([size.length / 2, size.width / 2, 0.0])
    out = []
    for key, result in outcome.solution.members.items():
        middle = s.line(outcome, key).mean(axis=0)
        if result.role in s.ROOFING and float((middle - centre) @ look) < 0:
            continue
        out.append(key)
    return tuple(out)


def _steps(
    outcome: Outcome,
    patch: str,
    roofing: dict[str, float],
    look: tuple[float, float, float],
    whole: tuple[str, ...],
) -> tuple[Step, ...]:
    """Return the steps."""
    combination = outcome.solution.main_combination
    spot = Spot(1.0, None)
    result = outcome.solution.members[patch]
    path = drawing.path(outcome, patch)
    load = s.force_words(outcome, roofing[patch])
    on_way = tuple(path.members) if path is not None else (patch,)
    near = s.aim_at(s.ends_of(outcome, {patch, *on_way}), look, around=0.4)
    far = s.aim_at(s.ends_of(outcome, whole), look, around=0.2)
    shares = drawing.shares_down(outcome, patch, result.combination or None)
    ends = ", ".join(f"{share:.0%} on {name}" for name, share in shares[:3])
    rest = {"Behind": Look(dim=s.DIM)}
    run = ways.run_of(outcome, roofing.items(), _BODIES, combination)
    over = [k for k in outcome.solution.members if s.is_over(outcome, k)]
    each = s.force_words(outcome, run.each) if run else ""
    one = ways.run_of(
        outcome, [(patch, roofing[patch])], 16, result.combination or None
    )
    under = f"Load: {ways.load_words(outcome, combination)}."
    return (
        Step(
            name="One patch",
            caption=(
                f"One rafter carries one strip of roof: {load} when loaded the most",
                "Where does that go?",
            ),
            aim=near,
            looks={**rest, "Patch": Look()},
            labels=(spot.label(load, outcome, patch, 0.5),),
        ),
        Step(
            name="Its way",
            caption=("It goes from stick to stick, down to the walls", f"{ends}."),
            aim=near,
            looks={**rest, "Patch": Look(), "On its way": Look()},
            path=s.only(path, least=_LEAST),
            labels=_numbers(path),
        ),
        Step(
            name="Parts of it",
            caption=(
                "Every ball is a part of that load",
                "They part where one stick rests on two others.",
            ),
            aim=near,
            looks={**rest, "Patch": Look(), "On its way": Look()},
            run=one,
            hold=5.0,
        ),
        Step(
            name="The whole roof",
            caption=(
                f"Now all of the roof: a ball for every {each}",
                f"They pile up where a stick is over its limit: {len(over)} here."
                if over
                else "All of them reach the ground: no stick is over its limit.",
            ),
            aim=far,
            looks={"House": Look(dim=0.35)},
            run=run,
            hold=7.0,
            note=under,
        ),
        Step(
            name="Where it ends",
            caption=(
                "This is what arrives below",
                "Walls, posts and footings must be there for it, down to the ground.",
            ),
            aim=far,
            looks={"House": Look(dim=0.7)},
            note=under,
            labels=tuple(
                Label(f"{s.force_words(outcome, force)} on {words}", point, size=20.0)
                for words, force, point in ways.grounds(outcome, combination)[:6]
            ),
        ),
        s.closing(far, {"House": Look()}),
    )


def _numbers(path: drawing.PathView | None) -> tuple[Label, ...]:
    """Return the forces that are handed over on a way, the largest four."""
    if path is None:
        return ()
    told = [b for b in path.branches if b.text and not b.is_incoming]
    told = sorted(told, key=lambda b: -b.force)[:4]
    # A stretch may carry but a part of what is handed over; its text tells the whole.
    return tuple(Label(b.text.partition(" to ")[0], b.end, size=20.0) for b in told)
