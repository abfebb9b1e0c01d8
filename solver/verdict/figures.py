"""What the checks say of every analysed member, as arrays: one row each.

Receives the checks; picks and compares. Records of single members are read out of it.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..basis.protocol import Check
from ..checks.results import NO_CHECK
from ..loads.combine import Combinations
from .checking import Checked

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_TIE = 1e-9  # of a value: nearer ones are equal, and the positive one is named
_LIMITS_OF_SHAPE = (Check.SLENDERNESS, Check.BEAM_SLENDERNESS)


class Figures:
    """Figures of the analysed members, arrays (n,) or (k,) of their spans.

    Attributes:
        governing: (n,) index of the worst check; -1 where nothing is asked.
        utilisation: (n,) of it, 0 where nothing is asked.
    """

    def __init__(self, checked: Checked, element_member: Ints, combos: Combinations):
        self._checked, self._combos = checked, combos
        self._element_member = element_member
        self._rows = tuple(checked.result.checks.values())
        self._names = tuple(name.value for name in checked.result.checks)
        self._use = np.array([rows.utilisation for rows in self._rows])
        self.governing, self.utilisation = self._worst()

    def _worst(self) -> tuple[Ints, Floats]:
        """Return the worst check of each member and its utilisation.

        Slenderness within its limit says how thin a piece is, not how loaded, so it
        governs only where it fails.
        """
        use = self._use.copy()
        for n, rows in enumerate(self._rows):
            if rows.check in _LIMITS_OF_SHAPE:
                use[n, use[n] <= 1] = 0.0
        at = np.argmax(use, axis=0)
        most = use[at, np.arange(use.shape[1])]
        return np.where(most > 0, at, NO_CHECK), np.maximum(most, 0.0)

    @cached_property
    def extremes(self) -> Floats:
        """(n, 3) axial force, moment and shear of largest size, signed."""
        stations, member = self._checked.stations, self._element_member
        counts, dead = self._checked.result.table.counts, self._combos.row("D")
        first = np.searchsorted(member, np.arange(self._use.shape[1]))
        out = np.zeros((self._use.shape[1], 3))
        for column, quantity in enumerate(("N", "M_strong", "V_strong")):
            most, least = stations.high_low(quantity)
            if counts is not None:
                counted = counts[:, member]
                most = np.where(counted, most, most[dead])
                least = np.where(counted, least, least[dead])
            high = np.maximum.reduceat(most.max(axis=0), first)
            low = np.minimum.reduceat(least.min(axis=0), first)
            out[:, column] = _signed(high, low)
        return out

    def checks(self, row: int) -> dict[str, object]:
        """Return what the checks say of a member, as fields of its record."""
        axial, moment, shear = self._forces[row]
        out: dict[str, object] = {
            "utilisation": float(self.utilisation[row]),
            "by_check": dict(zip(self._names, self._by_member[row], strict=True)),
            "by_combination": self._by_combination(row),
            "axial": axial,
            "moment": moment,
            "shear": shear,
        }
        at = int(self.governing[row])
        if at != NO_CHECK:
            rows = self._rows[at]
            out |= {
                "governing_check": self._names[at],
                "clause": rows.clause,
                "combination": self._combos.names[int(rows.combination[row])],
                "station": float(rows.station[row]),
                "demand": float(rows.demand[row]),
                "capacity": float(rows.capacity[row]),
                "unit": rows.unit,
            }
        return out

    @cached_property
    def _forces(self) -> list[list[float]]:
        """The extremes as plain numbers, member by member."""
        return self.extremes.tolist()

    @cached_property
    def _by_member(self) -> list[list[float]]:
        """Utilisation by member and check, as plain numbers."""
        return self._use.T.tolist()

    @cached_property
    def _every(self) -> list[list[list[float]]]:
        """Utilisation by check, member and combination, as plain numbers."""
        return [rows.every.T.tolist() for rows in self._rows]

    def _by_combination(self, row: int) -> dict[str, dict[str, float]]:
        """Return utilisation by check and combination, of the checks that apply."""
        counts, names = self._checked.result.table.counts, self._combos.names
        out: dict[str, dict[str, float]] = {}
        for n, use in enumerate(self._by_member[row]):
            if use > _TIE:  # less is rounding
                own = zip(names, self._every[n][row], strict=True)
                out[self._names[n]] = dict(own)
        if counts is None:
            return out
        counted = [name for name, c in zip(names, counts[:, row], strict=True) if c]
        return {check: {c: own[c] for c in counted} for check, own in out.items()}

    @cached_property
    def _worst_span(self) -> dict[int, int]:
        """Row of each member with spans to its span of the largest long-term sag."""
        member = self._checked.sags.table.member
        if not len(member):
            return {}
        size = np.abs(self._checked.sags.long_term).max(axis=0)
        first = np.flatnonzero(np.append(True, member[1:] != member[:-1]))
        count = np.diff(np.append(first, len(member)))
        most = np.repeat(np.maximum.reduceat(size, first), count)
        at = np.where(size == most, np.arange(len(member)), len(member))
        worst = np.minimum.reduceat(at, first)
        return dict(zip(member[first].tolist(), worst.tolist(), strict=True))

    @cached_property
    def _sags(self) -> list[tuple[float, float, float]]:
        """Sag now, in the long run and under dead load, span by span."""
        sags, dead = self._checked.sags, self._combos.row("D")
        now = _signed(sags.now.max(axis=0), sags.now.min(axis=0))
        later = _signed(sags.long_term.max(axis=0), sags.long_term.min(axis=0))
        columns = now.tolist(), later.tolist(), sags.now[dead].tolist()
        return list(zip(*columns, strict=True))

    def sags(self, row: int) -> dict[str, object]:
        """Return the worst sags of a member, as fields of its record."""
        worst = self._worst_span.get(row)
        if worst is None:
            return {}
        now, later, dead = self._sags[worst]
        return {
            "sag_now": now,
            "sag_long_term": later,
            "sag_dead": dead,
            "sag_span": self._checked.spans[worst].length,
        }

    def sag_long_term(self, row: int) -> float | None:
        """Return the long-term sag of a member, m; None where it does not bend."""
        worst = self._worst_span.get(row)
        return None if worst is None else self._sags[worst][1]


def _signed(high: Floats, low: Floats) -> Floats:
    """Return the value of largest size, signed, of pairs of extremes."""
    return np.where(high >= -low * (1 - _TIE), high, low)
