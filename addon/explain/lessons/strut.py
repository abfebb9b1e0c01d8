"""Lesson: what a strut does."""

from __future__ import annotations

import numpy as np

from ...bridge import bent, drawing, variants, ways
from ...bridge.pipeline import Outcome, Pipeline
from ..board import Actor, Lesson, Look, Step
from . import scenery as s
from .scenery import Spot

KEY, TITLE = "strut", "What a strut does"


def compose(outcome: Outcome, pipeline: Pipeline) -> Lesson:
    """Return the lesson of a roof.

    Raises:
        LessonError: the roof has no strut, or none that takes load.
    """
    strut = heaviest_strut(outcome)
    purlin = purlin_under(outcome, strut)
    rafter = rafter_over(outcome, strut)
    bare = variants.without_purlins(outcome, pipeline)
    if bare is None or rafter not in bare.solution.members:
        raise s.LessonError("The roof cannot be framed without its purlins.")
    sag = bent.sags_of(outcome, rafter)
    alone = bent.sags_of(bare, rafter)
    if sag is None or alone is None:
        raise s.LessonError(f"{rafter} has no sag to show: it was not analysed.")
    factor = s.factor_of((outcome, bare), (rafter,), sag.combination)
    spot = Spot(factor, sag.combination)
    at = s.section(outcome, rafter)
    foot = outcome.solution.members[strut].stands_on
    lands = foot.name if foot and foot.name in outcome.solution.members else ""
    actors = _actors(outcome, bare, at, (rafter, purlin, strut, lands), sag.combination)
    whole = s.aim_at(s.ends_of(outcome, at.keys(roles=s.ROOFING)), at.look)
    near = s.aim_at(
        s.ends_of(outcome, (rafter, strut)), at.look, room=(0.12, 0.88, 0.33, 0.84)
    )
    result = outcome.solution.members[rafter]
    load = outcome.solution.flow(sag.combination)
    own = load.own.get(rafter, 0.0) if load is not None else 0.0
    f = s.force_words(outcome, outcome.solution.members[strut].axial)
    down = drawing.path(outcome, strut)
    rest = {"Behind": Look(dim=s.DIM)}
    steps = (
        Step(
            name="The rafter",
            caption=(
                "The roof lies on rafters, from the wall up to the ridge",
                f"This one holds up {s.force_words(outcome, own)} of roof when it is "
                "loaded the most.",
            ),
            aim=whole,
            looks={**rest, "Plain": Look()},
            labels=(spot.label("a rafter", bare, rafter, 0.55),),
        ),
        Step(
            name="On its own",
            caption=(
                f"On its own it bends {s.sag_words(bare, alone.now)} the day the load "
                "comes",
                f"It spans {s.length_words(bare, alone.span)} and is used to "
                f"{s.use_words(bare, rafter)}.",
            ),
            aim=near,
            looks={**rest, "Rafter alone": Look(0)},
            labels=(
                spot.label(
                    s.use_words(bare, rafter), bare, rafter, 0.5, 0,
                    alarm=s.is_over(bare, rafter),
                ),
            ),
            has_scale=True,
        ),
        Step(
            name="The strut",
            caption=(
                "A purlin runs under the rafters, and a strut holds it up",
                f"Now the rafter {s.bends_words(outcome, sag.now)} and is used to "
                f"{s.use_words(outcome, rafter)}.",
            ),
            aim=near,
            looks={**rest, "Rafter": Look(0), "Purlin": Look(0), "Strut": Look(0)},
            labels=(
                spot.label("the purlin", outcome, purlin, s.part_seen(at, purlin)),
                spot.label("the strut", outcome, strut, 0.45),
                spot.label(s.use_words(outcome, rafter), outcome, rafter, 0.3, 0,
                           alarm=s.is_over(outcome, rafter)),
            ),
            has_scale=True,
        ),
        Step(
            name="What it takes",
            caption=(
                f"But the load is not gone: the strut sets down {f}",
                f"It stands on {_landing(outcome, strut)}. Whatever that is must carry "
                "it, down to the ground.",
            ),
            aim=near,
            looks={**rest, "Rafter": Look(None, 0.7), "Purlin": Look(None, 0.4),
                   "Strut": Look(), "Landing": Look()},
            path=s.only(down, (strut, lands)),
            labels=(spot.label(f, outcome, strut, 0.3),),
        ),
        Step(
            name="On its way",
            caption=(
                "Follow it down: every ball is a part of that load",
                _stays(outcome, lands),
            ),
            aim=near,
            looks={**rest, "Rafter": Look(None, 0.7), "Purlin": Look(None, 0.4),
                   "Strut": Look(None, 0.3), "Landing": Look()},
            run=ways.run_of(
                outcome, [(strut, abs(outcome.solution.members[strut].axial))], 12,
                result.combination or None,
            ),
            hold=5.0,
        ),
        s.closing(whole, {**rest, "Rafter": Look(0), "Purlin": Look(0),
                          "Strut": Look(0), "Landing": Look(0)}),
    )  # fmt: skip
    return Lesson(
        key=KEY, title=TITLE, actors=actors, steps=steps, factor=factor,
        walls=at.walls(), caution=s.CAUTION, lens=s.LENS,
    )  # fmt: skip


def heaviest_strut(outcome: Outcome, on: str | None = None) -> str:
    """Return the key of the strut that takes the most.

    Args:
        outcome: the solved roof.
        on: what it must stand on, e.g. ``ceiling_joist``; left out, it stands on
            anything and holds up a purlin, not a hip.

    Raises:
        LessonError: there is none.
    """
    found = [
        m
        for m in outcome.solution.members.values()
        if m.role == "strut"
        and m.axial < 0
        and m.stands_on is not None
        and (
            m.stands_on.kind == on
            if on
            else purlin_under(outcome, m.key) in outcome.solution.members
        )
    ]
    if not found:
        where = f" on a {on.replace('_', ' ')}" if on else " under a purlin"
        raise s.LessonError(f"This roof has no strut{where} that takes load.")
    return min(found, key=lambda m: m.axial).key


def purlin_under(outcome: Outcome, strut: str) -> str:
    """Return the purlin that a strut holds up."""
    return f"P-{outcome.solution.framing.members[strut].group}"


def rafter_over(outcome: Outcome, strut: str) -> str:
    """Return the rafter of a strut's slope that runs nearest to its head."""
    framing = outcome.solution.framing
    start, end = s.line(outcome, strut)
    head = max((start, end), key=lambda p: float(p[2]))
    slope = framing.members[purlin_under(outcome, strut)].slope
    found = [
        m.key
        for m in framing.members.values()
        if m.role == "rafter" and m.slope == slope
        and outcome.solution.members[m.key].utilisation
    ]  # fmt: skip
    if not found:
        raise s.LessonError("No common rafter runs over the struts of this roof.")

    def away(key: str) -> float:
        a, b = s.line(outcome, key)
        t = float((head - a) @ (b - a) / ((b - a) @ (b - a)))
        return float(np.linalg.norm(a + min(max(t, 0.0), 1.0) * (b - a) - head))

    return min(found, key=away)


def _actors(
    outcome: Outcome,
    bare: Outcome,
    at: s.Section,
    keys: tuple[str, str, str, str],
    combination: str,
) -> tuple[Actor, ...]:
    """Return the casts: the rafter with and without help, its help, and the rest."""
    rafter, purlin, strut, lands = keys
    own = {"slice": at.slice, "combination": combination}
    out = [
        s.context("Behind", at, (rafter, purlin, strut, lands)),
        Actor(name="Plain", outcome=bare, keys=(rafter,), is_plain=True, **own),
        Actor(name="Rafter alone", outcome=bare, keys=(rafter,), **own),
        Actor(name="Rafter", outcome=outcome, keys=(rafter,), **own),
        Actor(name="Purlin", outcome=outcome, keys=(purlin,), **own),
        Actor(name="Strut", outcome=outcome, keys=(strut,), **own),
    ]  # fmt: skip
    if lands:
        out.append(Actor(name="Landing", outcome=outcome, keys=(lands,), **own))
    return tuple(out)


def _landing(outcome: Outcome, strut: str) -> str:
    """Return what a strut stands on, in words."""
    foot = outcome.solution.members[strut].stands_on
    assert foot is not None
    kinds = {
        "wall": "a bearing wall", "ceiling_joist": "a ceiling joist",
        "beam": "a beam", "post": "a post", "point": "the place stated for it",
    }  # fmt: skip
    return kinds.get(foot.kind, foot.kind)


def _stays(outcome: Outcome, lands: str) -> str:
    """Return what becomes of the load at what the strut stands on."""
    use = outcome.solution.members[lands].utilisation if lands else None
    if use is None or use <= 1:
        return "All of it goes on to the ground: what is under the strut can carry it."
    return f"{s.get_through(use)}: the rest is more than that stick can carry."
