"""Where the search of a size begins: the size that a hand calculation asks for.

A beginning only. The roof with the size in it is solved and checked, and the next one
below it too; from a bad guess the search comes to the same size, by more roofs.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from ..basis.materials import reference_values
from ..basis.nds import bending
from ..basis.sections import section
from ..framing.model import Role
from ..hand.strength import bending_strength
from ..solve import Solution
from .beam_rungs import BeamStock
from .rows import FootRow

_DURATION = 1.15  # a load that comes and goes
_HUNG, _CLEAR = 360.0, 180.0  # of the span, what the beam may sag by hand


def likely_beam(
    before: Solution,
    rows: Sequence[FootRow],
    bearings: Sequence[Sequence[float]],
    stock: BeamStock,
    hung: bool,
) -> int:
    """Return the number of the beam that carries struts by hand between bearings.

    The beam is simple from bearing to bearing and bends, shears and sags as a beam with
    all that the struts bring spread evenly. One that joists hang in has to be stiff,
    so that the struts bring what they would to a wall; to one that gives they bring
    about what they bring to joists.

    Args:
        before: the roof as it is.
        rows: feet, one row for each beam.
        bearings: m along each row, what its beam bears on, in order.
        stock: of the beam.
        hung: whether joists hang in it.
    """
    brought = _by_hand(before) if hung else _today(before)
    line, span = 0.0, 0.0  # N/m and m
    for row, held in zip(rows, bearings, strict=True):
        for low, high in pairwise(held):
            on_it = [
                brought.get(key, 0.0)
                for key, x in zip(row.keys, row.x, strict=True)
                if low < x < high
            ]
            if sum(on_it) * (high - low) > line * span**2:
                line, span = sum(on_it) / (high - low), high - low
    sizes = [str(fields["size"]) for _, fields in stock.rungs()]
    sag = span / (_HUNG if hung else _CLEAR)
    carries = (n for n, z in enumerate(sizes) if _carries(stock, z, line, span, sag))
    return next(carries, len(sizes) - 1)


def _by_hand(before: Solution) -> dict[str, float]:
    """Return what each strut brings by hand to a foot that does not give, N."""
    return {k: float(np.max(s.vertical)) for k, s in before.hand.struts.items()}


def _today(before: Solution) -> dict[str, float]:
    """Return what each strut brings to what it stands on, N."""
    if before.model is None or before.frame is None:
        return _by_hand(before)
    down = before.frame.end_force_global[:, :, 0, 2].max(axis=0)
    model, struts = before.model, before.framing.of_role(Role.STRUT)
    return {
        s.key: float(down[model.rows_of(s.key).start])
        for s in struts
        if s.key in model.members
    }


def _carries(stock: BeamStock, size: str, line: float, span: float, sag: float) -> bool:
    """Return whether a beam carries N/m over a span in m by hand and sags so far."""
    made = section(size, stock.plies)
    values = reference_values(stock.species, stock.grade, made)
    Fb = float(bending_strength(stock.species, stock.grade, made, _DURATION, False))
    le = bending.effective_length(span, made.depth)
    R_B = bending.beam_slenderness_ratio(le, made.depth, made.total_breadth)
    F_bE = bending.critical_bending_stress(values.Emin, R_B)
    C_L = float(bending.beam_stability_factor(F_bE, Fb))
    bends = line * span**2 / 8 / made.section_modulus / (Fb * C_L)
    shears = 1.5 * line * span / 2 / made.area / values.Fv / _DURATION
    sags = 5 * line * span**4 / 384 / values.E / made.I_strong / max(sag, 1e-9)
    return max(bends, shears, sags) <= 1.0


def likely_plies(before: Solution, keys: Sequence[str], now: int) -> int:
    """Return how many plies joists need whose plies bear as much as each does now.

    Args:
        before: the roof as it is.
        keys: of the joists under struts.
        now: plies that they have.
    """
    use = max((before.members[key].utilisation or 0.0 for key in keys), default=0.0)
    return int(np.ceil(now * use - 1e-9))
