"""From forces to utilisations: every check of the analysed members.

Receives a solved model and the plan of its checks; computes no statics.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult, Stations
from ..basis.protocol import Check
from ..brief.model import Brief
from ..checks.bearing import check_bearing
from ..checks.deflection import Sags, check_deflection, span_sags
from ..checks.members import check_members
from ..checks.results import CheckResult, CheckRows, with_checks
from ..framing.model import Framing
from ..framing.spans import Span
from ..idealise.model import Model
from ..loads.combine import Combinations
from .cuts import check_cuts
from .person import person_check, person_rows
from .plan import CheckPlan, check_plan

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

FORCE_STATIONS = 9  # of an element, besides the point of zero shear
SHAPE_STATIONS = 17  # their largest sag is within half a percent of the largest of all


@dataclass(frozen=True, eq=False, kw_only=True)
class Checked:
    """Everything that the checks found of the analysed members.

    Attributes:
        result: of all checks.
        sags: of all spans.
        spans: the spans, in the order of ``sags``.
        stations: forces and displacements along the members.
        plan: what was known before the forces.
    """

    result: CheckResult
    sags: Sags
    spans: tuple[Span, ...]
    stations: Stations
    plan: CheckPlan


def run_checks(
    brief: Brief,
    framing: Framing,
    model: Model,
    frame: FrameResult,
    combos: Combinations,
    counts: Bools | None = None,
    plan: CheckPlan | None = None,
) -> Checked:
    """Return all checks of the analysed members.

    Args:
        brief: what is stated.
        framing: of the roof.
        model: of the roof.
        frame: its forces.
        combos: of the frame.
        counts: (ncomb, n) whether a combination counts for a member; None: all do.
        plan: of the same brief but for its loads, framing and members; made here
            where None.
    """
    plan = check_plan(brief, framing, model) if plan is None else plan
    stations = frame.stations(FORCE_STATIONS, peaks=True)
    result = check_members(
        plan.counted(counts),
        stations,
        model.frame.element_member,
        combos.names,
        combos.C_D,
        plan.basis,
        plan.strengths(combos.C_D),
    )
    shape = frame.stations(SHAPE_STATIONS)
    sags = span_sags(
        shape,
        model.frame.element_member,
        plan.span_table,
        lasting_weights(brief, combos),
        plan.basis,
        counts,
        plan.grid(shape, model.frame.element_member),
    )
    more = check_deflection(result, sags)
    bearing = check_bearing(result, plan.bearings.table(frame))
    if bearing is not None:
        more[bearing.check] = bearing
    cuts = check_cuts(plan.cuts, stations, result)
    if cuts is not None:
        more[cuts.check] = cuts
    if brief.loads.person:
        more |= _person(framing, model, frame, result, combos)
    return Checked(
        result=with_checks(result, more),
        sags=sags,
        spans=plan.spans,
        stations=stations,
        plan=plan,
    )


def _person(
    framing: Framing,
    model: Model,
    frame: FrameResult,
    result: CheckResult,
    combos: Combinations,
) -> dict[Check, CheckRows]:
    """Return the check of a person on joists and rafters, where there are any."""
    dead = combos.row("D")
    rows = person_rows(framing, model, frame, result, dead)
    return {} if rows is None else {Check.PERSON: person_check(result, rows, dead)}


def lasting_weights(brief: Brief, combos: Combinations) -> Floats:
    """Return weights of combinations that add to the lasting load.

    The dead load alone, and of the attic live load the part that stays for years: the
    difference of D+L and D.
    """
    weights = np.zeros(len(combos.names))
    weights[combos.row("D")] = 1.0
    part = brief.loads.attic_live_lasting
    if part and "D+L" in combos.names:
        weights[combos.row("D+L")] += part
        weights[combos.row("D")] -= part
    return weights
