"""Forces along members, reduced as the checks need them.

The analysis gives extremes and single values in closed form; forces that come as plain
arrays at stations are reduced here to the same.
"""

from __future__ import annotations

from typing import Protocol, runtime_checkable

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Floats
from .inputs import StationForces

Ints = NDArray[np.int64]


@runtime_checkable
class ReducedForces(Protocol):
    """Forces at K stations of m elements.

    Quantities go by name: ``N``, ``M_strong``, ``V_strong`` and ``M_weak``.
    """

    x: Floats

    def high_low(self, quantity: str) -> tuple[Floats, Floats]:
        """Return (ncomb, m) largest and smallest over the stations of each element."""
        ...

    def ends(self, quantity: str) -> tuple[Floats, Floats]:
        """Return (ncomb, m) of axial force or shear at both ends of each element."""
        ...

    def part(self, quantity: str, elements: Ints) -> Floats:
        """Return (K, ncomb, e) at the stations of some elements."""
        ...

    def in_combination(self, quantity: str, combination: Ints) -> Floats:
        """Return (K, m), each element in its own combination (m,)."""
        ...


class ArrayForces:
    """Forces that come as arrays at stations."""

    def __init__(self, stations: StationForces):
        self._of = stations
        self.x = stations.x
        self._far = int(np.argmax(self.x[0]))

    def high_low(self, quantity: str) -> tuple[Floats, Floats]:
        """Return (ncomb, m) largest and smallest over the stations of each element."""
        values = getattr(self._of, quantity)
        return values.max(axis=2), values.min(axis=2)

    def ends(self, quantity: str) -> tuple[Floats, Floats]:
        """Return (ncomb, m) of axial force or shear at both ends of each element."""
        values = getattr(self._of, quantity)
        return values[:, :, 0], values[:, :, self._far]

    def part(self, quantity: str, elements: Ints) -> Floats:
        """Return (K, ncomb, e) at the stations of some elements."""
        return getattr(self._of, quantity)[:, elements].transpose(2, 0, 1)

    def in_combination(self, quantity: str, combination: Ints) -> Floats:
        """Return (K, m), each element in its own combination (m,)."""
        at = np.arange(len(combination))
        return getattr(self._of, quantity)[combination, at].T


class SharedForces:
    """Forces of which some elements bend by a part alone: what steel leaves the wood.

    Axial force and bending across stay with the wood, the cautious side.
    """

    def __init__(self, forces: ReducedForces, share: Floats):
        """Take forces and (m,) the part of moment and shear of each element."""
        self._of, self._share = forces, share
        self.x = forces.x

    def _part(self, quantity: str) -> Floats | float:
        """Return (m,) the part of a quantity."""
        return self._share if quantity in ("M_strong", "V_strong") else 1.0

    def high_low(self, quantity: str) -> tuple[Floats, Floats]:
        """Return (ncomb, m) largest and smallest over the stations of each element."""
        high, low = self._of.high_low(quantity)
        part = self._part(quantity)
        return (high * part, high * part) if high is low else (high * part, low * part)

    def ends(self, quantity: str) -> tuple[Floats, Floats]:
        """Return (ncomb, m) of axial force or shear at both ends of each element."""
        near, far = self._of.ends(quantity)
        return near * self._part(quantity), far * self._part(quantity)

    def part(self, quantity: str, elements: Ints) -> Floats:
        """Return (K, ncomb, e) at the stations of some elements."""
        part = self._part(quantity)
        own = part if isinstance(part, float) else part[elements]
        return self._of.part(quantity, elements) * own

    def in_combination(self, quantity: str, combination: Ints) -> Floats:
        """Return (K, m), each element in its own combination (m,)."""
        return self._of.in_combination(quantity, combination) * self._part(quantity)


def reduced(stations: StationForces | ReducedForces) -> ReducedForces:
    """Return forces that can be reduced, whatever they come as."""
    return stations if isinstance(stations, ReducedForces) else ArrayForces(stations)
