"""Shear of rafters and joists where they are cut at the plates.

Birdsmouths are notches on the tension side; a joist end cut to the slope is a bevel on
the compression side. Both are one check of the member.
"""

from __future__ import annotations

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


def check_cuts(
    brief: Brief,
    framing: Framing,
    model: Model,
    stations: Stations,
    result: CheckResult,
) -> CheckRows | None:
    """Return the notched shear check, None where nothing analysed is cut.

    Source: as `cut_places`.

    Args:
        brief: of the roof.
        framing: of the roof.
        model: of the roof.
        stations: forces, the first and the last even station at the element's ends.
        result: of the same members and combinations.
    """
    places = cut_places(
        brief, framing, model, stations, result.table, result.strengths, result.basis
    )
    if places is None:
        return None
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

    The shear force is the larger of both sides of the plate, with no load left out.

    Source: NDS 2018 3.4.3.2(a) for birdsmouths, 3.4.3.2(e) for joist ends.

    Args:
        brief: of the roof.
        framing: of the roof.
        model: of the roof.
        stations: forces, the first and the last even station at the element's ends.
        pieces: all members of the model, (n,).
        strengths: theirs, in the combinations of the forces.
        basis: the rules.
    """
    row = {key: n for n, key in enumerate(model.members)}
    cuts = [cut for cut in end_cuts(brief, framing) if cut.member in row]
    if not cuts:
        return None
    member = np.array([row[c.member] for c in cuts], dtype=np.int64)
    b, d = pieces.total_breadth[member], pieces.depth[member]
    counted = _counted_depth(cuts, d)
    Fv = strengths.shear[:, member]
    V = _shear_beside(framing, model, stations, cuts, member)
    left = np.array([c.remaining for c in cuts])
    beyond = np.array([c.beyond for c in cuts])
    words = "counts in shear: d_n^3/d^2 at a birdsmouth, d - (d - d_n) e/d_n at a slope"
    return Places(
        member=member,
        station=_place(framing, cuts),
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
            ("d_n", "m", "depth left, square to the member", left),
            ("e", "m", "of a sloping cut past the inner face of the plate", beyond),
            ("d_v", "m", words, counted),
        ),
    )


def _counted_depth(cuts: list[EndCut], d: Floats) -> Floats:
    """Return the depth d_v that makes V_r' = 2/3 Fv' b d_v, m.

    Source: NDS 2018 3.4.3.2(a): d_n (d_n/d)^2; 3.4.3.2(e): Eq. 3.4-5, and d_n itself
    where the cut goes on for more than d_n.
    """
    left = np.array([c.remaining for c in cuts])
    beyond = np.array([c.beyond for c in cuts])
    bevelled = sloped_notch_depth(d, left, np.minimum(beyond, left))
    bevelled = np.where(beyond > left, left, bevelled)
    tension = np.array([c.on_tension_side for c in cuts])
    return np.where(tension, left * (left / d) ** 2, bevelled)


def _place(framing: Framing, cuts: list[EndCut]) -> Floats:
    """Return where the cuts are, m from the start of their members."""
    points = framing.points
    start = np.array([framing.members[c.member].nodes[0] for c in cuts])
    here = np.array([c.node for c in cuts])
    return np.linalg.norm(points[here] - points[start], axis=1)


def _shear_beside(
    framing: Framing,
    model: Model,
    stations: Stations,
    cuts: list[EndCut],
    member: NDArray[np.int64],
) -> Floats:
    """Return the larger shear force on either side of each cut, (ncomb, k) N."""
    V = np.abs(stations.V_strong)
    far = int(np.argmax(stations.x[0]))
    bounds = np.searchsorted(
        model.frame.element_member, np.arange(len(model.members) + 1)
    )
    at = np.array([framing.members[c.member].nodes.index(c.node) for c in cuts])
    first, last = bounds[member], bounds[member + 1]
    after, before = first + at, first + at - 1
    right = np.where(after < last, V[:, np.minimum(after, last - 1), 0], 0.0)
    left = np.where(at > 0, V[:, np.maximum(before, first), far], 0.0)
    return np.maximum(left, right)
