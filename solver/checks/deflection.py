"""Sag of members between their supports, now and in the long run, against limits.

Receives displacements at stations; the sag of a span is measured from the chord
between its two support stations, along the depth of the member.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol, runtime_checkable

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
    grid: SpanGrid | None = None,
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
        grid: the stations of these spans, where known already.

    Returns:
        The sags; a span that rises shows its largest rise as negative.

    Raises:
        FieldError: a span that does not lie on its member.
    """
    grid = SpanGrid.of(stations.x, element_member, spans) if grid is None else grid
    sag = grid.sag(_down(stations, element_member, spans))
    if isinstance(sustained, int):
        lasting = sag[:, sustained : sustained + 1].copy()
    else:
        lasting = np.tensordot(np.asarray(sustained), sag, (0, 1))[:, None]
    if counts is not None:
        sag = np.where(counts[:, spans.member[grid.span]], sag, lasting)
    factor = basis.creep()
    grown = (factor - 1) * lasting
    now, live = grid.peak(sag), grid.peak(sag - lasting)
    long_term = np.add(sag, grown, out=sag)
    peak = grid.peak(long_term)
    worst = np.argmax(np.abs(peak), axis=0)
    where = grid.place(long_term, worst, peak)
    limited = peak
    if not basis.counts_lasting_sag:
        limited = grid.peak(np.subtract(long_term, lasting, out=long_term))
    return Sags(
        table=spans,
        now=now,
        live=live,
        long_term=peak,
        limited=limited,
        worst=worst,
        where=where,
        sustained=grid.peak(lasting)[0],
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
            capacity=(span[has] / limit[has])[None],
            unit="m",
            inputs=tuple(inputs),
        )
        found[check] = worst_of_member(result, check, places)
    return found


def _down(stations: StationForces, element_member: Ints, spans: SpanTable) -> Floats:
    """Return displacement against the depth of each element, (K, ncomb, m)."""
    direction = np.zeros((int(element_member.max()) + 1, 3))
    direction[spans.member] = -spans.direction
    if isinstance(stations, MovedAlong):
        return stations.along(direction[element_member])
    moved = stations.displacement
    return np.einsum("cmki,mi->kcm", moved, direction[element_member])


@runtime_checkable
class MovedAlong(Protocol):
    """Stations that give the displacement along one direction for each element."""

    def along(self, direction: Floats) -> Floats:
        """Return (K, ncomb, m) m along (m, 3) vectors."""
        ...


@dataclass(frozen=True, eq=False)
class SpanGrid:
    """The elements of all spans, and where their stations lie on them.

    Attributes:
        element: (r,) element of each row; rows of one span follow one another.
        span: (r,) its span.
        first: (k,) first row of each span.
        position: (K, r) m from the start of the member.
        along: (K, r) 0 at the start of the span, 1 at its end.
        outside: (K, r) stations that do not lie on the span; None where all do.
        supports: element and station of the start of each span, and of its end.
    """

    element: Ints
    span: Ints
    first: Ints
    position: Floats
    along: Floats
    outside: Bools | None
    supports: tuple[tuple[Ints, Ints], tuple[Ints, Ints]]

    @staticmethod
    def of(x: Floats, element_member: Ints, spans: SpanTable) -> SpanGrid:
        """Return the rows of all spans.

        Args:
            x: (m, K) m from end i of each element to its stations.
            element_member: (m,) nondecreasing.
            spans: (k,).

        Raises:
            FieldError: a span that does not lie on its member.
        """
        low = np.searchsorted(element_member, spans.member)
        high = np.searchsorted(element_member, spans.member, side="right")
        length = x.max(axis=1)
        before = np.cumsum(length) - length
        # Only elements that reach into the span matter; a hair of slack at its ends.
        start = before[np.minimum(low, len(before) - 1)]
        near = np.concatenate([before, before[-1:] + length[-1:]])
        first = (
            np.searchsorted(near, start + spans.start + _OFF_JOINT, side="right") - 1
        )
        last = np.searchsorted(near, start + spans.end - _OFF_JOINT)
        first, last = np.clip(first, low, high - 1), np.clip(last, low + 1, high)
        count = np.maximum(last - first, 1)
        rows = np.cumsum(count) - count
        span = np.repeat(np.arange(len(low)), count)
        element = np.arange(int(count.sum())) + (first - rows)[span]
        position = (before[element] - start[span]) + x[element].T
        reach = spans.end - spans.start
        along = (position - spans.start[span]) / reach[span]
        ends = [_nearest(np.abs(along - end), rows) for end in (0.0, 1.0)]
        off = np.maximum(*(distance for distance, _, _ in ends)) * reach
        if np.any(off > _OFF_JOINT):
            worst = int(np.argmax(off))
            raise FieldError(
                f"spans[{worst}]", float(off[worst]), "supports at joints of the member"
            )
        slack = 1e-6 / reach[span]
        outside = (along < -slack) | (along > 1 + slack)
        supports = tuple((element[row], station) for _, row, station in ends)
        return SpanGrid(
            element, span, rows, position, along,
            outside if outside.any() else None, supports,  # type: ignore[arg-type]
        )  # fmt: skip

    def sag(self, down: Floats) -> Floats:
        """Return what lies below the chord between the supports, (K, ncomb, r).

        Args:
            down: (K, ncomb, m) displacement of the stations.
        """
        a, b = (down[station, :, element] for element, station in self.supports)
        a, slope = a.T[:, self.span], (b - a).T[:, self.span]  # (ncomb, r)
        sag = np.take(down, self.element, axis=2)
        sag -= a
        sag -= slope * self.along[:, None]
        if self.outside is not None:
            np.copyto(sag, 0.0, where=self.outside[:, None])
        return sag

    def peak(self, sag: Floats) -> Floats:
        """Return the sag of largest size in each span, signed, (ncomb, k)."""
        low = np.minimum.reduceat(np.minimum.reduce(sag), self.first, axis=1)
        high = np.maximum.reduceat(np.maximum.reduce(sag), self.first, axis=1)
        return np.where(high >= -low, high, low)

    def place(self, sag: Floats, combination: Ints, peak: Floats) -> Floats:
        """Return where the peak of a combination is, (k,) m along the member."""
        K, rows = len(sag), np.arange(len(self.span))
        target = peak[combination, np.arange(len(combination))][self.span]
        own = sag[:, combination[self.span], rows]
        hit = np.abs(own - target) <= 1e-12 * np.abs(target)
        if self.outside is not None:
            hit &= ~self.outside
        station = np.argmax(hit, axis=0)
        code = np.where(hit.any(axis=0), rows * K + station, len(rows) * K - 1)
        found = np.minimum.reduceat(code, self.first)
        return self.position[found % K, found // K]


def _nearest(distance: Floats, first: Ints) -> tuple[Floats, Ints, Ints]:
    """Return the least distance (K, r) of each span, and the first place that has it.

    Returns:
        (k,) distance, (k,) row, (k,) station.
    """
    K, r = distance.shape
    least = np.minimum.reduceat(np.minimum.reduce(distance), first)
    count = np.diff(np.append(first, r))
    near = distance <= np.repeat(least, count) + 1e-12
    code = np.where(near.any(axis=0), np.arange(r) * K + np.argmax(near, axis=0), r * K)
    found = np.minimum.reduceat(code, first)
    return least, found // K, found % K
