"""Shear of rafters and joists where they are cut at the plates.

Birdsmouths are notches on the tension side; a joist end cut to the slope is a bevel on
the compression side. Both are one check of the member.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import Stations
from ..basis.nds.shear import sloped_notch_depth
from ..basis.pieces import Pieces, Strengths
from ..basis.protocol import Basis, Check
from ..brief.model import Brief
from ..checks.places import Places, worst_of_member
from ..checks.results import CheckResult, CheckRows
from ..framing.cuts import EndCut, end_cuts
from ..framing.model import Framing
from ..idealise.model import Model

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True, eq=False, kw_only=True)
class CutPlan:
    """The cuts of all analysed members, one row each (k,), before any force.

    Attributes:
        member: row of the member.
        station: m from its start.
        remaining, beyond: m, as `EndCut`.
        on_tension_side: True for a birdsmouth.
        left, right: element before and after the cut; -1 where the member ends.
    """

    member: Ints
    station: Floats
    remaining: Floats
    beyond: Floats
    on_tension_side: Bools
    left: Ints
    right: Ints


def cut_plan(brief: Brief, framing: Framing, model: Model) -> CutPlan | None:
    """Return the cuts of the analysed members, None where there are none."""
    row = {key: n for n, key in enumerate(model.members)}
    cuts = [cut for cut in end_cuts(brief, framing) if cut.member in row]
    if not cuts:
        return None
    member = np.array([row[c.member] for c in cuts], dtype=np.int64)
    bounds = np.searchsorted(
        model.frame.element_member, np.arange(len(model.members) + 1)
    )
    at = np.array([framing.members[c.member].nodes.index(c.node) for c in cuts])
    first, last = bounds[member], bounds[member + 1]
    return CutPlan(
        member=member,
        station=_place(framing, cuts),
        remaining=np.array([c.remaining for c in cuts]),
        beyond=np.array([c.beyond for c in cuts]),
        on_tension_side=np.array([c.on_tension_side for c in cuts]),
        left=np.where(at > 0, first + at - 1, -1),
        right=np.where(first + at < last, first + at, -1),
    )


def check_cuts(
    plan: CutPlan | None, stations: Stations, result: CheckResult
) -> CheckRows | None:
    """Return the notched shear check, None where nothing analysed is cut.

    Source: as `cut_places`.

    Args:
        plan: the cuts.
        stations: forces.
        result: of the same members and combinations.
    """
    if plan is None:
        return None
    places = places_of_cuts(
        plan, stations, result.table, result.strengths, result.basis
    )
    return worst_of_member(result, Check.NOTCHED_SHEAR, places)


def cut_places(
    brief: Brief,
    framing: Framing,
    model: Model,
    stations: Stations,
    pieces: Pieces,
    strengths: Strengths,
    basis: Basis,
) -> Places | None:
    """Return the cuts and what is asked of each, None where nothing analysed is cut.

    Source: as `places_of_cuts`.

    Args:
        brief: of the roof.
        framing: of the roof.
        model: of the roof.
        stations: forces.
        pieces: all members of the model, (n,).
        strengths: theirs, in the combinations of the forces.
        basis: the rules.
    """
    plan = cut_plan(brief, framing, model)
    if plan is None:
        return None
    return places_of_cuts(plan, stations, pieces, strengths, basis)


def places_of_cuts(
    plan: CutPlan,
    stations: Stations,
    pieces: Pieces,
    strengths: Strengths,
    basis: Basis,
) -> Places:
    """Return what is asked of each cut.

    The shear force is the larger of both sides of the plate, with no load left out.

    Source: NDS 2018 3.4.3.2(a) for birdsmouths, 3.4.3.2(e) for joist ends.

    Args:
        plan: the cuts.
        stations: forces.
        pieces: all members of the model, (n,).
        strengths: theirs, in the combinations of the forces.
        basis: the rules.
    """
    member = plan.member
    b, d = pieces.total_breadth[member], pieces.depth[member]
    counted = _counted_depth(plan, d)
    Fv = strengths.shear[:, member]
    V = _shear_beside(plan, stations)
    past = "of a sloping cut past the inner face of the plate"
    words = "counts in shear: d_n^3/d^2 at a birdsmouth, d - (d - d_n) e/d_n at a slope"
    return Places(
        member=member,
        station=plan.station,
        demand=V,
        capacity=np.broadcast_to(
            basis.notched_shear(Fv, b, d, d) * counted / d, V.shape
        ),
        unit="N",
        inputs=(
            ("V", "N", "shear force beside the plate", V),
            ("Fv'", "Pa", "shear design value", Fv),
            ("b", "m", "breadth of all plies", b),
            ("d", "m", "depth", d),
            ("d_n", "m", "depth left, square to the member", plan.remaining),
            ("e", "m", past, plan.beyond),
            ("d_v", "m", words, counted),
        ),
    )


def _counted_depth(plan: CutPlan, d: Floats) -> Floats:
    """Return the depth d_v that makes V_r' = 2/3 Fv' b d_v, m.

    Source: NDS 2018 3.4.3.2(a): d_n (d_n/d)^2; 3.4.3.2(e): Eq. 3.4-5, and d_n itself
    where the cut goes on for more than d_n.
    """
    left, beyond = plan.remaining, plan.beyond
    bevelled = sloped_notch_depth(d, left, np.minimum(beyond, left))
    bevelled = np.where(beyond > left, left, bevelled)
    return np.where(plan.on_tension_side, left * (left / d) ** 2, bevelled)


def _place(framing: Framing, cuts: list[EndCut]) -> Floats:
    """Return where the cuts are, m from the start of their members."""
    points = framing.points
    start = np.array([framing.members[c.member].nodes[0] for c in cuts])
    here = np.array([c.node for c in cuts])
    return np.linalg.norm(points[here] - points[start], axis=1)


def _shear_beside(plan: CutPlan, stations: Stations) -> Floats:
    """Return the larger shear force on either side of each cut, (ncomb, k) N."""
    near, far = stations.ends("V_strong")
    right = np.where(plan.right >= 0, np.abs(near[:, plan.right]), 0.0)
    left = np.where(plan.left >= 0, np.abs(far[:, plan.left]), 0.0)
    return np.maximum(left, right)
