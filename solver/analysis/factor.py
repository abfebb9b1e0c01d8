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
        owns: list[Floats] = []
        for group, inverse, carry in zip(
            layout.groups, self.inverse, self.carry, strict=True
        ):
            own = rows[group.rows].reshape(group.count, group.p, -1)
            owns.append(own)
            if group.q:
                _hand_on(group, rows, carry.transpose(0, 2, 1) @ own)
            own[...] = inverse @ own
        for group, carry, own in zip(
            reversed(layout.groups), reversed(self.carry), reversed(owns), strict=True
        ):
            if group.q:
                own -= carry @ _left(group, rows)
        return rows[layout.row]


def _hand_on(group: Group, rows: Floats, given: Floats) -> None:
    """Take from the parents' right-hand sides what a group hands on."""
    if group.left_rows is not None:
        given -= rows[group.left_rows].reshape(given.shape)
    for run in group.runs:
        block = run.block
        if block is None:
            rows[run.rows] -= given[run.first : run.last]
        else:
            parents = rows[block.rows].reshape(-1, block.p, given.shape[2])
            parents[:, block.within] -= given[run.first : run.last]


def _left(group: Group, rows: Floats) -> Floats:
    """Return the solved rows of what a group leaves, (count, q, ncols)."""
    block = group.runs[0].block
    if block is None or len(group.runs) > 1:
        return rows[group.from_rows]
    return rows[block.rows].reshape(-1, block.p, rows.shape[1])[:, block.within]


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
    P: Floats = np.linalg.inv(store[group.pivots].reshape(count, p, p))
    if not q:
        return P, np.zeros((count, p, 0))
    couplings = store[group.couplings].reshape(count, p, q)
    X = P @ couplings
    taken = couplings.transpose(0, 2, 1) @ X
    if group.rests is not None:
        taken -= store[group.rests].reshape(count, q, q)
    for run in group.runs:
        block = run.block
        if block is None:
            store[run.entries] -= taken[run.first : run.last]
        else:
            parents = store[block.entries].reshape(-1, block.p, block.p)
            parents[:, block.within, block.within] -= taken[run.first : run.last]
    return P, X
