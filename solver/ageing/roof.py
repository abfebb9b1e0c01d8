"""A solved roof over the years."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ..basis.nds.creep import CURVE_LABEL
from ..brief.model import CeilingFinish
from ..trace.solved import Solved
from .beside import neighbours
from .course import creep_course
from .model import TIMES, Ageing
from .moved import redistribution
from .spans import span_ages


def age_roof(
    solved: Solved,
    by_kind: Mapping[str, float] | None = None,
    by_member: Mapping[str, float] | None = None,
) -> Ageing | None:
    """Return how a roof sags from day one to fifty years.

    Source: NDS 2018 3.5.2 at fifty years, the labelled curve of the basis up to it;
    EN 1995-1-1 2.3.2.2(2) for the principle where materials differ.

    Args:
        solved: a solved roof.
        by_kind: creep at fifty years by kind of material, see ``member_creep``.
        by_member: creep at fifty years by member key.

    Returns:
        None where the roof has no analysis.

    Raises:
        FieldError: a creep below 0.
    """
    years = np.array(list(TIMES.values()))
    found = creep_course(solved, years, by_kind, by_member)
    model, frame, checked = solved.model, solved.frame, solved.checked
    if found is None or model is None or frame is None or checked is None:
        return None
    course, creep, refusal = found
    aged, combos = course.aged, solved.combinations
    finish = solved.brief.checks.ceiling_finish is not CeilingFinish.NONE
    beside = neighbours(solved.framing, model, frame, course, combos.row("D"), finish)
    return Ageing(
        names=tuple(TIMES),
        years=years,
        share=course.shares,
        label=CURVE_LABEL,
        creep=creep,
        spans=span_ages(model, frame, checked, combos, course),
        neighbours=beside,
        redistribution=None if aged is None else redistribution(model, aged),
        residual=max((float(r.residual.max()) for r in aged or ()), default=0.0),
        refusal=refusal,
    )
