"""What the checks are given of members: rows to fill in, and the table they make.

Receives sections, species, grades and bracing; adds reference values and the factors
that depend on the member alone. Knows no forces.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Bools, Floats
from ..basis.flitch import wood_share
from ..basis.materials import ReferenceValues
from ..basis.nds import compression
from ..basis.nds.design import NDS
from ..basis.pieces import Pieces, Stock
from ..basis.protocol import Basis
from ..basis.sections import Section

Ints = NDArray[np.int64]


class StationForces(Protocol):
    """Forces and displacements at stations, as the analysis gives them.

    Attributes:
        x: (m, K) m from end i of each element; one column lies at each end.
        N: (ncomb, m, K) N, tension positive.
        V_strong, M_strong, M_weak: (ncomb, m, K) N and N m; sagging positive.
        displacement: (ncomb, m, K, 3) m, global.
    """

    x: Floats

    @property
    def N(self) -> Floats: ...  # noqa: N802, D102 - the book's symbol
    @property
    def V_strong(self) -> Floats: ...  # noqa: N802, D102
    @property
    def M_strong(self) -> Floats: ...  # noqa: N802, D102
    @property
    def M_weak(self) -> Floats: ...  # noqa: N802, D102
    @property
    def displacement(self) -> Floats: ...  # noqa: D102


@dataclass(frozen=True, kw_only=True)
class MemberRow:
    """One member as the checks need it.

    Attributes:
        key: stable member key.
        role: what it is.
        section: dressed section with plies.
        species, grade: rows of the lumber tables.
        length: m, whole length.
        is_repetitive: three or more at most 24 in apart under a shared cover.
        unbraced_top: m between supports of the top edge; 0 held throughout (sheathing),
            inf not known.
        unbraced_bottom: m, likewise for the bottom edge.
        le_strong: m, column length that buckles along the depth; 0 held.
        le_weak: m, column length that buckles across it; 0 held.
        built_up: stability factor of several plies across them (0.6 nailed).
        axial_is_primary: a strut or a post: slenderness counts under any compression.
    """

    key: str
    role: str
    section: Section
    species: str
    grade: str
    length: float
    is_repetitive: bool = False
    unbraced_top: float = 0.0
    unbraced_bottom: float = math.inf
    le_strong: float = 0.0
    le_weak: float = 0.0
    built_up: float = compression.NAILED
    axial_is_primary: bool = False


@dataclass(frozen=True, eq=False, kw_only=True)
class MemberTable(Pieces):
    """All members, one row each; arrays (n,) of `Pieces` and these.

    Attributes:
        keys, roles: (n,) text.
        values: (n,) reference values, with the source of each.
        axial_is_primary: (n,) see `MemberRow`.
        wood_share: (n,) part of moment and shear that the plies take, 1 where no steel
            plate is between them; at once, and in ``plate_share`` what the plate takes
            when the wood has crept.
        plates: (n, 2) m, breadth and depth of the plate, 0 where there is none.
        counts: (ncomb, n) whether a combination counts for a member; None: all do.
    """

    keys: tuple[str, ...]
    roles: tuple[str, ...]
    values: tuple[ReferenceValues, ...]
    axial_is_primary: Bools
    wood_share: Floats
    plate_share: Floats
    plates: Floats
    counts: Bools | None = None

    @property
    def has_plates(self) -> bool:
        """Whether any member has a steel plate between its plies."""
        return bool(self.plate_share.any())

    def counted(self, every: Floats) -> Floats:
        """Return utilisations (ncomb, n), 0 where a combination does not count."""
        return every if self.counts is None else np.where(self.counts, every, 0.0)

    def row(self, key: str) -> int:
        """Return the row of a member key."""
        return self.keys.index(key)


_STOCK_FIELDS = (
    "Fb", "Ft", "Fv", "Fc_perp", "Fc", "E", "Emin", "breadth", "depth", "plies",
    "size_bending", "size_tension", "size_compression", "flat_use", "volume",
    "column_c", "nominal_ratio",
)  # fmt: skip


def member_table(rows: Sequence[MemberRow], basis: Basis = NDS) -> MemberTable:
    """Return the table of members.

    Source: reference values and size factors as the basis gives them.

    Args:
        rows: members, in the order of the analysis.
        basis: the rules; the same as for the checks.

    Returns:
        The table.

    Raises:
        TableError: a species, grade or size that the tables do not hold.
    """
    found, which = _stocks(rows, basis)
    columns = {
        name: _floats(getattr(stock, name) for stock in found)[which]
        for name in _STOCK_FIELDS
    }
    repetitive = _floats(s.repetitive for s in found)[which]
    return MemberTable(
        keys=tuple(row.key for row in rows),
        roles=tuple(str(row.role) for row in rows),
        values=tuple(found[n].values for n in which.tolist()),
        axial_is_primary=np.array([row.axial_is_primary for row in rows], dtype=bool),
        by_proportions=np.array([s.by_proportions for s in found], dtype=bool)[which],
        repetitive=np.where([row.is_repetitive for row in rows], repetitive, 1.0),
        **_plates(rows, found, which, basis),
        built_up=_floats(r.built_up if r.section.plies > 1 else 1.0 for r in rows),
        unbraced_top=_floats(row.unbraced_top for row in rows),
        unbraced_bottom=_floats(row.unbraced_bottom for row in rows),
        length=_floats(row.length for row in rows),
        le_strong=_floats(row.le_strong for row in rows),
        le_weak=_floats(row.le_weak for row in rows),
        **columns,
    )


def _stocks(rows: Sequence[MemberRow], basis: Basis) -> tuple[list[Stock], Ints]:
    """Return the few kinds of stock of all rows, and (n,) the kind of each row."""
    number: dict[tuple[int, str, str], int] = {}
    found: list[Stock] = []
    which = np.zeros(len(rows), dtype=np.int64)
    for n, row in enumerate(rows):
        name = (id(row.section), row.species, row.grade)  # a section is slow to hash
        if name not in number:
            number[name] = len(found)
            found.append(basis.stock(row.section, row.species, row.grade))
        which[n] = number[name]
    return found, which


def _plates(
    rows: Sequence[MemberRow], found: list[Stock], which: Ints, basis: Basis
) -> dict[str, Floats]:
    """Return what wood and steel share of each row, and the plates, kind by kind."""
    first = np.unique(which, return_index=True)[1].tolist()
    kinds = [(stock.E, rows[n].section) for stock, n in zip(found, first, strict=True)]
    day_one = _floats(wood_share(E, made) for E, made in kinds)
    crept = _floats(wood_share(E, made, basis.creep()) for E, made in kinds)
    sizes = [
        (0.0, 0.0) if made.plate is None else (made.plate.breadth, made.plate.depth)
        for _, made in kinds
    ]
    return {
        "wood_share": day_one[which],
        "plate_share": 1 - crept[which],
        "plates": np.array(sizes).reshape(-1, 2)[which],
    }


def _floats(values: object) -> Floats:
    """Return an iterable of numbers as an array."""
    return np.fromiter(values, dtype=np.float64)  # type: ignore[call-overload]
