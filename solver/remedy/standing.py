"""Groups of struts split where some of them stand on ceiling joists and some do not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

import numpy as np

from ..brief.model import Brief, Struts
from ..framing.model import Framing, Member, Role
from ..framing.struts import is_hip_brace, strut_places
from .rows import stands_badly


def split_runs(brief: Brief, framing: Framing) -> Brief:
    """Return the same roof with every group of struts standing in one way.

    A group that finds its walls by itself, or whose feet were moved one by one, may
    stand partly on joists. It is stated as one group for each run of neighbours that
    stand alike; places, feet and keys stay what they were. Overrides take the key of
    the member that has them.

    Args:
        brief: of the roof.
        framing: of it.
    """
    struts: list[Struts] = []
    for part, group in enumerate(brief.struts):
        members = [
            strut
            for strut in framing.of_role(Role.STRUT)
            if strut.part == part and not is_hip_brace(strut)
        ]
        struts += _runs(brief, framing, group, members)
    holders = framing.change_holders
    overrides = tuple(
        replace(o, member=holders.get(o.member, o.member)) for o in brief.overrides
    )
    return replace(brief, struts=tuple(struts), overrides=overrides)


def _runs(
    brief: Brief, framing: Framing, group: Struts, members: list[Member]
) -> Iterator[Struts]:
    """Yield a group, or its runs of struts that stand alike."""
    if len({stands_badly(member) for member in members}) < 2:
        yield group
        return
    purlin = next(p for p in brief.purlins if p.name == group.purlin)
    places = strut_places(brief, group, purlin)
    tops = np.array([framing.points[m.nodes[-1]] for m in members])
    axis = int(np.ptp(tops[:, 1]) > np.ptp(tops[:, 0]))
    nearest = [int(np.abs(tops[:, axis] - x).argmin()) for x in places]
    for _, run in groupby(
        zip(places.tolist(), nearest, strict=True),
        key=lambda pair: stands_badly(members[pair[1]]),
    ):
        stations = [x for x, _ in run]
        yield replace(group, start=stations[0], end=stations[-1])
