"""What members hand down, and the roof that rests on each, out of solved frames."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from .model import Model

Floats = NDArray[np.float64]


def carried_load(model: Model, result: FrameResult, row: int = 0) -> Floats:
    """Return the vertical load that each member hands down at its joints, (n,) N.

    The sum of all that joints push up on it; its own weight is part of it.

    Args:
        model: of the roof.
        result: its forces.
        row: of the combination.
    """
    frame, n = model.frame, model.frame.n_nodes
    cell = frame.element_member[:, None] * n + frame.ends
    places, at = np.unique(cell.ravel(), return_inverse=True)
    up = np.zeros(len(places))
    np.add.at(up, at, result.end_force_global[row, :, :, 2].ravel())
    out = np.zeros(len(model.members))
    np.add.at(out, places // n, np.maximum(up, 0.0))
    return out


def supported_roof(
    model: Model, result: FrameResult, with_live: int, dead: int, live: float
) -> dict[str, float]:
    """Return the roof that each member supports, m2 on plan, by member key.

    Source: tributary area as statics has it: what the roof live load adds to the load
    that the member hands down, over the live load. A soft joist that hands part of
    its strut's load back to the rafters supports that much less.

    Args:
        model: of the roof.
        result: its forces.
        with_live: row of a combination of dead and all of the roof live load.
        dead: row of the dead load alone.
        live: Pa on plan.
    """
    more = carried_load(model, result, with_live) - carried_load(model, result, dead)
    return {
        key: max(0.0, float(force)) / live
        for key, force in zip(model.members, more, strict=True)
    }
