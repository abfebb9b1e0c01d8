"""The sag of every span over the years, at the place of its largest long-term sag."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..basis.nds.creep import band_creep
from ..idealise.model import Model
from ..loads.combine import Combinations
from ..verdict.judge import Checked
from .model import Course, SpanAges
from .points import Points

Floats = NDArray[np.float64]


def span_ages(
    model: Model,
    frame: FrameResult,
    checked: Checked,
    combos: Combinations,
    course: Course,
) -> SpanAges:
    """Return the sags of all spans.

    Source: rest + lasting (1 + creep), NDS 2018 3.5.2 at fifty years; with forces that
    move between members, the lasting part is that of the aged analysis.

    Args:
        model: of the roof.
        frame: its forces.
        checked: its spans and sags.
        combos: its combinations.
        course: of creep.
    """
    table, sags = checked.sags.table, checked.sags
    at = [
        Points.of(model, table.member, station)
        for station in (table.start, sags.where, table.end)
    ]
    part = (sags.where - table.start) / (table.end - table.start)

    def sag(result: FrameResult) -> Floats:
        start, here, end = (
            -np.einsum("cki,ki->ck", points.displacement(result), table.direction)
            for points in at
        )
        return here - start * (1 - part) - end * part

    every = sag(frame)
    lasting = course.weights @ every
    now = every[sags.worst, np.arange(len(sags.worst))]
    own = course.shares[:, None] * course.creep[table.member]
    by_itself = now + own * lasting
    if course.aged is None:
        total = by_itself
    else:
        first, *later = course.aged
        at_once = sag(first)[0]
        total = np.stack([now + sag(result)[0] - at_once for result in later])
    low, high = (now + k[:, None] * lasting for k in band_creep(course.years))
    return SpanAges(
        member=tuple(model.members[int(row)] for row in table.member),
        start=table.start,
        end=table.end,
        where=sags.where,
        combination=tuple(combos.names[int(c)] for c in sags.worst),
        rest=now - lasting,
        lasting=lasting,
        sag=total,
        by_itself=by_itself,
        low=low,
        high=high,
    )
