"""Struts under the purlin lines of a drawn outline, and where they find their feet."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...brief.braces import strut_count
from ...brief.model import Foot, FootOn
from ...errors import BriefError
from ..draft import Draft
from ..feet import FootPlace, find_foot, set_brace
from ..landing import found_foot
from ..purlins import PURLIN_LAYER, purlin_key
from ..struts import add_plies_under_struts, all_struts, strut_key
from .feet import nearest_joist, outline_foot
from .plan import OutlinePlan
from .purlins import PurlinLine

Floats = NDArray[np.float64]
_SAME = 1e-6
_CROSSING = 0.5  # sine between a joist and a line that it passes under


@dataclass(frozen=True)
class _Wanted:
    """A strut to be framed: its part of the brief and its place along its line, m."""

    part: int
    at: float
    name: str | None = None


def add_struts(draft: Draft, plan: OutlinePlan, lines: tuple[PurlinLine, ...]) -> None:
    """Add all struts, numbered along each line; added ones have names.

    Raises:
        BriefError: a group that no line has room for.
    """
    framed: set[int] = set()
    for line in lines:
        taken: list[float] = []
        for wanted in [*_grouped(draft, plan, line), *_added(draft, plan, line)]:
            if any(abs(wanted.at - known) <= _SAME for known in taken):
                if wanted.name is not None:
                    why = "a strut stands in its place already"
                    draft.changes.drop(strut_key(line.name, wanted.name), why)
                continue
            taken.append(wanted.at)
            framed.add(wanted.part)
            key = strut_key(line.name, wanted.name or len(taken))
            _add(draft, plan, line, key, wanted)
    _check_groups(draft, lines, framed)
    add_plies_under_struts(draft)


def _holds(purlin: str, line: PurlinLine) -> bool:
    """Return whether struts that name a purlin or a line hold a line."""
    return purlin in (line.name, line.purlin.name)


def _check_groups(
    draft: Draft, lines: tuple[PurlinLine, ...], framed: set[int]
) -> None:
    """Refuse groups that name no line or stand beyond it; note added ones as lost."""
    names = ", ".join(line.name for line in lines) or "there is none"
    for k, group in enumerate(draft.brief.struts):
        if not any(_holds(group.purlin, line) for line in lines):
            removed = [p.name for p in draft.brief.purlins if _gone(draft, p.name)]
            if group.purlin not in removed and purlin_key(group.purlin) not in (
                draft.removed
            ):
                raise BriefError(
                    f"struts[{k}].purlin",
                    group.purlin,
                    f"a purlin or one of its lines: {names}",
                )
        elif k not in framed:
            raise BriefError(
                f"struts[{k}].start",
                group.start,
                "one that leaves a strut on its purlin line",
            )
    for strut in draft.brief.added_struts:
        if not any(strut.purlin == line.name for line in lines):
            why = f"there is no purlin line {strut.purlin}; there are: {names}"
            draft.changes.drop(strut_key(strut.purlin, strut.name), why)


def _gone(draft: Draft, purlin: str) -> bool:
    """Return whether changes took every line of a purlin out."""
    stem = f"{purlin_key(purlin)}-"
    return any(key.startswith(stem) for key in draft.removed)


def _grouped(draft: Draft, plan: OutlinePlan, line: PurlinLine) -> list[_Wanted]:
    """Return the struts of a line's groups, along it."""
    found = []
    for part, group in enumerate(draft.brief.struts):
        if not _holds(group.purlin, line):
            continue
        reach = 0.0, line.length
        first, count = strut_count(
            group.spacing, group.start, group.end, reach, centred=True
        )
        for at in (first + group.spacing * np.arange(count)).tolist():
            place = _over_foot(draft, plan, line, group.foot, at)
            found.append(_Wanted(part, _settled(draft, line, place)))
    return sorted(found, key=lambda wanted: wanted.at)


def _added(draft: Draft, plan: OutlinePlan, line: PurlinLine) -> list[_Wanted]:
    """Return the struts that were added to a line one by one."""
    found = []
    for n, strut in enumerate(draft.brief.added_struts):
        if strut.purlin != line.name:
            continue
        if strut.at > line.length + _SAME:
            why = f"purlin line {line.name} does not reach its place"
            draft.changes.drop(strut_key(line.name, strut.name), why)
            continue
        place = _over_foot(draft, plan, line, strut.foot, strut.at)
        part = len(draft.brief.struts) + n
        found.append(_Wanted(part, _settled(draft, line, place), strut.name))
    return found


def _settled(draft: Draft, line: PurlinLine, at: float) -> float:
    """Return a place along a line: of its joint within an inch, if there is one."""
    joint = draft.joint_near(purlin_key(line.name), line.point(at))
    return float((joint - line.start) @ line.way)


def _over_foot(
    draft: Draft, plan: OutlinePlan, line: PurlinLine, stated: Foot, at: float
) -> float:
    """Return the place that its foot asks of a strut: plumb over a joist it crosses."""
    foot = found_foot(draft.brief, stated, line.point(at)).foot
    if foot.on is not FootOn.CEILING_JOIST or foot.at is not None:
        return at
    x, y = _beside(plan, line, foot, line.point(at))
    found = nearest_joist(draft, x, y)
    if found is None:
        return at
    piece = draft.members[found[0]]
    way, gap = (piece.end - piece.start)[:2], (piece.start - line.start)[:2]
    way /= np.hypot(*way)
    sine = float(line.way[0] * way[1] - line.way[1] * way[0])
    if abs(sine) < _CROSSING:
        return at
    place = float(gap[0] * way[1] - gap[1] * way[0]) / sine
    return min(max(place, 0.0), line.length)


def _beside(
    plan: OutlinePlan, line: PurlinLine, foot: Foot, top: Floats
) -> tuple[float, float]:
    """Return the plan point that a foot is stated at: plumb, or as far from the plate.

    Args:
        plan: has the planes.
        line: that the strut holds.
        foot: as stated.
        top: (3,) m.
    """
    if foot.from_plate is None:
        return float(top[0]), float(top[1])
    plane = plan.form.planes[line.plane]
    up = foot.from_plate - float((top[:2] - plane.polygon[0]) @ plane.uphill)
    x, y = top[:2] + plane.uphill * up
    return float(x), float(y)


def _add(
    draft: Draft, plan: OutlinePlan, line: PurlinLine, key: str, wanted: _Wanted
) -> None:
    """Add one strut with its joint under the line and its foot."""
    strut = all_struts(draft.brief)[wanted.part]
    top, owner = line.point(wanted.at), draft.members[purlin_key(line.name)].member
    row_line = top, top + np.array([-line.way[1], line.way[0], 0.0])

    def foot_of(stated: Foot, at: Floats) -> FootPlace:
        return outline_foot(draft, stated, *_beside(plan, line, stated, at))

    found, foot = find_foot(draft, key, strut.foot, top, row_line, foot_of)
    set_brace(
        draft, key, strut, found, foot,
        draft.attach(purlin_key(line.name), top, PURLIN_LAYER),
        end_layer=PURLIN_LAYER,
        up=tuple(float(v) for v in line.way),
        slope=owner.slope,
        offset=owner.offset,
        group=line.name,
        part=wanted.part,
        row_line=row_line,
    )  # fmt: skip
