"""The same house built another way, solved: what lessons compare a roof with.

Every variant is a change of the brief, framed, solved and checked like any other.
"""

from __future__ import annotations

from dataclasses import replace

from ...solver.brief import Brief
from ...solver.brief.choices import FootOn
from ...solver.brief.stock import Foot
from ...solver.brief.validate import validate
from ...solver.errors import SolverError
from ...solver.remedy import Remedy, remedies
from .pipeline import Outcome, Pipeline


def without_purlins(outcome: Outcome, pipeline: Pipeline) -> Outcome | None:
    """Return the roof without purlins and struts, None where it cannot be framed."""
    brief = outcome.brief
    return _run(
        replace(
            brief,
            purlins=(),
            struts=(),
            added_struts=(),
            hip_braces=(),
            overrides=_but_of(brief, ("P-", "ST-", "HB-")),
        ),
        pipeline,
    )


def on_joists(outcome: Outcome, pipeline: Pipeline) -> Outcome | None:
    """Return the roof with every strut plumb on the ceiling joists below."""
    foot = Foot(on=FootOn.CEILING_JOIST)
    struts = tuple(replace(s, foot=foot) for s in outcome.brief.struts)
    return _run(replace(outcome.brief, struts=struts), pipeline)


def ways_out(outcome: Outcome) -> tuple[Remedy, ...]:
    """Return what could be built instead, those that solve it first."""
    return outcome.once("remedies", lambda: remedies(outcome.brief)).remedies


def outcome_of(remedy: Remedy) -> Outcome:
    """Return the solved roof with a remedy in it."""
    return Outcome(remedy.solution)


def _but_of(brief: Brief, heads: tuple[str, ...]) -> tuple:
    """Return the overrides of a brief but those of keys with certain beginnings."""
    return tuple(one for one in brief.overrides if not one.member.startswith(heads))


def _run(brief: Brief, pipeline: Pipeline) -> Outcome | None:
    """Return a solved variant, None where it is refused."""
    try:
        validate(brief)
        return pipeline.run(brief)
    except SolverError:
        return None
