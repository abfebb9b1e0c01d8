"""Lesson: where the hip's load goes."""

from __future__ import annotations

import numpy as np

from ...bridge import bent, drawing, ways
from ...bridge.pipeline import Outcome, Pipeline
from ..board import Actor, Lesson, Look, Step
from . import scenery as s
from .scenery import Spot

KEY, TITLE = "hip", "Where the hip's load goes"


def compose(outcome: Outcome, _pipeline: Pipeline) -> Lesson:
    """Return the lesson of a hip roof.

    Raises:
        LessonError: the roof has no hip, or its hips are not analysed.
    """
    members = outcome.solution.members
    hips = [m.key for m in members.values() if m.role == "hip_rafter"]
    if not hips:
        raise s.LessonError("This roof has no hip: two of its ends are gables.")
    rated = [k for k in hips if bent.sags_of(outcome, k)]
    if not rated:
        raise s.LessonError("The hips of this roof have no load path to show.")
    hip = max(rated, key=lambda k: members[k].utilisation or 0.0)
    sag = bent.sags_of(outcome, hip)
    assert sag is not None
    flow = outcome.solution.flow(sag.combination)
    if flow is None:
        raise s.LessonError("The roof has no analysis to show.")
    jacks = _jacks(outcome, hip)
    factor = s.factor_of((outcome,), (hip, *jacks), sag.combination)
    own = {"outcome": outcome, "combination": sag.combination}
    braces = _braces(outcome, hip)
    rest = [k for k in members if k not in {hip, *jacks, *braces}]
    rest = [k for k in rest if members[k].role != "ceiling_joist"]
    actors = (
        Actor(name="Rest", keys=tuple(rest), **own),
        Actor(name="Jacks", keys=tuple(jacks), **own),
        Actor(name="Plain hip", keys=(hip,), is_plain=True, **own),
        Actor(name="Hip", keys=(hip,), **own),
        Actor(name="Braces", keys=braces, **own),
    )
    return Lesson(
        key=KEY, title=TITLE, actors=actors, factor=factor,
        steps=_steps(outcome, hip, tuple(jacks), Spot(factor, sag.combination)),
        walls=s.wall_pieces(outcome.brief), caution=s.CAUTION, lens=s.LENS,
    )  # fmt: skip


def _jacks(outcome: Outcome, hip: str) -> list[str]:
    """Return the jacks that share a joint with a hip."""
    pieces = outcome.solution.framing.members
    joints = set(pieces[hip].nodes)
    return [
        m.key
        for m in pieces.values()
        if m.role == "jack_rafter" and joints & set(m.nodes)
    ]


def _braces(outcome: Outcome, hip: str) -> tuple[str, ...]:
    """Return struts and posts that a hip stands on."""
    flow = outcome.solution.flow()
    members = outcome.solution.members
    if flow is None:
        return ()
    takers = dict.fromkeys(h.taker for h in flow.hand_overs if h.giver == hip)
    kinds = ("strut", "post")
    return tuple(k for k in takers if k in members and members[k].role in kinds)


def _steps(
    outcome: Outcome, hip: str, jacks: tuple[str, ...], spot: Spot
) -> tuple[Step, ...]:
    """Return the steps."""

    def _longest(keys: tuple[str, ...]) -> list[str]:
        return sorted(keys, key=lambda k: -outcome.solution.framing.length(k))[:1]

    sag = bent.sags_of(outcome, hip)
    flow = outcome.solution.flow(spot.combination)
    assert sag is not None
    assert flow is not None
    look = over_corner(outcome, hip)
    whole = s.aim_at(s.ends_of(outcome, outcome.solution.members), look, around=0.2)
    near = s.aim_at(s.ends_of(outcome, (hip, *jacks)), look)
    total = s.force_words(outcome, flow.output(hip))
    ends = drawing.shares_down(outcome, hip, spot.combination)
    use = s.use_words(outcome, hip)
    rest, braces = {"Rest": Look(dim=s.DIM)}, {"Braces": Look(0)}
    down = {**rest, "Jacks": Look(None, 0.55), "Hip": Look(), "Braces": Look()}
    first = ", ".join(f"{share:.0%} on {name}" for name, share in ends[:3])
    return (
        Step(
            name="The hip",
            caption=(
                "Where two slopes meet at a corner runs the hip rafter",
                "It climbs from the corner of the walls to the end of the ridge.",
            ),
            aim=whole,
            looks={**rest, "Plain hip": Look()},
            labels=(spot.label("the hip rafter", outcome, hip, 0.5),),
        ),
        Step(
            name="Its jacks",
            caption=(
                f"{len(jacks)} shortened rafters, the jacks, end on it",
                "The longest stand near the top: there the load on the hip is largest.",
            ),
            aim=near,
            looks={**rest, "Plain hip": Look(), "Jacks": Look()},
            labels=tuple(
                spot.label("a jack rafter", outcome, key, 0.4)
                for key in _longest(jacks)
            ),
        ),
        Step(
            name="It bends",
            caption=(
                f"Together they bring the hip {total}",
                f"It {s.bends_words(outcome, sag.now)} and is used to {use}.",
            ),
            aim=near,
            looks={**rest, "Jacks": Look(0, 0.4), "Hip": Look(0), **braces},
            labels=(
                spot.label(use, outcome, hip, 0.5, 0, alarm=s.is_over(outcome, hip)),
            ),
            has_scale=True,
        ),
        Step(
            name="Where it goes",
            caption=("Followed down, the hip's load ends", f"{first}."),
            aim=near,
            looks=down,
            path=s.only(drawing.path(outcome, hip), least=0.09),
        ),
        Step(
            name="On its way",
            caption=(
                "From the shingles to the ground: every ball is a part of the load",
                "What stands under the top end of a hip must take it on.",
            ),
            aim=near,
            looks=down,
            run=ways.run_of(
                outcome,
                [(k, flow.own.get(k, 0.0)) for k in (*jacks, hip)],
                26,
                spot.combination,
            ),
            hold=6.0,
        ),
        s.closing(whole, {"Rest": Look(dim=0.6), "Jacks": Look(0), "Hip": Look(0)}),
    )


def over_corner(outcome: Outcome, hip: str) -> tuple[float, float, float]:
    """Return a direction to look in: over the hip's corner, somewhat from its side."""
    start, end = s.line(outcome, hip)
    flat = np.array([*(end - start)[:2], 0.0])
    flat /= np.linalg.norm(flat)
    side = np.array([-flat[1], flat[0], 0.0])
    look = flat + 0.75 * side
    return tuple((np.array([*look[:2], -0.62])).tolist())
