"""Snow comes and goes: the sags of a roof with and without it, while creep grows.

Snow is no lasting load: it adds its own sag while it lies, evenly or drifted by wind,
and takes it along when it melts. What lasts, dead load and the lasting part of what is
stored in the attic, and with it creep, is the same in all winters and summers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..loads.cases import CASES, DRIFTS, Case
from ..loads.combine import Combinations
from ..trace.solved import Solved
from .course import creep_course
from .points import Points

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False, kw_only=True)
class Winters:
    """Sags of every span with and without snow.

    Attributes:
        snowed: combination of dead load and balanced snow.
        bare: combination of dead load alone.
        drifted: (w,) combinations of dead load and unbalanced snow, one for each wind
            that the clause asks for; none where it asks for none.
        years: (T,) since the load came.
        member: (k,) key of the member of each span.
        span: (k,) m.
        without: (T, k) m, sag without snow, down positive, of the load that lasts.
        snow: (k,) m, what balanced snow adds to it while it lies.
        drifts: (w, k) m, what each unbalanced snow adds instead.
    """

    snowed: str
    bare: str
    drifted: tuple[str, ...]
    years: Floats
    member: tuple[str, ...]
    span: Floats
    without: Floats
    snow: Floats
    drifts: Floats


def snow_pair(combinations: Combinations) -> tuple[str, str] | None:
    """Return the combinations of dead load with balanced snow, and of dead load alone.

    Source: ASCE 7-16 2.4.1, combinations 1 and 3.

    Args:
        combinations: of a solved roof.

    Returns:
        Their names; None where no snow lies.
    """
    found = _by_cases(combinations)
    snowed = found.get(frozenset({Case.DEAD, Case.SNOW}))
    bare = found.get(frozenset({Case.DEAD}))
    return (snowed, bare) if snowed and bare else None


def drift_combinations(combinations: Combinations) -> dict[str, str]:
    """Return the combinations of dead load with unbalanced snow.

    Source: ASCE 7-16 2.4.1, combination 3, with 7.6.1.

    Args:
        combinations: of a solved roof.

    Returns:
        By the way that the lee slopes fall, ``S``, ``N``, ``E`` or ``W``; those alone
        that this roof has.
    """
    found = _by_cases(combinations)
    named = {w: found.get(frozenset({Case.DEAD, case})) for w, case in DRIFTS.items()}
    return {way: name for way, name in named.items() if name}


def _by_cases(combinations: Combinations) -> dict[frozenset[Case], str]:
    """Return the first combination of each set of load cases."""
    found: dict[frozenset[Case], str] = {}
    for name, row in zip(combinations.names, combinations.factors, strict=True):
        present = frozenset(CASES[n] for n in np.flatnonzero(row).tolist())
        found.setdefault(present, name)
    return found


def winters(
    solved: Solved, years: Sequence[float] = (0.0, 10.0, 50.0)
) -> Winters | None:
    """Return the sags of all spans with and without snow, now and after years.

    Source: the load that lasts, as NDS 2018 3.5.2 takes it, with the labelled curve of
    the basis, see ``age_roof``; snow adds the difference of its combination, as
    analysed, and that of dead load alone. Snow does not creep here.

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

    def added(name: str) -> Floats:
        rows = solved.combinations.row(name), solved.combinations.row(pair[1])
        return every[rows[0]] - every[rows[1]]

    if course.aged is None:
        crept = 1 + course.shares[:, None] * course.creep[table.member]
        without = crept * (course.weights @ every)
    else:
        without = np.stack([sag(result)[0] for result in course.aged[1:]])
    drifted = tuple(drift_combinations(solved.combinations).values())
    drifts = [added(name) for name in drifted]
    return Winters(
        snowed=pair[0],
        bare=pair[1],
        drifted=drifted,
        years=course.years,
        member=tuple(model.members[int(row)] for row in table.member),
        span=table.end - table.start,
        without=without,
        snow=added(pair[0]),
        drifts=np.array(drifts).reshape(len(drifted), len(table.member)),
    )
