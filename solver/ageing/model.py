"""What ageing finds; times first, then spans, neighbours and members."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

TIMES = {
    "day": 1 / 365.25,
    "week": 7 / 365.25,
    "month": 1 / 12,
    "year": 1.0,
    "10 years": 10.0,
    "50 years": 50.0,
}


@dataclass(frozen=True, eq=False, kw_only=True)
class Course:
    """What creeps, how much, and how far it has come at each time.

    Attributes:
        weights: (ncomb,) of combinations that add to the lasting load.
        creep: (n,) of members at fifty years, as a part of the immediate sag.
        years: (T,) since loading.
        shares: (T,) part of it that is there at each time.
        aged: (1 + T,) analyses of the lasting load, at once and at each time; None
            where all members creep alike, since creep then moves no force.
    """

    weights: Floats
    creep: Floats
    years: Floats
    shares: Floats
    aged: tuple[FrameResult, ...] | None


@dataclass(frozen=True, eq=False, kw_only=True)
class SpanAges:
    """The sag of every span over the years, from the chord of its supports, down +.

    At the place, and in the combination, of its largest long-term sag.

    Attributes:
        member: (k,) keys.
        start, end, where: (k,) m from the start of the member: supports and place.
        combination: (k,) names.
        rest: (k,) m, immediate sag of what comes and goes.
        lasting: (k,) m, immediate sag of what stays.
        sag: (T, k) m, both, after so long, creep counted.
        by_itself: (T, k) m, the same where no load moved between members by creep:
            rest + lasting (1 + creep).
        low, high: (T, k) m, band of tests about ``by_itself``.
    """

    member: tuple[str, ...]
    start: Floats
    end: Floats
    where: Floats
    combination: tuple[str, ...]
    rest: Floats
    lasting: Floats
    sag: Floats
    by_itself: Floats
    low: Floats
    high: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class Neighbours:
    """How far two members side by side move apart vertically, after so long.

    Attributes:
        first, second: member keys; ``second`` may be a beam.
        apart: m, distance between them on plan.
        lasting: (T,) m, under the load that stays, the largest along both.
        worst: (T,) m, in the worst combination.
        growth: (T,) m, worst change since the dead load was up: what a ceiling put up
            then is bent by.
        limit: m of growth over which a finish may crack; None where there is none.
    """

    first: str
    second: str
    apart: float
    lasting: Floats
    worst: Floats
    growth: Floats
    limit: float | None

    @property
    def may_crack(self) -> tuple[bool, ...]:
        """(T,) whether the growth is over the limit."""
        limit = np.inf if self.limit is None else self.limit
        return tuple((self.growth > limit).tolist())


@dataclass(frozen=True, eq=False, kw_only=True)
class Redistribution:
    """What creep moves from members that creep more to those that creep less.

    Attributes:
        carried: member key to (1 + T,) N, lasting load that it hands down: at once,
            then after so long.
        reactions: support owner to (1 + T,) N, upward, likewise.
        moment: member key to (1 + T,) N m, largest lasting moment by size.
    """

    carried: Mapping[str, Floats]
    reactions: Mapping[str, Floats]
    moment: Mapping[str, Floats]

    def moved(self, key: str) -> Floats:
        """Return (T,) the part of its first load that a member gained."""
        carried = self.carried[key]
        return carried[1:] / carried[0] - 1


@dataclass(frozen=True, eq=False, kw_only=True)
class Ageing:
    """A roof over the years.

    Attributes:
        names: (T,) of the times.
        years: (T,) since the load came.
        share: (T,) part of the creep at fifty years that is there.
        label: what the curve is, to stand on every picture of it.
        creep: member key to creep at fifty years, as a part of the immediate sag.
        spans: of all members that bend.
        neighbours: joists side by side, and joists beside beams.
        redistribution: None where all members creep alike: then no force changes.
        residual: largest imbalance of the aged analyses.
        refusal: why no force could be followed between unlike members, or "".
    """

    names: tuple[str, ...]
    years: Floats
    share: Floats
    label: str
    creep: Mapping[str, float]
    spans: SpanAges
    neighbours: tuple[Neighbours, ...]
    redistribution: Redistribution | None
    residual: float
    refusal: str = ""
