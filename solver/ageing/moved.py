"""What the lasting load does in each member, and what creep moves between them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..idealise.carried import carried_load
from ..idealise.model import Model
from .model import Redistribution

Floats = NDArray[np.float64]


def redistribution(model: Model, aged: Sequence[FrameResult]) -> Redistribution:
    """Return loads and moments of members, and reactions, over the years.

    Args:
        model: of the roof.
        aged: (1 + T,) analyses of the lasting load, at once and at each time.
    """
    carried = np.stack([carried_load(model, result) for result in aged])
    moment = np.stack([_moment(model, result) for result in aged])
    owners = dict.fromkeys(row.owner for row in model.ground if row.direction == 2)
    return Redistribution(
        carried={key: carried[:, n] for n, key in enumerate(model.members)},
        moment={key: moment[:, n] for n, key in enumerate(model.members)},
        reactions={
            owner: np.array([_reaction(model, result, owner) for result in aged])
            for owner in owners
        },
    )


def _moment(model: Model, result: FrameResult) -> Floats:
    """Return the moment of largest size in each member, (n,) N m."""
    ends = result.stations(2).M_strong[0]
    inner = result.peak_moments()[1][0]
    every = np.concatenate([ends, inner[:, None]], axis=1)
    worst = every[np.arange(len(every)), np.abs(every).argmax(axis=1)]
    out = np.zeros(len(model.members))
    for row, value in zip(model.frame.element_member.tolist(), worst, strict=True):
        if abs(value) > abs(out[row]):
            out[row] = value
    return out


def _reaction(model: Model, result: FrameResult, owner: str) -> float:
    """Return what a support owner gives upward, N."""
    total = 0.0
    for row in model.ground:
        if row.owner == owner and row.direction == 2:
            if row.link >= 0:
                total += float(result.link_force[0, row.link])
            else:
                total += float(result.reaction[0, row.node, 2])
    return total
