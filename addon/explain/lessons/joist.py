"""Lesson: why a strut does not belong on a ceiling joist."""

from __future__ import annotations

from ...bridge import bent, drawing, variants, ways
from ...bridge.pipeline import Outcome, Pipeline
from ..board import Actor, Lesson, Look, Step
from . import scenery as s
from .scenery import Spot
from .strut import heaviest_strut

KEY, TITLE = "joist", "Why not on a joist"


def compose(outcome: Outcome, pipeline: Pipeline) -> Lesson:
    """Return the lesson; where no strut stands on a joist, of the roof as if one did.

    Raises:
        LessonError: there is neither strut nor joist to show it on.
    """
    outcome, as_if = _with_strut_on_joist(outcome, pipeline)
    strut = heaviest_strut(outcome, "ceiling_joist")
    foot = outcome.solution.members[strut].stands_on
    joist = foot.name if foot else ""
    bare = variants.without_purlins(outcome, pipeline)
    if bare is None or joist not in bare.solution.members:
        raise s.LessonError("The roof cannot be framed without its purlins.")
    sag, before = bent.sags_of(outcome, joist), bent.sags_of(bare, joist)
    if sag is None or before is None:
        raise s.LessonError(f"{joist} has no sag to show: it was not analysed.")
    at = s.section(outcome, joist, down=9.0, before=0.12)
    beside = _beside(outcome, joist, at)
    factor = s.factor_of((outcome,), (joist,), sag.combination)
    return Lesson(
        key=KEY,
        title=TITLE if not as_if else "Why not on a joist: if the struts stood there",
        actors=_actors(outcome, bare, at, (joist, strut, beside), sag.combination),
        steps=_steps(outcome, bare, at, (joist, strut, beside), factor),
        factor=factor,
        walls=at.walls(),
        caution=s.CAUTION,
        lens=s.LENS,
    )


def _with_strut_on_joist(outcome: Outcome, pipeline: Pipeline) -> tuple[Outcome, bool]:
    """Return the roof, or its variant with all struts on joists and that it is one."""
    try:
        heaviest_strut(outcome, "ceiling_joist")
    except s.LessonError:
        made = variants.on_joists(outcome, pipeline)
        if made is None or not outcome.brief.struts:
            raise
        return made, True
    return outcome, False


def _beside(outcome: Outcome, joist: str, at: s.Section) -> str:
    """Return the joist next to one, behind it in the picture if there is any."""
    aged = bent.ages_of(outcome)
    pairs = aged.neighbours if aged is not None else ()
    next_to = [
        p.second if p.first == joist else p.first
        for p in pairs
        if joist in (p.first, p.second)
    ]
    members = outcome.solution.members
    joists = [k for k in next_to if members[k].role == "ceiling_joist"]
    if not joists:
        raise s.LessonError(f"No joist runs beside {joist}.")

    def is_before(key: str) -> bool:
        middle = s.line(outcome, key).mean(axis=0)
        return float((middle - at.slice.point) @ at.slice.normal) < 0

    return min(joists, key=lambda k: (is_before(k), members[k].strut_load))


def _actors(
    outcome: Outcome,
    bare: Outcome,
    at: s.Section,
    keys: tuple[str, str, str],
    combination: str,
) -> tuple[Actor, ...]:
    """Return the casts: the joist before and after, the strut, the joist beside it."""
    joist, strut, beside = keys
    purlin = f"P-{outcome.solution.framing.members[strut].group}"
    own = {"slice": at.slice, "combination": combination}
    return (
        s.context("Behind", at, (*keys, purlin)),
        Actor(name="Joist before", outcome=bare, keys=(joist,), **own),
        Actor(name="Joist", outcome=outcome, keys=(joist,), **own),
        Actor(name="Strut", outcome=outcome, keys=(strut, purlin), **own),
        Actor(name="Beside", outcome=outcome, keys=(beside,), combination=combination),
    )


def _steps(
    outcome: Outcome,
    bare: Outcome,
    at: s.Section,
    keys: tuple[str, str, str],
    factor: float,
) -> tuple[Step, ...]:
    """Return the steps."""
    joist, strut, beside = keys
    sag, before = bent.sags_of(outcome, joist), bent.sags_of(bare, joist)
    assert sag is not None
    assert before is not None
    spot = Spot(factor, sag.combination)
    result = outcome.solution.members[joist]
    load = s.force_words(outcome, outcome.solution.members[strut].axial)
    near = s.aim_at(s.ends_of(outcome, (joist, strut)), at.look)
    over = s.is_over(outcome, joist)
    rest = {"Behind": Look(dim=s.DIM)}
    there = {**rest, "Strut": Look(0)}
    use = s.use_words(outcome, joist)
    foot = _part_under(outcome, joist, strut)
    moved = _against(outcome, joist, beside)
    return (
        Step(
            name="A ceiling joist",
            caption=(
                "A ceiling joist is chosen to hold up a ceiling",
                f"That uses it to {s.use_words(bare, joist)}; it "
                f"{s.bends_words(bare, before.now)}.",
            ),
            aim=near,
            looks={**rest, "Joist before": Look(0)},
            labels=(spot.label("a ceiling joist", bare, joist, 0.5, 0),),
            has_scale=True,
        ),
        Step(
            name="A strut on it",
            caption=(
                f"Now a strut sets {load} of roof on it",
                "The roof's load comes down in one place, between the joist's walls.",
            ),
            aim=near,
            looks={**rest, "Strut": Look(), "Joist before": Look()},
            path=s.only(drawing.path(outcome, strut), (strut, joist)),
            labels=(spot.label(load, outcome, strut, 0.5),),
        ),
        Step(
            name="It bends",
            caption=(
                f"The joist is used to {use} and sags {s.sag_words(outcome, sag.now)}",
                f"It was {s.use_words(bare, joist)} before, and "
                f"{s.sag_words(bare, before.now)}.",
            ),
            aim=near,
            looks={**there, "Joist": Look(0)},
            labels=(spot.label(use, outcome, joist, foot, 0, alarm=over),),
            has_scale=True,
        ),
        Step(
            name="In fifty years",
            caption=(
                f"It goes on bending: {s.sag_words(outcome, sag.ten)} after ten years, "
                f"{s.sag_words(outcome, sag.fifty)} after fifty",
                moved,
            ),
            aim=near,
            looks={**there, "Joist": Look(2), "Beside": Look(2)},
            labels=(
                spot.label(f"sags {s.sag_words(outcome, sag.fifty)}", outcome, joist,
                           foot, 2, alarm=over),
                spot.label("the joist beside it", outcome, beside, 1 - foot, 2),
            ),
            has_scale=True,
            note="Years by a published law of creep, scaled to the code's factor.",
        ),
        Step(
            name="More than it can carry",
            caption=(
                "Every ball is a part of the strut's load"
                if over
                else "Every ball is a part of the strut's load: it gets through, here",
                f"{s.get_through(result.utilisation)}. What piles up is more than the "
                "joist can carry."
                if over and result.utilisation
                else "The joist carries it by strength; look at the sag beside it.",
            ),
            aim=near,
            looks={**rest, "Strut": Look(None, 0.3), "Joist": Look()},
            run=ways.run_of(
                outcome, [(strut, abs(outcome.solution.members[strut].axial))], 14,
                result.combination or None,
            ),
            hold=5.5,
        ),
        s.closing(near, {**there, "Joist": Look(0)}),
    )  # fmt: skip


def _part_under(outcome: Outcome, joist: str, strut: str) -> float:
    """Return where along a joist a strut stands, 0 to 1."""
    start, end = s.line(outcome, joist)
    foot = min(s.line(outcome, strut), key=lambda p: float(p[2]))
    axis = end - start
    return float(min(max((foot - start) @ axis / (axis @ axis), 0.05), 0.95))


def _against(outcome: Outcome, joist: str, beside: str) -> str:
    """Return how far two joists part in ten years, and what that does to a ceiling."""
    aged = bent.ages_of(outcome)
    assert aged is not None
    pair = next(p for p in aged.neighbours if {p.first, p.second} == {joist, beside})
    ten = aged.names.index("10 years")
    grown = s.sag_words(outcome, float(pair.growth[ten]))
    told = f"In ten years the two move {grown} apart"
    if pair.limit is None:
        return f"{told}."
    limit = s.sag_words(outcome, pair.limit)
    if pair.may_crack[ten]:
        return f"{told}; a ceiling between them may crack over {limit}."
    return f"{told}; a ceiling between them bears {limit}."
