"""Struts (purlin braces) at their spacing, and what their feet stand on."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.sections import section
from ..brief.braces import on_hip_end, purlin_plan, purlin_reach, strut_count
from ..brief.model import (
    Brief,
    Foot,
    FootOn,
    HipBrace,
    JoistDirection,
    Purlin,
    Struts,
)
from ..brief.purlin_parts import Strut
from ..units import FOOT
from .common_rafters import roof_point
from .draft import Draft
from .feet import FootPlace, find_foot, set_brace, stated_foot
from .landing import FoundFoot, found_foot
from .model import Member, Role
from .purlins import PURLIN_LAYER, purlin_axis, purlin_drop, purlin_key, purlin_side

Floats = NDArray[np.float64]


def strut_key(purlin: str, number: int | str) -> str:
    """Return the key of a strut: a number from 1 along the purlin, or a name."""
    return (
        f"ST-{purlin}-{number:02d}"
        if isinstance(number, int)
        else (f"ST-{purlin}-{number}")
    )


def is_hip_brace(strut: Member) -> bool:
    """Return whether a strut stands under a hip or a ridge end."""
    return strut.key.startswith("HB-")


def strut_group(brief: Brief, strut: Member) -> Strut | HipBrace:
    """Return the entry of the brief that a strut comes from."""
    assert strut.part is not None
    if is_hip_brace(strut):
        return brief.hip_braces[strut.part]
    return all_struts(brief)[strut.part]


def is_held_at_mid(brief: Brief, strut: Member) -> bool:
    """Return whether a strut is held the weak way at mid-length."""
    return strut.held or strut_group(brief, strut).held_at_mid


def all_struts(brief: Brief) -> tuple[Strut, ...]:
    """Return the groups of struts, then those that were added one by one."""
    return (*brief.struts, *brief.added_struts)


def strut_places(brief: Brief, group: Struts, purlin: Purlin) -> np.ndarray:
    """Return where the struts of a group stand along their purlin's eave, m.

    Those of a hip end are laid out from its middle, as its rafters are.
    """
    reach, centred = purlin_reach(brief, purlin), on_hip_end(purlin)
    first, count = strut_count(group.spacing, group.start, group.end, reach, centred)
    return first + group.spacing * np.arange(count)


@dataclass(frozen=True)
class _Wanted:
    """A strut to be framed: its part of the brief and where it meets its purlin."""

    part: int
    x: float
    name: str | None = None


def add_struts(draft: Draft) -> None:
    """Add all struts, numbered along each purlin line; added ones have names."""
    for purlin in draft.brief.purlins:
        if not draft.has(purlin_key(purlin.name)):
            continue
        tops: list[float] = []
        for wanted in [*_grouped(draft, purlin), *_added(draft, purlin)]:
            top = _top_place(draft, purlin, wanted)
            if any(abs(top - known) <= 1e-6 for known in tops):
                if wanted.name is not None:
                    why = "a strut stands in its place already"
                    draft.changes.drop(strut_key(purlin.name, wanted.name), why)
                continue
            tops.append(top)
            number = wanted.name or len(tops)
            _add_strut(draft, strut_key(purlin.name, number), purlin, wanted, top)
    _drop_lost(draft)
    add_plies_under_struts(draft)


def _grouped(draft: Draft, purlin: Purlin) -> list[_Wanted]:
    """Return the struts of a purlin line's groups, along it."""
    found = [
        _Wanted(part, draft.lines.along(purlin_side(purlin)).settle(float(x)))
        for part, group in enumerate(draft.brief.struts)
        if group.purlin == purlin.name
        for x in strut_places(draft.brief, group, purlin)
    ]
    return sorted(found, key=lambda wanted: _top_place(draft, purlin, wanted))


def _added(draft: Draft, purlin: Purlin) -> list[_Wanted]:
    """Return the struts that were added to a purlin line one by one."""
    low, high = purlin_reach(draft.brief, purlin)
    found = []
    for n, strut in enumerate(draft.brief.added_struts):
        if strut.purlin != purlin.name:
            continue
        if not low - 1e-6 <= strut.at <= high + 1e-6:
            why = f"purlin line {purlin.name} does not reach its place"
            draft.changes.drop(strut_key(purlin.name, strut.name), why)
            continue
        x = draft.lines.along(purlin_side(purlin)).settle(strut.at)
        part = len(draft.brief.struts) + n
        found.append(_Wanted(part, x, strut.name))
    return found


def _drop_lost(draft: Draft) -> None:
    """Note the added struts whose purlin line is not there."""
    for strut in draft.brief.added_struts:
        if not draft.has(purlin_key(strut.purlin)):
            why = f"there is no purlin line {strut.purlin}"
            draft.changes.drop(strut_key(strut.purlin, strut.name), why)


def _top_place(draft: Draft, purlin: Purlin, wanted: _Wanted) -> float:
    """Return where a strut meets its purlin: plumb over a joist that carries it.

    Where the joist lies beyond the end of the purlin the strut leans to that end. Less
    than an inch from a joint of the purlin it stands there.
    """
    place, x = purlin_plan(draft.brief, purlin), _over_foot(draft, purlin, wanted)
    point = roof_point(draft.brief, purlin_side(purlin), x, place)
    axis = purlin_axis(purlin_side(purlin))
    return float(draft.joint_near(purlin_key(purlin.name), point)[axis])


def _over_foot(draft: Draft, purlin: Purlin, wanted: _Wanted) -> float:
    """Return the place along the ridge that its foot asks of a strut."""
    stated = _found(draft, purlin, wanted.part, wanted.x).foot
    joists, axis = draft.brief.ceiling_joists, purlin_axis(purlin_side(purlin))
    crossing = (JoistDirection.ACROSS, JoistDirection.ALONG)[axis]
    crosses = joists is not None and joists.direction is crossing
    if stated.on is FootOn.CEILING_JOIST and crosses and stated.at is None:
        low, high = purlin_reach(draft.brief, purlin)
        foot = place_foot(draft, stated, purlin, wanted.x)
        return min(max(foot.point[axis], low), high)
    return wanted.x


def _found(draft: Draft, purlin: Purlin, part: int, x: float) -> FoundFoot:
    """Return the foot of a strut of a group that holds its purlin at x."""
    place = purlin_plan(draft.brief, purlin)
    top = roof_point(draft.brief, purlin_side(purlin), x, place)
    return found_foot(draft.brief, all_struts(draft.brief)[part].foot, top)


def place_foot(draft: Draft, stated: Foot, purlin: Purlin, x: float) -> FootPlace:
    """Return where a stated foot stands of a strut that holds its purlin at x."""
    brief = draft.brief
    plan = purlin_plan(brief, purlin)
    away = plan if stated.from_plate is None else stated.from_plate
    x, y, _ = (float(v) for v in roof_point(brief, purlin_side(purlin), x, away))
    if stated.at is not None:
        return stated_foot(draft, stated, *stated.at, f"X-{purlin.name}", None)
    return stated_foot(draft, stated, x, y, f"X-{purlin.name}", 1 * FOOT)


def _add_strut(
    draft: Draft, key: str, purlin: Purlin, wanted: _Wanted, x: float
) -> None:
    """Add one strut, its joint with the purlin and its foot."""
    brief, side = draft.brief, purlin_side(purlin)
    strut = all_struts(brief)[wanted.part]
    top = roof_point(brief, side, x, purlin_plan(brief, purlin))
    along = np.eye(3)[purlin_axis(side)]
    row_line = top, top + np.array([along[1], along[0], 0.0])

    def foot_of(stated: Foot, _top: Floats) -> FootPlace:
        own = draft.changes.of(key, *row_line)
        at = x if own is not None and own.foot is not None else wanted.x
        return place_foot(draft, stated, purlin, at)

    found, foot = find_foot(draft, key, strut.foot, top, row_line, foot_of)
    set_brace(
        draft, key, strut, found, foot,
        draft.attach(purlin_key(purlin.name), top, PURLIN_LAYER),
        end_layer=PURLIN_LAYER,
        up=(float(along[0]), float(along[1]), 0.0),
        slope=side,
        offset=(0.0, 0.0, purlin_drop(brief, purlin)),
        group=purlin.name,
        part=wanted.part,
        row_line=row_line,
    )  # fmt: skip


def add_plies_under_struts(draft: Draft) -> None:
    """Give the joists that carry struts the plies that the brief states for them."""
    joists = draft.brief.ceiling_joists
    if joists is None or joists.plies_under_struts <= joists.plies:
        return
    changed = {
        draft.changes.holder.get(o.member)
        for o in draft.brief.overrides
        if o.plies or o.size
    }
    feet = {
        d.stations[0.0] for d in draft.members.values() if d.member.role is Role.STRUT
    }
    for key, piece in draft.members.items():
        if piece.member.role is not Role.CEILING_JOIST or key in changed:
            continue
        if feet & set(piece.stations.values()):
            piece.member = dataclasses.replace(
                piece.member,
                section=section(joists.size, joists.plies_under_struts),
            )
