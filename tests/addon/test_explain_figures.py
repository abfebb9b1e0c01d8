"""Every figure in a caption or label is one of the solved roof's.

The book of a lesson is made from the solutions alone: uses, sags, spans, forces,
pressures, shares and counts of all that its casts come from, as people read them.
"""

import re
from collections import Counter

import numpy as np
import pytest
from loadfall.addon.bridge.pipeline import Pipeline
from loadfall.addon.cli_explain import HIP
from loadfall.addon.explain import lessons
from loadfall.solver.ageing import age_roof, winters
from loadfall.solver.brief import read_brief
from loadfall.solver.trace.carries import ends_of
from loadfall.solver.units import (
    INCH,
    show_force,
    show_length,
    show_pressure,
    show_small_length,
)
from loadfall.tests.solve.houses import COTTAGE, changed

QUANTITY = re.compile(
    r"\d+' \d+\"|(?<![\w.])-?\d[\d,]*(?:\.\d+)?(?:%| in\b| lb\b| psf\b| times\b)?(?!\w)"
)
NAMES = re.compile(r"\b[A-Z]+[A-Z0-9]*(?:-[A-Za-z0-9]+)+\b|\b[\d.]+x[\d.]+\b")
SNOWY = changed(COTTAGE, loads={"snow": {"ground": "30 psf"}})


@pytest.fixture(scope="module")
def pipeline():
    return Pipeline()


def uses(solution):
    for member in solution.members.values():
        every = [member.utilisation or 0.0]
        for by in (member.by_combination or {}).values():
            every += [float(use) for use in by.values()]
        for use in every:
            yield from (f"{use:.1f} times", f"{use:.0%}")
            yield str(max(1, min(9, round(10 / max(use, 1e-9)))))


def sags(solution):
    aged = age_roof(solution)
    spans = aged.spans
    ten = aged.names.index("10 years")
    every = [*spans.sag[[ten, -1]].ravel(), *(spans.rest + spans.lasting)]
    for pair in aged.neighbours:
        every += [abs(pair.growth[ten]), pair.limit or 0.0]
    told = winters(solution)
    if told is not None:
        every += [*told.without.ravel(), *told.snow]
        every += [*(told.without + told.snow).ravel()]
    yield from (show_small_length(abs(float(sag))) for sag in every)
    for start, end in zip(spans.start, spans.end, strict=True):
        yield show_length(round((end - start) / INCH) * INCH)
    most = float(np.max(spans.rest + spans.lasting))
    for sag in spans.rest + spans.lasting:
        if sag > 1e-6:
            yield f"{most / sag:.1f} times"


def forces(solution):
    for member in solution.members.values():
        yield show_force(abs(member.axial))
    for name in solution.combinations.names:
        flow = solution.flow(name)
        below = Counter()
        for one in flow.hand_overs:
            yield show_force(one.force)
            below[one.taker] += one.force
        roof = sum(flow.own.get(k, 0.0) for k in solution.members if "R-" in k)
        every = [*below.values(), *flow.own.values(), roof / 150]
        yield from (show_force(v) for v in every)
        yield from (show_force(flow.output(key)) for key in solution.members)


def shares(solution, keys):
    for name in solution.combinations.names:
        for key in keys:
            flow = solution.flow(name)
            yield from (f"{share:.0%}" for share in ends_of(flow, key).values())
            yield from (show_force(e.force) for e in flow.path_down(key, 0.0))


def pressures(solution):
    loads = solution.loads
    length = np.linalg.norm(
        np.diff(solution.framing.points[loads.nodes], axis=1), axis=2
    )
    area = np.where(loads.plan_area > 0, loads.plan_area, np.inf)
    for case in loads.load:
        on = np.round(-case[:, 2] * length[:, 0] / area, 6) + 0.0
        yield from (show_pressure(float(p)) for p in np.unique(on))


def counts(solution):
    members = solution.members.values()
    yield from Counter(m.role for m in members).values()
    yield sum(m.analysis_passes is False for m in members)
    shown = Counter(m.role for m in members if m.analysis_passes is False)
    ceiling = ("strut", "purlin", "post", "beam", "ceiling_joist")
    yield sum(shown[role] for role in ceiling)
    yield len(solution.model.members)
    pieces = solution.framing.members.values()
    for hip in (m for m in pieces if m.role == "hip_rafter"):
        jacks = [m for m in pieces if m.role == "jack_rafter"]
        yield sum(bool(set(m.nodes) & set(hip.nodes)) for m in jacks)


def remedies_of(outcome):
    for remedy in outcome.once("remedies", lambda: None).remedies:
        m = remedy.measures
        yield from (f"{m.pieces.count}", f"{m.pieces.board_feet:,.0f}", f"{m.failing}")
        yield from (f"{m.utilisation:.0%}", show_small_length(m.ceiling.ten_years))
        yield show_length(round(m.walls / INCH) * INCH)


def book(lesson):
    """All figures that the lesson may tell."""
    out = set("12345") if lesson.key == "ways" else set()
    for outcome in {id(a.outcome): a.outcome for a in lesson.actors}.values():
        solution = outcome.solution
        own = {k for a in lesson.actors if len(a.keys) < 9 for k in a.keys}
        keys = [k for k in own if k in solution.members]
        for part in (uses, sags, forces, pressures):
            out.update(part(solution))
        out.update(shares(solution, keys))
        out.update(map(str, counts(solution)))
        out.add(f"{solution.brief.loads.attic_live_lasting:.0%}")
    if lesson.key == "ways":
        out.update(remedies_of(lesson.actors[0].outcome))
    return out


def told(lesson):
    for step in lesson.steps:
        for line in (*step.caption, *(label.words for label in step.labels)):
            yield step.name, line


@pytest.mark.parametrize("key", list(lessons.LESSONS))
def test_every_figure_is_the_solved_roofs(key, pipeline):
    brief = {"hip": HIP, "snow": SNOWY}.get(key, COTTAGE)
    lesson = lessons.lesson(key, pipeline.run(read_brief(brief)), pipeline)
    known = book(lesson)
    found = [
        (name, figure, line)
        for name, line in told(lesson)
        for figure in QUANTITY.findall(NAMES.sub("", line))
    ]
    assert len(found) >= 3
    assert not [one for one in found if one[1] not in known]


def test_a_figure_that_is_not_the_roofs_is_found_out(pipeline):
    lesson = lessons.lesson("strut", pipeline.run(read_brief(COTTAGE)), pipeline)
    known = book(lesson)
    for figure in ("12.34 in", "98,765 lb", "7.7 times", "77' 7\""):
        assert QUANTITY.findall(f"It is {figure} there") == [figure]
        assert figure not in known
