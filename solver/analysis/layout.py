"""The layout of the elimination: everything that depends on topology alone.

A `Layout` is made once for a connectivity and used again for every change of loads,
sections, stiffness or geometry. It holds the fronts of a multifrontal elimination in
the order of their height in the elimination tree, so that fronts of equal shape and
height are one stacked array and go through NumPy in one call.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .frame import Bools, Frame, Ints


@dataclass(frozen=True, eq=False)
class Block:
    """Where like parents, one after the other, take what is left as one block.

    Attributes:
        entries: of their pivots in the matrix store.
        rows: their own rows in the row store.
        within: the part of each parent's own freedoms.
        p: own freedoms of each parent.
    """

    entries: slice
    rows: slice
    within: slice
    p: int


@dataclass(frozen=True, eq=False)
class Run:
    """Consecutive fronts of a group whose parents are all different.

    Where the parents follow one another and take what is left as one block,
    ``block`` says so and no index is needed. Entries and rows that go nowhere (padding,
    the lower half of a coupling) point at the last place of the store.

    Attributes:
        first, last: the fronts.
        block: of the parents, or None.
        entries: (fronts, q, q) in the matrix store.
        rows: (fronts, q) in the row store.
    """

    first: int
    last: int
    block: Block | None
    entries: Ints
    rows: Ints


@dataclass(frozen=True, eq=False)
class Group:
    """Fronts of one height, stored one after the other as if all had one shape.

    Attributes:
        count: number of fronts.
        p, q: freedoms that each eliminates and leaves, padding included.
        pivots, couplings: entries of the (count, p, p) and (count, p, q) stacks.
        rests: entries of the (count, q, q) stack that children add to, or None.
        rows: own rows.
        left_rows: left rows that children add to, or None.
        runs: how what is left goes to the parents.
        from_rows: (count, q) own row of each left freedom.
    """

    count: int
    p: int
    q: int
    pivots: slice
    couplings: slice
    rests: slice | None
    rows: slice
    left_rows: slice | None
    runs: tuple[Run, ...]
    from_rows: Ints


@dataclass(frozen=True, eq=False)
class Layout:
    """The plan of one elimination laid out in memory; see `builder`.

    Attributes:
        key: arrays that must be equal for the layout to fit a frame.
        free: (n, 6) freedoms that are unknowns.
        dof: (n_free,) flat index (6 node + k) of each unknown.
        unknown: (6 n,) the unknown of each flat index, -1 where there is none.
        groups: fronts, in the order of elimination.
        n_entries, n_rows: sizes of the matrix store and the row store; the last
            place of either takes what goes nowhere.
        row: (n_free,) row of each unknown; own rows come first in the store.
        padding: diagonal entries of padded pivots, which are 1.
        diagonal: (n_free,) entry of its diagonal.
        source, target: assembly is ``bincount(target, pool[source])``.
        cost: estimated seconds of one factorisation with eight solves.
    """

    key: tuple[NDArray[np.generic], ...]
    free: Bools
    dof: Ints
    unknown: Ints
    groups: tuple[Group, ...]
    n_entries: int
    n_rows: int
    row: Ints
    diagonal: Ints
    padding: Ints
    source: Ints
    target: Ints
    cost: float

    def fits(self, key: tuple[NDArray[np.generic], ...]) -> bool:
        """Return True where a frame with that key can use this layout."""
        return all(np.array_equal(a, b) for a, b in zip(self.key, key, strict=True))


def layout_key(frame: Frame, natural: Bools) -> tuple[NDArray[np.generic], ...]:
    """Return the arrays that a layout depends on."""
    links = frame.links
    return (frame.ends, frame.axial_only, frame.release, links.i, links.j, natural)
