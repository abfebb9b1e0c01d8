"""What members do to the joints at their ends, by combination.

Reads solved forces; computes no statics of its own.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..framing.model import Framing
from ..idealise.model import Model

Floats = NDArray[np.float64]


class MemberForces:
    """Forces of the members of the analysis on their joints, (c, 3) N, global."""

    def __init__(self, framing: Framing, model: Model, result: FrameResult):
        self._framing = framing
        self._push = -result.end_force_global[:, :, :, :3]
        rows = np.arange(len(model.members) + 1)
        self._first = np.searchsorted(model.frame.element_member, rows).tolist()
        self.row = {key: n for n, key in enumerate(model.members)}
        self.none = np.zeros((len(result.combination_names), 3))

    def at_start(self, key: str) -> Floats:
        """Return the force of a member on the joint at its start."""
        return self._push[:, self._first[self.row[key]], 0]

    def at_end(self, key: str) -> Floats:
        """Return the force of a member on the joint at its end."""
        return self._push[:, self._first[self.row[key] + 1] - 1, 1]

    def at(self, key: str, node: int) -> Floats:
        """Return the force of a member on a joint along it."""
        place = self._framing.members[key].nodes.index(node)
        low, high = self._first[self.row[key]], self._first[self.row[key] + 1]
        total = self.none.copy()
        if low + place < high:
            total += self._push[:, low + place, 0]
        if place:
            total += self._push[:, low + place - 1, 1]
        return total
