"""Contradictions of purlin lines and struts, each refused by the name of its field."""

from __future__ import annotations

import math

from ..errors import BriefError
from ..units import FOOT, INCH, show_length
from .model import (
    AddedStrut,
    Brief,
    Foot,
    FootOn,
    HipBrace,
    Otherwise,
    Purlin,
    RoofForm,
    Slope,
    Struts,
)
from .outline import is_outline, within
from .outline_purlins import check_held, check_names
from .outline_purlins import check_purlin as check_outline_purlin
from .purlin_parts import Strut

_TOUCH = 1e-6
_SHORTEST_STRUT = 6 * INCH
_BESIDE = 3 * INCH  # two purlin lines side by side need so much


def purlin_plan(brief: Brief, purlin: Purlin) -> float:
    """Return the plan distance of a purlin line from its plate, m."""
    if purlin.from_plate is not None:
        return purlin.from_plate
    assert purlin.height is not None
    return purlin.height / slope_pitch(brief, purlin)


def on_hip_end(purlin: Purlin) -> bool:
    """Return whether a purlin line runs under a hip end, across the ridge."""
    return purlin.slope in (Slope.WEST, Slope.EAST)


def slope_pitch(brief: Brief, purlin: Purlin) -> float:
    """Return the pitch of the slope that a purlin line runs under, rise over run."""
    roof = brief.roof
    return (roof.end_pitch or roof.pitch) if on_hip_end(purlin) else roof.pitch


def slope_run(brief: Brief, purlin: Purlin) -> float:
    """Return the plan length of the longest rafters that a purlin line holds, m."""
    return hip_inset(brief) if on_hip_end(purlin) else brief.footprint.width / 2


def eave_length(brief: Brief, purlin: Purlin) -> float:
    """Return the length of the eave that a purlin line runs along, m."""
    size = brief.footprint
    return size.width if on_hip_end(purlin) else size.length


def hip_inset(brief: Brief) -> float:
    """Return how far a hip roof's ridge ends short of its end walls, m on plan."""
    roof = brief.roof
    return brief.footprint.width / 2 * roof.pitch / (roof.end_pitch or roof.pitch)


def purlin_reach(brief: Brief, purlin: Purlin) -> tuple[float, float]:
    """Return where a purlin line begins and ends along its eave, m.

    Under a hip roof it runs from hip to hip at most.
    """
    length = eave_length(brief, purlin)
    low, high = purlin.start or 0.0, length if purlin.end is None else purlin.end
    if brief.roof.form is RoofForm.HIP:
        part = purlin_plan(brief, purlin) / slope_run(brief, purlin)
        half = brief.footprint.width / 2
        hip = part * (half if on_hip_end(purlin) else hip_inset(brief))
        low, high = max(low, hip), min(high, length - hip)
    return low, high


def strut_count(
    spacing: float,
    start: float | None,
    end: float | None,
    reach: tuple[float, float],
    centred: bool = False,
) -> tuple[float, int]:
    """Return where the first strut of a group stands, m, and how many there are.

    Args:
        spacing: m.
        start: where the group begins, None for half a spacing from the purlin's end;
            those that would stand before the purlin are left out.
        end: no strut beyond this, or None.
        reach: of the purlin line, m.
        centred: where neither end is stated, as many as leave no more than half a
            spacing beyond the outer two, alike at both ends.
    """
    if centred and start is None and end is None:
        low, high = reach
        count = max(1, math.ceil((high - low) / spacing - 1e-6))
        return (low + high - (count - 1) * spacing) / 2, count
    first = reach[0] + spacing / 2 if start is None else start
    first += spacing * max(0, math.ceil((reach[0] - first) / spacing - 1e-6))
    last = reach[1] if end is None else min(end, reach[1])
    return first, max(0, math.floor((last - first) / spacing + 1e-6) + 1)


def check_purlins(brief: Brief) -> None:
    """Check names and places of the purlin lines.

    Raises:
        BriefError: for the first that cannot be.
    """
    if is_outline(brief):
        check_names(brief)
        for k, purlin in enumerate(brief.purlins):
            check_outline_purlin(purlin, f"purlins[{k}]")
        return
    for k, purlin in enumerate(brief.purlins):
        _check_purlin(brief, purlin, f"purlins[{k}]")
        for other in brief.purlins[:k]:
            _check_pair(brief, purlin, other, f"purlins[{k}]")


def _check_pair(brief: Brief, purlin: Purlin, other: Purlin, field: str) -> None:
    """Refuse two purlin lines of one name or in one place."""
    if purlin.name == other.name:
        raise BriefError(f"{field}.name", purlin.name, "a name that no other entry has")
    (low, high), (first, last) = (purlin_reach(brief, p) for p in (purlin, other))
    apart = abs(purlin_plan(brief, purlin) - purlin_plan(brief, other))
    beside = min(high, last) - max(low, first) > INCH
    if purlin.slope is other.slope and beside and apart < _BESIDE - _TOUCH:
        name = "from_plate" if purlin.from_plate is not None else "height"
        value = purlin.from_plate if name == "from_plate" else purlin.height
        raise BriefError(
            f"{field}.{name}",
            show_length(value or 0.0),
            f"3 in of plan clear of purlin line {other.name} of the same slope",
        )


def check_struts(brief: Brief) -> None:
    """Check what the struts hold and stand on.

    Raises:
        BriefError: for the first that cannot be.
    """
    for k, group in enumerate(brief.struts):
        _check_group(brief, group, f"struts[{k}]")
    for k, strut in enumerate(brief.added_struts):
        _check_added(brief, strut, f"added_struts[{k}]")


def _check_purlin(brief: Brief, purlin: Purlin, field: str) -> None:
    """Check the place of a purlin line."""
    for name, value in (("slope", purlin.slope), ("plane", purlin.plane)):
        if value is Slope.ALL or (name == "plane" and value is not None):
            raise BriefError(
                f"{field}.{name}",
                value,
                "south, north, west or east as slope, and no plane, over a rectangle",
            )
    if (purlin.from_plate is None) == (purlin.height is None):
        raise BriefError(
            f"{field}.from_plate",
            purlin.from_plate,
            "from_plate or height, one of the two",
        )
    if on_hip_end(purlin) and brief.roof.form is not RoofForm.HIP:
        raise BriefError(
            f"{field}.slope", purlin.slope.value,
            "south or north, or hip as the form of the roof",
        )  # fmt: skip
    run = slope_run(brief, purlin)
    plan = purlin_plan(brief, purlin)
    if not 6 * INCH <= plan <= run - 3 * INCH:
        name = "from_plate" if purlin.from_plate is not None else "height"
        top = run if name == "from_plate" else run * slope_pitch(brief, purlin)
        value = purlin.from_plate if name == "from_plate" else purlin.height
        raise BriefError(
            f"{field}.{name}",
            show_length(value or 0.0),
            f"between plate and ridge (the ridge is at {show_length(top)}), clear of "
            "the plate by 6 in and of the ridge by 3 in on plan",
        )
    start, end = purlin_reach(brief, purlin)
    most = eave_length(brief, purlin)
    if (purlin.end or 0.0) > most + _TOUCH or end - start < 2 * FOOT:
        raise BriefError(
            f"{field}.end",
            show_length(end),
            "at least 2 ft beyond the start and within the length of the house, "
            f"and under a hip roof between the hips (here {show_length(start)} to "
            f"{show_length(end)})",
        )


def _check_group(brief: Brief, group: Struts, field: str) -> None:
    """Check what a group of struts holds and stands on."""
    if is_outline(brief):
        check_held(brief, group.purlin, field)
        check_foot(brief, group, field)
        return
    purlins = {purlin.name: purlin for purlin in brief.purlins}
    if group.purlin not in purlins:
        raise BriefError(
            f"{field}.purlin",
            group.purlin,
            "the name of a purlin line: " + (", ".join(purlins) or "there is none"),
        )
    purlin = purlins[group.purlin]
    if purlin_plan(brief, purlin) * slope_pitch(brief, purlin) < _SHORTEST_STRUT:
        raise BriefError(
            f"{field}.purlin",
            group.purlin,
            "a purlin line at least 6 in above the ceiling line",
            "A strut under it would have no length.",
        )
    reach = purlin_reach(brief, purlin)
    words = f"on the purlin line, {show_length(reach[0])} to {show_length(reach[1])}"
    start, end = group.start, group.end
    before = start is not None and start < (purlin.start or 0.0) - _TOUCH
    if start is not None and (before or start > reach[1] + _TOUCH):
        raise BriefError(f"{field}.start", show_length(start), words)
    if end is not None and (end < (start or reach[0]) - _TOUCH
                            or end > eave_length(brief, purlin) + _TOUCH):  # fmt: skip
        raise BriefError(
            f"{field}.end", show_length(end), "not before the start, within the house"
        )
    centred = on_hip_end(purlin)
    if strut_count(group.spacing, start, end, reach, centred)[1] == 0:
        raise BriefError(
            f"{field}.spacing",
            show_length(group.spacing),
            "one that leaves a strut " + words,
            "Unless start is stated the first stands half a spacing from its end.",
        )
    check_foot(brief, group, field)


def _check_added(brief: Brief, strut: AddedStrut, field: str) -> None:
    """Check the name and the foot of an added strut.

    A purlin line that is not there, or does not reach it, is a change dropped.
    """
    names = [(s.purlin, s.name) for s in brief.added_struts]
    if names.count((strut.purlin, strut.name)) > 1:
        raise BriefError(f"{field}.name", strut.name, "a name that no other one has")
    if strut.name.isdigit():
        raise BriefError(
            f"{field}.name", strut.name, "a name that is no number",
            "Numbers are for the struts of a group.",
        )  # fmt: skip
    check_foot(brief, strut, field)


def check_foot(brief: Brief, group: Strut | HipBrace, field: str) -> None:
    """Check the foot of a group of struts."""
    foot = group.foot
    named = {
        FootOn.WALL: [wall.name for wall in brief.walls],
        FootOn.BEAM: [beam.name for beam in brief.beams],
        FootOn.POST: [post.name for post in brief.posts],
    }
    if foot.on in named:
        if foot.name not in named[foot.on]:
            raise BriefError(
                f"{field}.foot.name",
                foot.name,
                f"the name of a {foot.on.value}: "
                + (", ".join(named[foot.on]) or "there is none"),
            )
        if foot.from_plate is not None:
            raise BriefError(
                f"{field}.foot.from_plate",
                show_length(foot.from_plate),
                f"left out: the {foot.on.value} says where the foot stands",
            )
    elif foot.on is FootOn.NEAREST_WALL:
        _check_nearest(brief, foot, field)
    elif foot.name is not None:
        raise BriefError(
            f"{field}.foot.name", foot.name, f"left out for a foot on a {foot.on.value}"
        )
    if foot.at is not None:
        _check_at(brief, foot, field)
    most = brief.footprint.width
    held = [p for p in brief.purlins if p.name == getattr(group, "purlin", None)]
    if held and on_hip_end(held[0]):
        most = brief.footprint.length
    if foot.from_plate is not None and foot.from_plate > most:
        raise BriefError(
            f"{field}.foot.from_plate",
            show_length(foot.from_plate),
            f"at most the width of the house ({show_length(most)})",
        )
    if foot.on is FootOn.CEILING_JOIST and brief.ceiling_joists is None:
        raise BriefError(
            f"{field}.foot.on", foot.on.value, "something that the brief has",
            "The brief states no ceiling joists.",
        )  # fmt: skip


def _check_nearest(brief: Brief, foot: Foot, field: str) -> None:
    """Check a foot that finds its own place."""
    for name in ("name", "from_plate", "at"):
        if getattr(foot, name) is not None:
            raise BriefError(
                f"{field}.foot.{name}", getattr(foot, name),
                "left out: the foot finds its own place",
            )  # fmt: skip
    missing = {
        Otherwise.CEILING_JOIST: brief.ceiling_joists is None,
        Otherwise.BEAM: not brief.beams,
    }
    if missing.get(foot.otherwise, False):
        raise BriefError(
            f"{field}.foot.otherwise", foot.otherwise.value,
            "something that the brief has",
        )  # fmt: skip


def _check_at(brief: Brief, foot: Foot, field: str) -> None:
    """Check the plan point of a foot."""
    if foot.from_plate is not None:
        raise BriefError(
            f"{field}.foot.from_plate",
            show_length(foot.from_plate),
            "left out where at says where the foot stands",
        )
    size = brief.footprint
    for value, limit, axis in zip(foot.at or (), (size.length, size.width), "xy",
                                  strict=True):  # fmt: skip
        if not -_TOUCH <= value <= limit + _TOUCH:
            raise BriefError(
                f"{field}.foot.at",
                tuple(show_length(v) for v in foot.at or ()),
                f"a point within the plan, {axis} from 0 to {show_length(limit)}",
            )
    if is_outline(brief) and not within(brief, *(foot.at or (0.0, 0.0))):
        raise BriefError(
            f"{field}.foot.at",
            tuple(show_length(v) for v in foot.at or ()),
            "a point within the outline",
        )
