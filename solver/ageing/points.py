"""Displacements at chosen points of members."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..idealise.model import Model

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_NODES = np.linspace(0.0, 1.0, 5)


@dataclass(frozen=True, eq=False)
class Points:
    """Points on elements, (p,).

    Attributes:
        element: which.
        fraction: of its length from end i.
    """

    element: Ints
    fraction: Floats

    @staticmethod
    def of(model: Model, member: Ints, station: Floats) -> Points:
        """Return points at stations of members.

        Args:
            model: of the roof.
            member: (p,) rows of ``model.members``.
            station: (p,) m from the start of the member; held to its length.
        """
        of_element = model.frame.element_member
        span = model.frame.xyz[model.frame.ends[:, 1]]
        span = span - model.frame.xyz[model.frame.ends[:, 0]]
        length = np.linalg.norm(span, axis=1)
        before = np.cumsum(length) - length
        first = np.searchsorted(of_element, member)
        last = np.searchsorted(of_element, member, side="right") - 1
        at = before[first] + station
        found: Ints = np.searchsorted(before, at + 1e-9, side="right") - 1
        element = np.minimum(np.maximum(found, first), last)
        part = (at - before[element]) / length[element]
        return Points(element, np.clip(part, 0.0, 1.0))

    def displacement(self, result: FrameResult) -> Floats:
        """Return (ncomb, p, 3) m, global.

        The shape of an element under uniform load is a quartic, so five stations say
        all of it.
        """
        moved = result.stations(len(_NODES)).displacement[:, self.element]
        return np.einsum("cpki,pk->cpi", moved, _quartic(self.fraction))


def _quartic(fraction: Floats) -> Floats:
    """Return (p, 5) weights of the five even stations, Lagrange's."""
    out = np.ones((len(fraction), len(_NODES)))
    for k, own in enumerate(_NODES):
        for other in np.delete(_NODES, k):
            out[:, k] *= (fraction - other) / (own - other)
    return out
