"""Multifrontal elimination of a stiffness matrix on a layout, and solving with it.

Every front eliminates its own freedoms by an explicit inverse of a small pivot block
(NumPy has no triangular solve) and hands the rest to its parent. Fronts of equal shape
and height go through NumPy as one stack.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .frame import Floats
from .layout import Group, Layout

# Pivot over the stiffness that stood on the diagonal before the elimination. A chain of
# a thousand elements still keeps 1e-9 of it; below 1e-12 rounding decides the answer.
SINGULAR_PIVOT = 1e-12


class SingularPivot(ArithmeticError):  # noqa: N818 a signal inside the package
    """A pivot vanished: the stiffness on this layout is singular."""


@dataclass(frozen=True, eq=False)
class Factor:
    """A factorised stiffness matrix.

    Attributes:
        layout: its plan.
        inverse: per group (count, p, p), inverse pivots.
        carry: per group (count, p, q), inverse pivot times coupling.
        pivot_ratio: (n_free,) pivot over original diagonal of each unknown; small
            values mean that little but rounding holds it.
    """

    layout: Layout
    inverse: tuple[Floats, ...]
    carry: tuple[Floats, ...]
    pivot_ratio: Floats

    @property
    def weakest(self) -> tuple[float, int]:
        """Return the least pivot ratio and the flat freedom that has it."""
        if not len(self.pivot_ratio):
            return 1.0, -1
        at = int(np.argmin(self.pivot_ratio))
        return float(self.pivot_ratio[at]), int(self.layout.dof[at])

    def solve(self, f: Floats) -> Floats:
        """Return K^-1 f for (n_free, ncols) right-hand sides."""
        layout = self.layout
        rows = np.zeros((layout.n_rows, f.shape[1]))
        rows[layout.row] = f
        stages = list(zip(layout.groups, self.inverse, self.carry, strict=True))
        for group, inverse, carry in stages:
            _down(group, rows, inverse, carry)
        for group, _, carry in reversed(stages):
            if group.q:
                _up(group, rows, carry)
        return rows[layout.row]


def _stack(store: Floats, first: int, count: int, size: int) -> Floats:
    """Return rows of the store as (count, size, ncols)."""
    return store[first : first + count * size].reshape(count, size, -1)


def _down(group: Group, rows: Floats, inverse: Floats, carry: Floats) -> None:
    """Eliminate a group from the right-hand sides."""
    own = _stack(rows, group.rows, group.count, group.p)
    if group.q:
        given = carry.transpose(0, 2, 1) @ own
        if group.left_rows >= 0:
            given -= _stack(rows, group.left_rows, group.count, group.q)
        for run in group.runs:
            part = given[run.first : run.last]
            if run.block is None:
                rows[run.rows] -= part
                continue
            _, row, low, p = run.block
            parents = _stack(rows, row, run.last - run.first, p)
            parents[:, low : low + group.q] -= part
    own[...] = inverse @ own


def _up(group: Group, rows: Floats, carry: Floats) -> None:
    """Substitute back into a group."""
    own = _stack(rows, group.rows, group.count, group.p)
    run = group.runs[0]
    if run.block is not None and len(group.runs) == 1:
        _, row, low, p = run.block
        parents = _stack(rows, row, group.count, p)
        own -= carry @ parents[:, low : low + group.q]
    else:
        own -= carry @ rows[group.from_rows]


def factorise(layout: Layout, values: Floats, shift: Floats | float = 0.0) -> Factor:
    """Factorise the stiffness whose pool of block entries is given.

    Args:
        layout: the plan.
        values: flat store of block entries, see `System.values`.
        shift: (n_free,) or scalar, stiffness to add to the diagonal.

    Raises:
        SingularPivot: the matrix is singular or nearly so.
    """
    store: Floats = np.bincount(
        layout.target, weights=values[layout.source], minlength=layout.n_entries
    )
    diagonal = store[layout.diagonal]
    store[layout.padding] = 1.0
    if np.any(shift):
        store[layout.diagonal] += shift
    inverse: list[Floats] = []
    carry: list[Floats] = []
    with np.errstate(all="ignore"):  # a vanishing pivot is found below
        try:
            for group in layout.groups:
                P, X = _eliminate(group, store)
                inverse.append(P)
                carry.append(X)
        except np.linalg.LinAlgError as error:
            raise SingularPivot from error
        pivots = [P.diagonal(axis1=1, axis2=2).ravel() for P in inverse]
        pivot = np.concatenate([np.zeros(0), *pivots])[layout.row]
        ratio = 1 / (pivot * diagonal)
    if len(ratio) and not (ratio > SINGULAR_PIVOT).all():
        raise SingularPivot
    return Factor(layout, tuple(inverse), tuple(carry), ratio)


def _eliminate(group: Group, store: Floats) -> tuple[Floats, Floats]:
    """Eliminate one group and add what it leaves to the parents."""
    count, p, q = group.count, group.p, group.q
    pivots = store[group.pivots : group.pivots + count * p * p]
    P: Floats = np.linalg.inv(pivots.reshape(count, p, p))
    if not q:
        return P, np.zeros((count, p, 0))
    couplings = store[group.couplings : group.couplings + count * p * q]
    couplings = couplings.reshape(count, p, q)
    X = P @ couplings
    taken = couplings.transpose(0, 2, 1) @ X
    if group.rests >= 0:
        taken -= store[group.rests : group.rests + count * q * q].reshape(count, q, q)
    for run in group.runs:
        part = taken[run.first : run.last]
        if run.block is None:
            store[run.entries] -= part
            continue
        entry, _, low, size = run.block
        last = entry + (run.last - run.first) * size * size
        parents = store[entry:last].reshape(-1, size, size)
        parents[:, low : low + q, low : low + q] -= part
    return P, X
