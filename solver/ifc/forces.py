"""The forces along every stretch of the analysis model, combination by combination.

A reading is what the part beyond a cut exerts on the part before it, in the stretch's
own axes: X along it from its start, Z its depth. Pull is positive in X; a sagging
moment is negative about Y.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ..analysis import Stations
from ..solve import Solution
from .base import Book, Entity

Floats = NDArray[np.float64]
SAYS = (
    "Forces along the members: what the part beyond a cut exerts on the part before "
    "it, in local axes, at distances from the start of each stretch."
)
_PARTS = 4  # stretches that are loaded along them are read at quarter points
_NAMES = ("ForceX", "ForceY", "ForceZ", "MomentX", "MomentY", "MomentZ")
_SLACK = 1e-6  # N: less is nothing


def member_forces(
    book: Book, solution: Solution, members: Sequence[Entity], group: Entity, row: int
) -> list[Entity]:
    """Return a curve reaction for each stretch that holds anything in a combination.

    Args:
        book: the file.
        solution: the solved roof, analysed.
        members: curve member of each stretch.
        group: the combination.
        row: of it.
    """
    assert solution.model is not None
    assert solution.frame is not None
    stations = solution.frame.stations(_PARTS + 1)
    values, x = _cut_forces(stations, row), stations.x
    loaded = np.abs(solution.model.loads.element_load).max(axis=(0, 2)) > 0
    out = []
    for n, member in enumerate(members):
        if np.abs(values[:, n]).max() < _SLACK:
            continue
        at = np.argsort(x[n])
        at = at if loaded[n] else at[[0, -1]]
        out.append(_reaction(book, member, group.Name, n, x[n, at], values[:, n, at]))
    return out


def _cut_forces(stations: Stations, row: int) -> Floats:
    """Return (6, m, K) N and N m of one combination, in IFC's order and signs."""
    zero = np.zeros_like(stations.x)
    return np.stack(
        [
            stations.N[row], -stations.V_weak[row], -stations.V_strong[row],
            zero, -stations.M_strong[row], stations.M_weak[row],
        ]
    )  # fmt: skip


def _reaction(
    book: Book, member: Entity, combination: str, n: int, x: Floats, values: Floats
) -> Entity:
    """Return the forces along one stretch as values at places."""
    loads = [
        book.make(
            "StructuralLoadSingleForce", Name=combination,
            **dict(zip(_NAMES, map(float, column), strict=True)),
        )
        for column in values.T
    ]  # fmt: skip
    listed = book.make(
        "StructuralLoadConfiguration", Name=combination, Values=loads,
        Locations=[[float(place)] for place in x],
    )  # fmt: skip
    made = book.root(
        "StructuralCurveReaction", f"{combination}/along {n}", Name=combination,
        AppliedLoad=listed, GlobalOrLocal="LOCAL_COORDS", PredefinedType="DISCRETE",
        ObjectPlacement=book.local(None), Representation=member.Representation,
    )  # fmt: skip
    book.root(
        "RelConnectsStructuralActivity", f"along/{combination}/{n}",
        RelatingElement=member, RelatedStructuralActivity=made,
    )  # fmt: skip
    return made
