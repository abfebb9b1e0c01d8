"""How far a rafter or joist may span, and which size a span needs.

One simple span under uniform load on plan, by the strengths, limits and formulas of the
basis that the checks use; the published span tables are the same arithmetic with fewer
checks. Many cases are worked at once.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Floats
from ..basis.irc.cutting import BEARING_ON_WOOD
from ..basis.nds.design import NDS
from ..basis.pieces import Strengths
from ..basis.protocol import Basis, Check
from ..basis.sections import Section
from ..checks.inputs import MemberRow, member_table
from ..units import FOOT

TABULATED = (Check.BENDING, Check.DEFLECTION_LIVE)
ALL = (
    Check.BENDING,
    Check.SHEAR,
    Check.NOTCHED_SHEAR,
    Check.BEARING,
    Check.DEFLECTION_LIVE,
    Check.DEFLECTION_TOTAL,
)
LONGEST = 60 * FOOT
_HALVINGS = 48  # of 60 ft: far below a thousandth of an inch


@dataclass(frozen=True, kw_only=True)
class SpanCase:
    """One simple span; loads in Pa on plan.

    Attributes:
        section: dressed section.
        species, grade: rows of the lumber tables.
        spacing: m, on centre.
        dead, live: Pa; live is attic live, roof live or snow.
        live_duration: load duration factor of the live load.
        sag_live, sag_total: span over sag; 0 for no limit.
        repetitive: whether the factor for repetitive members applies.
        slope: rise over run; 0 for a joist. The span is on plan.
        remaining: m, depth left at a birdsmouth; 0 for none.
        top_held: the top edge is held throughout; else depth to breadth rules.
        bottom_held: likewise for the bottom edge.
    """

    section: Section
    species: str
    grade: str
    spacing: float
    dead: float
    live: float
    live_duration: float
    sag_live: float = 0.0
    sag_total: float = 0.0
    repetitive: bool = True
    slope: float = 0.0
    remaining: float = 0.0
    top_held: bool = True
    bottom_held: bool = False


@dataclass(frozen=True, eq=False, kw_only=True)
class LargestSpans:
    """The farthest spans of some cases, (n,) each.

    Attributes:
        span: m on plan, by all checks asked for; `LONGEST` where none stops it sooner.
        limit: check that stops each, None where none does.
        by_check: m, by each check alone.
    """

    span: Floats
    limit: tuple[Check | None, ...]
    by_check: dict[Check, Floats]


def largest_spans(
    cases: Sequence[SpanCase],
    checks: Sequence[Check] = ALL,
    basis: Basis = NDS,
) -> LargestSpans:
    """Return the largest span of each case.

    Source: simple beam statics; strengths of the basis (NDS 2018 3.3, 3.4, 3.10 and
    3.5.2 for the NDS).

    Args:
        cases: at least one.
        checks: those that may stop a span; `TABULATED` for the published tables.
        basis: the rules.
    """
    spans = SimpleSpans(cases, basis)
    by_check = {check: spans.largest(check) for check in checks}
    every = np.stack(list(by_check.values()))
    first = every.argmin(axis=0)
    span = every.min(axis=0)
    names = tuple(by_check)
    limit = tuple(
        names[at] if far < LONGEST else None
        for at, far in zip(first.tolist(), span.tolist(), strict=True)
    )
    return LargestSpans(span=span, limit=limit, by_check=by_check)


class SimpleSpans:
    """Cases of simple spans, ready to be checked at any span."""

    def __init__(self, cases: Sequence[SpanCase], basis: Basis = NDS):
        self.basis, self.cases = basis, tuple(cases)
        self.table = member_table(
            [
                MemberRow(
                    key=str(n),
                    role="span",
                    section=case.section,
                    species=case.species,
                    grade=case.grade,
                    length=1.0,
                    is_repetitive=case.repetitive,
                    unbraced_top=0.0 if case.top_held else math.inf,
                    unbraced_bottom=0.0 if case.bottom_held else math.inf,
                )
                for n, case in enumerate(cases)
            ],
            basis,
        )
        column = self._column
        self.dead = column("dead") * column("spacing")
        self.live = column("live") * column("spacing")
        self.cos = 1 / np.hypot(1.0, column("slope"))
        self.remaining = column("remaining")
        self.limit_live, self.limit_total = column("sag_live"), column("sag_total")
        self.dead_duration = basis.duration(["D"])
        self.live_duration = column("live_duration")
        self._formulas: dict[Check, Callable[[Floats], Floats]] = {
            Check.BENDING: self._bending,
            Check.SHEAR: self._shear,
            Check.NOTCHED_SHEAR: self._notched,
            Check.BEARING: self._bearing,
            Check.DEFLECTION_LIVE: self._sag_live,
            Check.DEFLECTION_TOTAL: self._sag_total,
        }

    def _column(self, name: str) -> Floats:
        """Return a field of all cases."""
        return np.array([getattr(case, name) for case in self.cases], dtype=float)

    def utilisation(self, check: Check, span: Floats) -> Floats:
        """Return (n,) utilisation of a check at spans (n,) m on plan."""
        return self._formulas[check](np.asarray(span, dtype=float))

    def largest(self, check: Check) -> Floats:
        """Return (n,) m, the span at which a check reaches its limit."""
        low, high = np.zeros(len(self.cases)), np.full(len(self.cases), LONGEST)
        never = self.utilisation(check, high) <= 1
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            over = self.utilisation(check, middle) > 1
            low, high = np.where(over, low, middle), np.where(over, middle, high)
        return np.where(never, LONGEST, low)

    def _pairs(self, span: Floats) -> list[tuple[Floats, Picked]]:
        """Return line load and strengths of dead load alone and of all load."""
        if np.all(self.table.unbraced_top == 0):
            return self._held
        return self._at(span)

    @cached_property
    def _held(self) -> list[tuple[Floats, Picked]]:
        """What does not depend on the span: all of it where the top edge is held."""
        return self._at(self.table.length)

    def _at(self, span: Floats) -> list[tuple[Floats, Picked]]:
        """Return line load and strengths of members of these lengths."""
        table, n = replace(self.table, length=span), np.arange(len(span))
        durations, row = np.unique(
            np.concatenate(
                [np.full(len(span), self.dead_duration), self.live_duration]
            ),
            return_inverse=True,
        )
        strengths = self.basis.strengths(table, durations)
        dead, live = row[: len(span)], row[len(span) :]
        return [
            (self.dead, Picked(strengths, dead, n)),
            (self.dead + self.live, Picked(strengths, live, n)),
        ]

    def _bending(self, span: Floats) -> Floats:
        """Return w L^2 / 8 over S Fb'."""
        S = self.table.section_modulus
        return _worst(
            w * span**2 / 8 / (S * s.of("bending_sag")) for w, s in self._pairs(span)
        )

    def _shear(self, span: Floats) -> Floats:
        """Return 1.5 V / A over Fv', V square to the member, no load left out."""
        return _worst(
            1.5 * w * span / 2 * self.cos / self.table.area / s.of("shear")
            for w, s in self._held
        )

    def _notched(self, span: Floats) -> Floats:
        """Return V over what the birdsmouth leaves; 0 where there is none."""
        cut = self.remaining > 0
        left = np.where(cut, self.remaining, self.table.depth)
        b, d = self.table.total_breadth, self.table.depth
        every = _worst(
            w * span / 2 * self.cos
            / self.basis.notched_shear(s.of("shear"), b, d, left)
            for w, s in self._held
        )  # fmt: skip
        return np.where(cut, every, 0.0)

    def _bearing(self, span: Floats) -> Floats:
        """Return the end's push over what 1.5 in of it may bear."""
        angle = np.arccos(np.sqrt(np.maximum(0.0, 1 - self.cos**2)))
        length = np.full(len(span), BEARING_ON_WOOD)
        return _worst(
            w * span / 2 / (length * self.table.total_breadth)
            / self.basis.bearing(
                s.of("compression_star"), s.of("bearing"), angle, length,
                np.zeros(len(span)),
            )
            for w, s in self._held
        )  # fmt: skip

    def _sag(self, load: Floats, span: Floats, limit: Floats) -> Floats:
        """Return limit times sag over span, 5 w L^3 / (384 E I cos)."""
        EI = self.table.E * self.table.area * self.table.depth**2 / 12
        return limit * 5 * load * span**3 / (384 * EI * self.cos)

    def _sag_live(self, span: Floats) -> Floats:
        """Return the use of the limit under live load."""
        return self._sag(self.live, span, self.limit_live)

    def _sag_total(self, span: Floats) -> Floats:
        """Return the use of the long-term limit, as the basis counts lasting sag."""
        whole = 0.0 if self.basis.counts_lasting_sag else 1.0
        lasting = (self.basis.creep() - whole) * self.dead
        return self._sag(self.live + lasting, span, self.limit_total)


@dataclass(frozen=True, eq=False)
class Picked:
    """Strengths whose load duration differs from case to case.

    Attributes:
        strengths: of all durations.
        row: (n,) row of each case.
        case: (n,) column of each case.
    """

    strengths: Strengths
    row: NDArray[np.int64]
    case: NDArray[np.int64]

    def of(self, name: str) -> Floats:
        """Return one strength of every case, (n,) Pa."""
        values = getattr(self.strengths, name)
        return values[self.row if len(values) > 1 else 0, self.case]


def _worst(parts: Iterable[Floats]) -> Floats:
    """Return the largest of several (n,) arrays."""
    return np.maximum.reduce(list(parts))
