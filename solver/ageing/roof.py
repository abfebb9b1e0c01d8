"""A solved roof over the years."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ..basis.nds.creep import CURVE_LABEL, creep_share
from ..brief.model import CeilingFinish
from ..errors import ContactError, MechanismError
from ..trace.solved import Solved
from ..verdict.judge import lasting_weights
from .beside import neighbours
from .effective import aged_results
from .materials import member_creep, model_creep
from .model import TIMES, Ageing, Course
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
    model, frame, checked = solved.model, solved.frame, solved.checked
    if model is None or frame is None or checked is None:
        return None
    basis = checked.result.basis
    creep = member_creep(solved.framing, model, basis, by_kind, by_member)
    of_member = np.array([creep[key] for key in model.members])
    years = np.array(list(TIMES.values()))
    shares = creep_share(years)
    combos = solved.combinations
    weights = lasting_weights(solved.brief, combos)
    aged, refusal = None, ""
    if np.ptp(of_member) > 0:
        element, link = model_creep(model, creep)
        every = np.concatenate([[0.0], shares])
        factors = weights @ combos.factors
        try:
            aged = aged_results(model.frame, model.loads, factors, element, link, every)
        except (MechanismError, ContactError) as error:
            refusal = str(error)
    course = Course(
        weights=weights, creep=of_member, years=years, shares=shares, aged=aged
    )
    finish = solved.brief.checks.ceiling_finish is not CeilingFinish.NONE
    beside = neighbours(solved.framing, model, frame, course, combos.row("D"), finish)
    return Ageing(
        names=tuple(TIMES),
        years=years,
        share=shares,
        label=CURVE_LABEL,
        creep=creep,
        spans=span_ages(model, frame, checked, combos, course),
        neighbours=beside,
        redistribution=None if aged is None else redistribution(model, aged),
        residual=max((float(r.residual.max()) for r in aged or ()), default=0.0),
        refusal=refusal,
    )
