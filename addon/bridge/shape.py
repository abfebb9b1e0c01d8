"""Where the members of a roof lie, whatever they carry. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ...solver.brief import Brief
from ...solver.framing.solids import Solid


@dataclass(frozen=True, eq=False)
class Shape:
    """Where the members of a roof lie.

    Attributes:
        brief: that it was framed from.
        roles: member key to role.
        solids: the drawn piece of every member, by key, in the order of the roles.
    """

    brief: Brief
    roles: Mapping[str, str]
    solids: Mapping[str, Solid]

    @cached_property
    def corners(self) -> NDArray[np.float64]:
        """(v, 3) m, the corners of all pieces, one after the other."""
        pieces = [self.solids[key].vertices for key in self.roles]
        return np.concatenate(pieces) if pieces else np.empty((0, 3))

    @cached_property
    def ends(self) -> NDArray[np.int64]:
        """(n,) where each piece ends in ``corners``."""
        return np.cumsum([len(self.solids[key].vertices) for key in self.roles])

    @cached_property
    def lines(self) -> NDArray[np.float64]:
        """(n, 2, 3) m, the joint lines moved into the middle of the drawn pieces."""
        if not self.roles:
            return np.empty((0, 2, 3))
        pieces = [self.solids[key] for key in self.roles]
        first = np.array([piece.vertices[:5] for piece in pieces])
        starts = np.concatenate([[0], self.ends[:-1]])
        count = np.diff(self.ends, prepend=0)
        along = np.concatenate([piece.along for piece in pieces])
        at = np.add.reduceat(along, starts) / count
        middle = np.add.reduceat(self.corners, starts) / count[:, None]
        per_unit = (first[:, 4] - first[:, 0]) / (along[starts + 4] - along[starts])[
            :, None
        ]
        from_start = middle - at[:, None] * per_unit
        return np.stack([from_start, from_start + per_unit], axis=1)
