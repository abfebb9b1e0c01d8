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
    """Forces at stations of m elements.

    Quantities go by name: ``N``, ``M_strong``, ``V_strong`` and ``M_weak``.
    """

    @property
    def length(self) -> Floats:
        """(m,) m, of the elements."""
        ...

    @property
    def governing(self) -> int:
        """K, how many stations `part` and `in_combination` look at."""
        ...

    def place(self, element: Ints, combination: Ints, station: Ints) -> Floats:
        """Return (k,) m from end i to those stations."""
        ...

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
        self._far = int(np.argmax(stations.x[0]))

    @property
    def length(self) -> Floats:
        """(m,) m, of the elements."""
        return self._of.x[:, self._far]

    @property
    def governing(self) -> int:
        """K, how many stations there are."""
        return self._of.x.shape[1]

    def place(self, element: Ints, combination: Ints, station: Ints) -> Floats:
        """Return (k,) m from end i to stations; combinations have the same."""
        del combination
        return self._of.x[element, station]

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

    @property
    def length(self) -> Floats:
        """(m,) m, of the elements."""
        return self._of.length

    @property
    def governing(self) -> int:
        """K, how many stations there are."""
        return self._of.governing

    def place(self, element: Ints, combination: Ints, station: Ints) -> Floats:
        """Return (k,) m from end i to stations."""
        return self._of.place(element, combination, station)

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
