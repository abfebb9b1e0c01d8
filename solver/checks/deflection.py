"""Sag of members between their supports, now and in the long run, against limits.

Receives displacements at stations; the sag of a span is measured from the chord
between its two support stations, along the depth of the member.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Bools, Floats
from ..basis.protocol import Basis, Check
from ..errors import FieldError
from .bearing import worst_of_member
from .inputs import StationForces
from .results import CheckResult, CheckRows

Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False, kw_only=True)
class SpanTable:
    """Spans of members between supports, one row each (k,).

    Attributes:
        member: (k,) row of the member.
        start, end: (k,) m from its start; support stations, end above start.
        direction: (k, 3) unit vector of the member's depth, global; sag is against it.
        limit_live: (k,) span over sag under live load, e.g. 240; 0 for no limit.
        limit_total: (k,) span over long-term sag under all load; 0 for no limit.
    """

    member: Ints
    start: Floats
    end: Floats
    direction: Floats
    limit_live: Floats
    limit_total: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class Sags:
    """Sag of every span, (ncomb, k) m, down positive.

    Attributes:
        table: the spans.
        now: largest immediate sag along the span.
        live: largest part of it that is not sustained load.
        long_term: largest sag at the end of creep.
        where: (ncomb, k) m from the start of the member, of the long-term sag.
        sustained: (k,) largest immediate sag of the sustained load alone.
        creep: factor on it.
    """

    table: SpanTable
    now: Floats
    live: Floats
    long_term: Floats
    where: Floats
    sustained: Floats
    creep: float


def span_sags(
    stations: StationForces,
    element_member: Ints,
    spans: SpanTable,
    sustained: int | Floats,
    basis: Basis,
) -> Sags:
    """Return the sags of all spans in all combinations.

    Source: NDS 2018 3.5.2 for the NDS basis: creep factor times the sag of the
    sustained load, and the rest as it is.

    Args:
        stations: displacements at stations (ncomb, m, K, 3).
        element_member: (m,) nondecreasing.
        spans: (k,) spans; support stations at nodes of the member.
        sustained: index of the combination that holds the sustained load alone (dead,
            and stored goods); or (ncomb,) weights of combinations that add to it.
        basis: gives the creep factor.

    Returns:
        The sags; a span that rises shows its largest rise as negative.

    Raises:
        FieldError: a span that does not lie on its member.
    """
    grid = _Grid.of(stations.x, element_member, spans)
    down = grid.down(stations.displacement, spans)  # (ncomb, cells)
    sag = down - grid.chord(down)
    if isinstance(sustained, int):
        lasting = sag[sustained]
    else:
        lasting = np.asarray(sustained) @ sag
    factor = basis.creep()
    long_term = sag + (factor - 1) * lasting
    peak, where = grid.peak(long_term)
    return Sags(
        table=spans,
        now=grid.peak(sag)[0],
        live=grid.peak(sag - lasting)[0],
        long_term=peak,
        where=where,
        sustained=grid.peak(lasting[None])[0][0],
        creep=factor,
    )


def check_deflection(result: CheckResult, sags: Sags) -> dict[Check, CheckRows]:
    """Return the sag checks of all members, as far as spans have limits.

    Source: IRC 2018 Table R301.7 (live) and IBC 2018 Table 1604.3 (total), through the
    limits that the spans carry.

    Args:
        result: of the same members and combinations.
        sags: of their spans.

    Returns:
        Checks of live and of total sag; a member shows its worst span.
    """
    spans = sags.table
    span = spans.end - spans.start
    found: dict[Check, CheckRows] = {}
    for check, sag, limit in (
        (Check.DEFLECTION_LIVE, sags.live, spans.limit_live),
        (Check.DEFLECTION_TOTAL, sags.long_term, spans.limit_total),
    ):
        limited = limit > 0
        if limited.any():
            allowed = span[limited] / limit[limited]
            demand = np.abs(sag[:, limited])
            found[check] = worst_of_member(
                result,
                check,
                spans.member[limited],
                spans.start[limited] + span[limited] / 2,
                demand,
                np.broadcast_to(allowed, demand.shape),
                "m",
            )
    return found


@dataclass(frozen=True, eq=False)
class _Grid:
    """Station cells of all spans: every span with every station of its member."""

    cells: Ints  # (c,) flat station m K
    span: Ints  # (c,) row of the span
    first: Ints  # (k,) first cell of each span
    position: Floats  # (c,) m from the start of the member
    inside: Bools  # (c,)
    at_start: Ints  # (k,) cell at the span's start
    at_end: Ints  # (k,) cell at its end
    along: Floats  # (c,) 0 at the start of the span, 1 at its end

    @staticmethod
    def of(x: Floats, element_member: Ints, spans: SpanTable) -> _Grid:
        """Return the cells of all spans."""
        K = x.shape[1]
        low = np.searchsorted(element_member, spans.member)
        high = np.searchsorted(element_member, spans.member, side="right")
        length = x.max(axis=1)
        before = np.cumsum(length) - length
        count = (high - low) * K
        first = np.cumsum(count) - count
        span = np.repeat(np.arange(len(low)), count)
        cells = np.arange(int(count.sum())) - (first - low * K)[span]
        start_of_member = before[np.minimum(low, len(before) - 1)]
        position = (before[:, None] + x).ravel()[cells] - start_of_member[span]
        reach = spans.end - spans.start
        along = (position - spans.start[span]) / reach[span]
        slack = 1e-6 / reach[span]
        inside = (along >= -slack) & (along <= 1 + slack)
        at_start = _nearest(np.abs(along), first)
        at_end = _nearest(np.abs(along - 1), first)
        off = np.maximum(np.abs(along[at_start]), np.abs(along[at_end] - 1)) * reach
        if np.any(off > 1e-3):
            worst = int(np.argmax(off))
            raise FieldError(
                f"spans[{worst}]", float(off[worst]), "supports at joints of the member"
            )
        return _Grid(cells, span, first, position, inside, at_start, at_end, along)

    def down(self, displacement: Floats, spans: SpanTable) -> Floats:
        """Return displacement against the depth direction, (ncomb, c)."""
        flat = displacement.reshape(len(displacement), -1, 3)[:, self.cells]
        return -np.einsum("cij,ij->ci", flat, spans.direction[self.span])

    def chord(self, down: Floats) -> Floats:
        """Return the straight line between the supports, (ncomb, c)."""
        a, b = down[:, self.at_start], down[:, self.at_end]
        return a[:, self.span] + (b - a)[:, self.span] * self.along

    def peak(self, sag: Floats) -> tuple[Floats, Floats]:
        """Return the sag of largest size in each span, and where it is."""
        size = np.where(self.inside, np.abs(sag), 0.0)
        most = np.maximum.reduceat(size, self.first, axis=1)
        at = np.arange(len(self.cells))
        reached = size >= most[:, self.span] * (1 - 1e-12)
        cell = np.minimum.reduceat(
            np.where(reached & self.inside, at, len(at) - 1), self.first, axis=1
        )
        combination = np.arange(len(sag))[:, None]
        return sag[combination, cell], self.position[cell]


def _nearest(distance: Floats, first: Ints) -> Ints:
    """Return the first cell of each span whose distance is least."""
    least = np.minimum.reduceat(distance, first)
    count = np.diff(np.append(first, len(distance)))
    at = np.arange(len(distance))
    near = distance <= np.repeat(least, count) + 1e-12
    return np.minimum.reduceat(np.where(near, at, len(at) - 1), first)
