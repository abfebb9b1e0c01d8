"""What every support gives, by combination."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from .solved import Solved

Floats = NDArray[np.float64]


def reactions(solved: Solved) -> dict[str, tuple[Floats, Floats]]:
    """Return what every support owner gives, (ncomb,) N upward and across.

    Args:
        solved: a solved roof; one without analysis gives nothing. Across is across
            the ridge; over a drawn outline the size of all level forces together.
    """
    if solved.model is None or solved.frame is None:
        return {}
    count = len(solved.combinations.names)
    out: dict[str, tuple[Floats, Floats]] = {}
    level: dict[str, Floats] = {}
    for row in solved.model.ground:
        up, across = out.setdefault(row.owner, (np.zeros(count), np.zeros(count)))
        force = (
            solved.frame.link_force[:, row.link]
            if row.link >= 0
            else solved.frame.reaction[:, row.node, row.direction]
        )
        if row.direction == 2:
            up += force
        elif solved.framing.plan is not None:
            way = np.array(row.way) if row.direction > 2 else np.eye(3)[row.direction]
            side = level.setdefault(row.owner, np.zeros((count, 2)))
            side += force[:, None] * way[:2]
        elif row.direction == 1:
            across += force
    for owner, side in level.items():
        out[owner] = (out[owner][0], np.hypot(side[:, 0], side[:, 1]))
    return out
