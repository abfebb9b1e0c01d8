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
        carry: per group (count, p, n - p), inverse pivot times coupling.
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
        rows[layout.own_row] = f
        stages = list(zip(layout.groups, self.inverse, self.carry, strict=True))
        for group, inverse, carry in stages:
            _down(group, rows, inverse, carry)
        for group, _, carry in reversed(stages):
            _up(group, rows, carry)
        return rows[layout.own_row]


def _view(group: Group, rows: Floats) -> Floats:
    """Return the rows of a group as (count, n, ncols)."""
    last = group.row + group.count * group.n
    return rows[group.row : last].reshape(group.count, group.n, -1)


def _down(group: Group, rows: Floats, inverse: Floats, carry: Floats) -> None:
    """Eliminate a group from the right-hand sides."""
    view, p = _view(group, rows), group.p
    own = view[:, :p]
    if group.n > p:
        rest = view[:, p:]
        rest -= carry.transpose(0, 2, 1) @ own
        for first, last in group.slices:
            rows[group.to_row[first:last]] += rest[first:last]
    view[:, :p] = inverse @ own


def _up(group: Group, rows: Floats, carry: Floats) -> None:
    """Substitute back into a group."""
    if group.n > group.p:
        view = _view(group, rows)
        view[:, : group.p] -= carry @ rows[group.from_row]


def factorise(layout: Layout, values: Floats, shift: Floats | float = 0.0) -> Factor:
    """Factorise the stiffness whose pool of block entries is given.

    Args:
        layout: the plan.
        values: flat store of block entries, see `System.values`.
        shift: (n_free,) or scalar, part of the diagonal to add to it.

    Raises:
        SingularPivot: the matrix is singular or nearly so.
    """
    store = np.bincount(
        layout.target, weights=values[layout.source], minlength=layout.n_entries
    )
    diagonal = store[layout.own_entry]
    if np.any(shift):
        store[layout.own_entry] += shift * diagonal
    pivot = np.ones(layout.n_rows)
    inverse, carry = [], []
    with np.errstate(all="ignore"):  # a vanishing pivot is found below
        for group in layout.groups:
            P, X = _eliminate(group, store, pivot)
            inverse.append(P)
            carry.append(X)
        ratio = 1 / (pivot[layout.own_row] * diagonal)
    if len(ratio) and not (ratio > SINGULAR_PIVOT).all():
        raise SingularPivot
    return Factor(layout, tuple(inverse), tuple(carry), ratio)


def _eliminate(group: Group, store: Floats, pivot: Floats) -> tuple[Floats, Floats]:
    """Eliminate one group and note the diagonal of its inverse pivots."""
    count, p, n = group.count, group.p, group.n
    fronts = store[group.entry : group.entry + count * n * n].reshape(count, n, n)
    block = fronts[:, :p, :p]
    try:
        P = np.linalg.inv(block)
    except np.linalg.LinAlgError as error:
        raise SingularPivot from error
    at = np.arange(p)
    rows = group.row + np.arange(count)[:, None] * n + at
    pivot[rows] = P[:, at, at]
    if n == p:
        return P, np.zeros((count, p, 0))
    coupling = fronts[:, :p, p:]
    X = P @ coupling
    fronts[:, p:, p:] -= coupling.transpose(0, 2, 1) @ X
    rest = fronts[:, p:, p:].reshape(count, -1)
    for first, last in group.slices:
        store[group.to_entry[first:last]] += rest[first:last]
    return P, X
