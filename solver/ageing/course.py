"""How creep runs its course in a solved roof: what lasts, what it adds, by when."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ..basis.nds.creep import creep_share
from ..errors import ContactError, MechanismError
from ..trace.solved import Solved
from ..verdict.judge import lasting_weights
from .effective import aged_results
from .materials import member_creep, model_creep
from .model import Course

Floats = NDArray[np.float64]


def creep_course(
    solved: Solved,
    years: Floats,
    by_kind: Mapping[str, float] | None = None,
    by_member: Mapping[str, float] | None = None,
) -> tuple[Course, dict[str, float], str] | None:
    """Return the course of creep in a roof.

    Source: NDS 2018 3.5.2 at fifty years, the labelled curve of the basis up to it;
    EN 1995-1-1 2.3.2.2(2) for the principle where materials differ.

    Args:
        solved: a solved roof.
        years: (T,) since loading, 0 to 50.
        by_kind: creep at fifty years by kind of material, see ``member_creep``.
        by_member: creep at fifty years by member key.

    Returns:
        The course, creep at fifty years by member key, and why no force could be
        followed between members that creep unlike, or "". None where the roof has no
        analysis.

    Raises:
        FieldError: a creep below 0.
        ScopeError: a time before loading or past fifty years.
    """
    model, frame, checked = solved.model, solved.frame, solved.checked
    if model is None or frame is None or checked is None:
        return None
    basis = checked.result.basis
    creep = member_creep(solved.framing, model, basis, by_kind, by_member)
    of_member = np.array([creep[key] for key in model.members])
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
    return course, creep, refusal
