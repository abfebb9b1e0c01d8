"""Exact shares: what part of a load reaches each support, by superposition.

One adjoint solve for each support owner, in the contact state of one combination; the
shares of any patch add to one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..analysis.influence import SupportGroup, reaction_influence
from ..idealise.model import Model

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False, kw_only=True)
class Shares:
    """Shares of vertical load on elements and nodes among the supports.

    Attributes:
        owners: (k,) support owners.
        element: (k, m) share of a load spread over an element.
        node: (k, n) share of a load at a node.
        combination: whose contact state it is.
        error: largest difference of a sum of shares from one, over loaded elements.
    """

    owners: tuple[str, ...]
    element: Floats
    node: Floats
    combination: str
    error: float

    def of_patch(self, elements: NDArray[np.int64], loads: Floats) -> dict[str, float]:
        """Return the share of a patch of several elements in each owner.

        Args:
            elements: (p,) element numbers.
            loads: (p,) N, the part of the patch on each.
        """
        total = float(loads.sum())
        share = self.element[:, elements] @ loads / total
        return dict(zip(self.owners, share.tolist(), strict=True))


def support_shares(model: Model, result: FrameResult, combination: int) -> Shares:
    """Return the shares of every element's and node's load in every support owner."""
    owners = tuple(
        dict.fromkeys(row.owner for row in model.ground if row.direction == 2)
    )
    groups = []
    for owner in owners:
        rows = [r for r in model.ground if r.owner == owner and r.direction == 2]
        groups.append(
            SupportGroup(
                name=owner,
                nodes=np.array([r.node for r in rows if r.link < 0], dtype=np.int64),
                links=np.array([r.link for r in rows if r.link >= 0], dtype=np.int64),
            )
        )
    found = reaction_influence(result, combination, groups)
    frame = model.frame
    span = frame.xyz[frame.ends[:, 1]] - frame.xyz[frame.ends[:, 0]]
    length = np.linalg.norm(span, axis=1)
    element = found.element[:, :, 2] / length  # a unit line load weighs its length
    node = found.node[:, :, 2]
    loaded = ~frame.axial_only
    error = float(np.abs(element[:, loaded].sum(axis=0) - 1).max(initial=0.0))
    return Shares(
        owners=owners,
        element=element,
        node=node,
        combination=result.combination_names[combination],
        error=error,
    )
