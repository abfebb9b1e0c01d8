"""Reducing values of elements and stations to members, without a loop over members.

Elements of a member follow one another, so a member is a slice of the row of elements.
Values at stations come station first, (K, ncomb, m): NumPy is quick along a long last
axis. Knows nothing of stresses.
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
    """Where each member's elements stand in the row of elements.

    Attributes:
        member: (m,) row of each element's member.
        n: number of members.
        first: (n,) first element of each member.
        start: (m,) m from the start of the member to end i.
    """

    member: Ints
    n: int
    first: Ints
    start: Floats

    @staticmethod
    def of(element_member: Ints, length: Floats, n: int) -> Segments:
        """Return the segments of a frame.

        Args:
            element_member: (m,) nondecreasing row of each element's member.
            length: (m,) m.
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
        before = np.cumsum(length) - length
        start = before - before[first[element_member]]
        return Segments(element_member, n, first, start)

    def largest(self, values: Floats) -> Floats:
        """Return (ncomb, n) largest of each member's elements (ncomb, m)."""
        return np.maximum.reduceat(values, self.first, axis=1)

    def smallest(self, values: Floats) -> Floats:
        """Return (ncomb, n) smallest of each member's elements (ncomb, m)."""
        return np.minimum.reduceat(values, self.first, axis=1)

    def reached(self, values: Floats, target: Floats) -> tuple[Ints, Ints]:
        """Return the first place of each member where its extreme is reached.

        Args:
            values: (k, m) at k places of each element, in the governing combination.
            target: (n,) extreme to reach; one above 0 is the largest of them, found
                here again so that rounding cannot hide it.

        Returns:
            (n,) element and (n,) place in it.
        """
        k, m = values.shape
        most = np.maximum.reduceat(np.maximum.reduce(values), self.first)
        wanted = np.where(target > 0, most, target) * (1 - 1e-12)
        hit = values >= wanted[self.member]
        place = np.where(hit.any(axis=0), np.argmax(hit, axis=0), k)
        code = np.where(place < k, np.arange(m) * k + place, m * k - 1)
        found = np.minimum.reduceat(code, self.first)
        return found // k, found % k

    def of_members(self, chosen: Bools) -> tuple[Segments, Ints]:
        """Return the segments of some members alone, and the elements they have.

        Args:
            chosen: (n,) members to keep, at least one.
        """
        elements = np.flatnonzero(chosen[self.member])
        member = (np.cumsum(chosen) - 1)[self.member[elements]]
        n = int(chosen.sum())
        first = np.searchsorted(member, np.arange(n))
        part = Segments(member, n, first, self.start[elements])
        return part, elements
