"""Snow comes and goes: the sags of a roof with and without it, while creep grows.

Snow is no lasting load: it adds its own sag while it lies and takes it along when it
melts. What lasts, and with it creep, is the same in both.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..loads.cases import CASES, Case
from ..loads.combine import Combinations
from ..trace.solved import Solved
from .course import creep_course
from .points import Points

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False, kw_only=True)
class Winters:
    """Sags of every span with and without snow.

    Attributes:
        snowed: combination of dead load and snow.
        bare: combination of dead load alone.
        years: (T,) since the load came.
        member: (k,) key of the member of each span.
        span: (k,) m.
        without: (T, k) m, sag without snow, down positive.
        snow: (k,) m, what snow adds to it while it lies.
    """

    snowed: str
    bare: str
    years: Floats
    member: tuple[str, ...]
    span: Floats
    without: Floats
    snow: Floats


def snow_pair(combinations: Combinations) -> tuple[str, str] | None:
    """Return the combinations of dead load with balanced snow, and of dead load alone.

    Source: ASCE 7-16 2.4.1, combinations 1 and 3.

    Args:
        combinations: of a solved roof.

    Returns:
        Their names; None where no snow lies.
    """
    dead, snow = CASES.index(Case.DEAD), CASES.index(Case.SNOW)
    found: dict[frozenset[int], str] = {}
    for name, row in zip(combinations.names, combinations.factors, strict=True):
        found.setdefault(frozenset(np.flatnonzero(row).tolist()), name)
    snowed, bare = found.get(frozenset({dead, snow})), found.get(frozenset({dead}))
    return (snowed, bare) if snowed and bare else None


def winters(
    solved: Solved, years: Sequence[float] = (0.0, 10.0, 50.0)
) -> Winters | None:
    """Return the sags of all spans with and without snow, now and after years.

    Source: each combination as analysed, and creep of the lasting load on top: NDS 2018
    3.5.2, the labelled curve of the basis, see ``age_roof``. Snow does not creep here.

    Args:
        solved: a solved roof.
        years: (T,) since loading, 0 to 50.

    Returns:
        None where the roof has no analysis or no snow.

    Raises:
        ScopeError: a time before loading or past fifty years.
    """
    pair = snow_pair(solved.combinations)
    found = creep_course(solved, np.array(years, dtype=float))
    model, frame, checked = solved.model, solved.frame, solved.checked
    if pair is None or found is None or model is None or frame is None:
        return None
    if checked is None:
        return None
    course = found[0]
    table, where = checked.sags.table, checked.sags.where
    at = [
        Points.of(model, table.member, station)
        for station in (table.start, where, table.end)
    ]
    part = (where - table.start) / (table.end - table.start)

    def sag(result: FrameResult) -> Floats:
        start, here, end = (
            -np.einsum("cki,ki->ck", points.displacement(result), table.direction)
            for points in at
        )
        return here - start * (1 - part) - end * part

    every = sag(frame)
    snowed, bare = (every[solved.combinations.row(name)] for name in pair)
    if course.aged is None:
        creep = course.shares[:, None] * course.creep[table.member]
        added = creep * (course.weights @ every)
    else:
        first, *later = course.aged
        added = np.stack([sag(result)[0] for result in later]) - sag(first)[0]
    return Winters(
        snowed=pair[0],
        bare=pair[1],
        years=course.years,
        member=tuple(model.members[int(row)] for row in table.member),
        span=table.end - table.start,
        without=bare + added,
        snow=snowed - bare,
    )
