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
from .inputs import StationForces
from .places import Places, worst_of_member
from .results import CheckResult, CheckRows

Ints = NDArray[np.int64]

_OFF_JOINT = 1e-3  # m, farthest that a support may lie from a station


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
        limited: the part of it that the basis sets a limit on.
        worst: (k,) combination of the largest long-term sag.
        where: (k,) m from the start of the member, of that sag.
        sustained: (k,) largest immediate sag of the sustained load alone.
        creep: factor on it.
    """

    table: SpanTable
    now: Floats
    live: Floats
    long_term: Floats
    limited: Floats
    worst: Ints
    where: Floats
    sustained: Floats
    creep: float


def span_sags(
    stations: StationForces,
    element_member: Ints,
    spans: SpanTable,
    sustained: int | Floats,
    basis: Basis,
    counts: Bools | None = None,
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
        counts: (ncomb, n) whether a combination counts for a member; one that does
            not is taken for the lasting load alone. None: all count.

    Returns:
        The sags; a span that rises shows its largest rise as negative.

    Raises:
        FieldError: a span that does not lie on its member.
    """
    grid = _Grid.of(stations.x, element_member, spans)
    sag = grid.sag(_down(stations, element_member, spans))
    if isinstance(sustained, int):
        lasting = sag[sustained]
    else:
        lasting = np.asarray(sustained) @ sag
    if counts is not None:
        sag = np.where(counts[:, spans.member][:, grid.span], sag, lasting)
    factor = basis.creep()
    long_term = sag + (factor - 1) * lasting
    limited = long_term if basis.counts_lasting_sag else long_term - lasting
    peak = grid.peak(long_term)
    worst = np.argmax(np.abs(peak), axis=0)
    return Sags(
        table=spans,
        now=grid.peak(sag),
        live=grid.peak(sag - lasting),
        long_term=peak,
        limited=grid.peak(limited),
        worst=worst,
        where=grid.place(long_term, worst, peak),
        sustained=grid.peak(lasting[None])[0],
        creep=factor,
    )


def check_deflection(result: CheckResult, sags: Sags) -> dict[Check, CheckRows]:
    """Return the sag checks of all members, as far as spans have limits.

    Source: IRC 2018 Table R301.7 (live) and IBC 2018 Table 1604.3 (total), through the
    limits that the spans carry. By note d of the latter (from memory) the total of dry
    lumber is the creep part of the lasting load and the whole of the rest: what sags
    at once under dead load is built straight or lived with.

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
        (Check.DEFLECTION_TOTAL, sags.limited, spans.limit_total),
    ):
        has = limit > 0
        if not has.any():
            continue
        demand = np.abs(sag[:, has])
        inputs = [
            ("L", "m", "span between supports", span[has]),
            ("L/sag", "", "span over allowed sag", limit[has]),
            ("now", "m", "immediate sag under all load", sags.now[:, has]),
        ]
        if check is Check.DEFLECTION_TOTAL:
            factor = np.full((1, 1), sags.creep)
            inputs += [
                ("lasting", "m", "immediate sag of lasting load", sags.sustained[has]),
                (
                    "K",
                    "",
                    "factor on it at the end of creep; at once is left out",
                    factor,
                ),
            ]
        places = Places(
            member=spans.member[has],
            station=sags.where[has],
            demand=demand,
            capacity=np.broadcast_to(span[has] / limit[has], demand.shape),
            unit="m",
            inputs=tuple(inputs),
        )
        found[check] = worst_of_member(result, check, places)
    return found


def _down(stations: StationForces, element_member: Ints, spans: SpanTable) -> Floats:
    """Return displacement against the depth of each element, (ncomb, m K)."""
    direction = np.zeros((int(element_member.max()) + 1, 3))
    direction[spans.member] = spans.direction
    moved = stations.displacement
    down = -np.einsum("cmki,mi->cmk", moved, direction[element_member])
    return down.reshape(len(moved), -1)


@dataclass(frozen=True, eq=False)
class _Grid:
    """Station cells of all spans: every span with the stations that lie on it."""

    cells: Ints  # (c,) flat station m K
    span: Ints  # (c,) row of the span
    first: Ints  # (k,) first cell of each span
    position: Floats  # (c,) m from the start of the member
    along: Floats  # (c,) 0 at the start of the span, 1 at its end
    supports: tuple[Ints, Ints]  # (k,) flat station at each end of the span

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
        cells = np.arange(int(count.sum())) + (low * K - first)[span]
        place = (before[:, None] + x).ravel()[cells]
        position = place - (before[np.minimum(low, len(before) - 1)])[span]
        reach = spans.end - spans.start
        along = (position - spans.start[span]) / reach[span]
        ends = (
            _nearest(np.abs(along), span, first),
            _nearest(np.abs(along - 1), span, first),
        )
        off = np.maximum(np.abs(along[ends[0]]), np.abs(along[ends[1]] - 1)) * reach
        if np.any(off > _OFF_JOINT):
            worst = int(np.argmax(off))
            raise FieldError(
                f"spans[{worst}]", float(off[worst]), "supports at joints of the member"
            )
        slack = 1e-6 / reach[span]
        inside = (along >= -slack) & (along <= 1 + slack)
        kept = np.cumsum(inside) - inside
        return _Grid(
            cells[inside],
            span[inside],
            kept[first],
            position[inside],
            along[inside],
            (cells[ends[0]], cells[ends[1]]),
        )

    def sag(self, down: Floats) -> Floats:
        """Return what lies below the chord between the supports, (ncomb, c)."""
        a, b = down[:, self.supports[0]], down[:, self.supports[1]]
        sag = down[:, self.cells]
        sag -= a[:, self.span]
        sag -= (b - a)[:, self.span] * self.along
        return sag

    def peak(self, sag: Floats) -> Floats:
        """Return the sag of largest size in each span, signed, (ncomb, k)."""
        low = np.minimum.reduceat(sag, self.first, axis=1)
        high = np.maximum.reduceat(sag, self.first, axis=1)
        return np.where(high >= -low, high, low)

    def place(self, sag: Floats, combination: Ints, peak: Floats) -> Floats:
        """Return where the peak of a combination is, (k,) m along the member."""
        target = peak[combination, np.arange(len(combination))][self.span]
        at = np.arange(len(self.cells))
        own = sag[combination[self.span], at]
        reached = np.where(np.abs(own - target) <= 1e-12 * np.abs(target), at, len(at))
        cell = np.minimum.reduceat(reached, self.first)
        return self.position[np.minimum(cell, len(at) - 1)]


def _nearest(distance: Floats, span: Ints, first: Ints) -> Ints:
    """Return the first cell of each span whose distance is least."""
    least = np.minimum.reduceat(distance, first)
    at = np.arange(len(distance))
    near = np.where(distance <= least[span] + 1e-12, at, len(at))
    return np.minimum.reduceat(near, first)
