"""Reducing values at stations to members, without a loop over members.

Elements of a member follow one another, so a member is a slice of the flat row of
stations. Knows nothing of stresses.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Bools, Floats
from ..errors import FieldError

Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Segments:
    """Where each member's stations stand in the flat row of m K stations.

    Attributes:
        member: (m,) row of each element's member.
        n: number of members.
        K: stations per element.
        starts: (n,) first flat station of each member.
        position: (m K,) m from the start of the member.
    """

    member: Ints
    n: int
    K: int
    starts: Ints
    position: Floats

    @staticmethod
    def of(element_member: Ints, x: Floats, n: int) -> Segments:
        """Return the segments of the stations of a frame.

        Args:
            element_member: (m,) nondecreasing row of each element's member.
            x: (m, K) m from end i, one of them at each end.
            n: number of members; each has at least one element.

        Raises:
            FieldError: a member without elements, or elements out of order.
        """
        first = np.searchsorted(element_member, np.arange(n))
        count = np.diff(np.append(first, len(element_member)))
        sorted_rows = bool(np.all(np.diff(element_member) >= 0))
        if not sorted_rows or np.any(count < 1):
            raise FieldError(
                "element_member", n, "each member once, in order, with its elements"
            )
        length = x.max(axis=1)
        before = np.cumsum(length) - length
        start = before - before[first[element_member]]
        K = x.shape[1]
        position = (start[:, None] + x).ravel()
        return Segments(element_member, n, K, first * K, position)

    def largest(self, flat: Floats) -> Floats:
        """Return (ncomb, n) largest of each member's stations."""
        return np.maximum.reduceat(flat, self.starts, axis=1)

    def smallest(self, flat: Floats) -> Floats:
        """Return (ncomb, n) smallest of each member's stations."""
        return np.minimum.reduceat(flat, self.starts, axis=1)

    def spread(self, per_member: Floats) -> Floats:
        """Return values (n,) of members at their stations, (m K,)."""
        return np.repeat(per_member[self.member], self.K)

    def index_of(
        self, flat: Floats, combination: Ints, target: Floats, sign: Floats | None
    ) -> Ints:
        """Return the first flat station of each member where its extreme is reached.

        Args:
            flat: (ncomb, m K) values.
            combination: (n,) combination to look at for each member.
            target: (n,) extreme to reach, not negative.
            sign: (n,) side of the extreme; None for either side.

        Returns:
            (n,) flat station.
        """
        at = np.arange(int(flat.shape[1]))
        values = flat[np.repeat(combination[self.member], self.K), at]
        values = np.abs(values) if sign is None else values * self.spread(sign)
        wanted = self.spread(target * (1 - 1e-12))
        first = np.where(values >= wanted, at, len(at) - 1)
        return np.minimum.reduceat(first, self.starts)

    def place_of(
        self, flat: Floats, combination: Ints, target: Floats, sign: Floats | None
    ) -> Floats:
        """Return where that is, (n,) m from the start of the member."""
        return self.position[self.index_of(flat, combination, target, sign)]

    def highest(self, flat: Floats) -> Floats:
        """Return (ncomb, m) largest of each element's stations."""
        each = np.arange(0, int(flat.shape[1]), self.K)
        return np.maximum.reduceat(flat, each, axis=1)

    def lowest(self, flat: Floats) -> Floats:
        """Return (ncomb, m) smallest of each element's stations."""
        each = np.arange(0, int(flat.shape[1]), self.K)
        return np.minimum.reduceat(flat, each, axis=1)

    def of_elements(self, values: Floats, extreme: np.ufunc) -> Floats:
        """Return (ncomb, n) extremes of values (ncomb, m) of elements."""
        return extreme.reduceat(values, self.starts // self.K, axis=1)

    def of_members(self, chosen: Bools, K: int) -> tuple[Segments, Bools]:
        """Return the segments of some members alone, and which elements they have.

        Args:
            chosen: (n,) members to keep, at least one.
            K: values per element that the new segments are for.

        Returns:
            Segments of the chosen members, without positions unless K is the same,
            and (m,) True for their elements.
        """
        elements = chosen[self.member]
        renumbered = (np.cumsum(chosen) - 1)[self.member[elements]]
        n = int(chosen.sum())
        starts = np.searchsorted(renumbered, np.arange(n)) * K
        position = np.zeros(len(renumbered) * K)
        if K == self.K:
            position = self.position[np.repeat(elements, K)]
        return Segments(renumbered, n, K, starts, position), elements
