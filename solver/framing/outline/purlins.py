"""Purlin lines over a drawn outline: level, and meeting at hips and valleys.

Lines of one height meet under every hip and valley that they reach and share a joint
there; the hip or valley rests on it by contact alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ...basis.sections import section
from ...brief.model import Brief, Orientation, Purlin, Slope
from ...errors import BriefError
from ...form import RoofPlane
from ...units import FOOT, INCH, show_length
from ..draft import Draft
from ..model import Role
from ..plan import TOUCH
from ..planes import along_of, to_plane
from ..purlins import PURLIN_LAYER, purlin_key
from .lines import join, top_above_plate
from .plan import OutlinePlan, way_of
from .rafters import intervals

Floats = NDArray[np.float64]
_SHORTEST = 1 * FOOT - 1e-6
_CLEAR = 3 * INCH  # on plan, below the highest point of a plane
_RIDGE = 1 * FOOT  # no hip takes so much off a line within that
_LINES = (Role.HIP_RAFTER, Role.VALLEY_RAFTER)


@dataclass(frozen=True, eq=False)
class PurlinLine:
    """One straight purlin line under one plane.

    Attributes:
        name: of the purlin and of the plane, such as ``ring-S1``; a second stretch
            under the same plane is ``ring-S1-b``.
        purlin: what the brief states of it.
        plane: number of the plane.
        start, end: (3,) m; west to east, or south to north.
    """

    name: str
    purlin: Purlin
    plane: int
    start: Floats
    end: Floats

    @property
    def length(self) -> float:
        """Return its length, m."""
        return float(np.linalg.norm(self.end - self.start))

    @property
    def way(self) -> Floats:
        """Return the unit vector along it, (3,)."""
        return (self.end - self.start) / self.length

    def point(self, at: float) -> Floats:
        """Return the point at a distance from its start, (3,) m."""
        return self.start + self.way * at


def add_purlins(draft: Draft, plan: OutlinePlan) -> tuple[PurlinLine, ...]:
    """Add every purlin line; the rafters that it passes rest on it.

    Returns:
        The lines that stand, in order.

    Raises:
        BriefError: a purlin for which no plane has room.
    """
    found = []
    for k, purlin in enumerate(draft.brief.purlins):
        lines = [
            line
            for number in _planes_of(plan, purlin, f"purlins[{k}]")
            for line in _lines_under(draft, plan, purlin, number)
        ]
        if not lines:
            raise _no_room(draft.brief, plan, purlin, f"purlins[{k}]")
        found += [_add(draft, plan, _met(line, found)) for line in lines]
    standing = tuple(line for line in found if draft.has(purlin_key(line.name)))
    _meet_under_lines(draft)
    return standing


def _planes_of(plan: OutlinePlan, purlin: Purlin, field: str) -> list[int]:
    """Return the numbers of the planes that a purlin runs under."""
    if purlin.plane is not None:
        if purlin.plane not in plan.planes:
            raise BriefError(
                f"{field}.plane", purlin.plane, "one of " + ", ".join(plan.planes)
            )
        return [plan.planes.index(purlin.plane)]
    falls = [way_of(-plane.uphill) for plane in plan.form.planes]
    wanted = purlin.slope.value[0].upper()
    every = purlin.slope is Slope.ALL
    return [n for n, way in enumerate(falls) if every or way == wanted]


def _no_room(brief: Brief, plan: OutlinePlan, purlin: Purlin, field: str) -> BriefError:
    """Return the refusal of a purlin that runs under no plane."""
    falls = {way_of(-plane.uphill) for plane in plan.form.planes}
    slopes = [s.value for s in Slope if s.value[0].upper() in falls]
    if purlin.plane is None and purlin.slope not in (Slope.ALL, *slopes):
        return BriefError(
            f"{field}.slope",
            purlin.slope.value,
            f"a way that a plane of this roof falls: {', '.join(slopes)}, or all",
        )
    name = "from_plate" if purlin.height is None else "height"
    most = max(float(p.polygon3[:, 2].max()) for p in plan.form.planes)
    return BriefError(
        f"{field}.{name}",
        show_length(getattr(purlin, name), brief.units),
        "a place where a plane is at least 1 ft long and 3 in of plan below its "
        f"highest point (the highest ridge is {show_length(most, brief.units)} above "
        "the plate)",
    )


def _lines_under(
    draft: Draft, plan: OutlinePlan, purlin: Purlin, number: int
) -> list[PurlinLine]:
    """Return the lines of a purlin under one plane, from west or south."""
    plane, base = plan.form.planes[number], f"{purlin.name}-{plan.planes[number]}"
    away, pinned = _place_on(plane, purlin), _pinned(draft, base)
    if pinned is not None:
        if _stretches(plane, pinned, purlin):
            away = pinned
        else:
            why = "its place stays as stated, for its plane has no room there"
            draft.changes.drop(purlin_key(base), why)
    return [
        PurlinLine(
            base if n == 0 else f"{base}-{chr(ord('a') + n)}",
            purlin,
            number,
            _point_on(plane, low, away),
            _point_on(plane, high, away),
        )
        for n, (low, high) in enumerate(_stretches(plane, away, purlin))
    ]


def _pinned(draft: Draft, name: str) -> float | None:
    """Return where a change pins a line, m on plan from its plate, or None."""
    key = purlin_key(name)
    places = [c.from_plate for c in draft.brief.overrides if c.member == key]
    return places[0] if places else None


def _place_on(plane: RoofPlane, purlin: Purlin) -> float:
    """Return how far up a plane its line lies, m on plan from its eave."""
    if purlin.from_plate is not None:
        return purlin.from_plate
    assert purlin.height is not None
    return (purlin.height - float(plane.polygon3[0, 2])) / plane.pitch


def _stretches(
    plane: RoofPlane, away: float, purlin: Purlin
) -> list[tuple[float, float]]:
    """Return where a level line lies within a plane, m along its eave.

    Args:
        plane: of the form.
        away: m on plan from its eave.
        purlin: whose stated start and end cut the first stretch.
    """
    polygon = to_plane(plane, plane.polygon)
    if not 6 * INCH - 1e-6 <= away <= float(polygon[:, 1].max()) - _CLEAR + 1e-6:
        return []
    found = _with_roof_above(polygon, away)
    if found and purlin.plane is not None:
        low, high = found[0]
        end = high if purlin.end is None else min(high, low + purlin.end)
        found[0] = (min(low + (purlin.start or 0.0), end), end)
    return [(low, high) for low, high in found if high - low >= _SHORTEST]


def _with_roof_above(polygon: Floats, away: float) -> list[tuple[float, float]]:
    """Return the stretches of a level line over which its plane goes on upward, m.

    Args:
        polygon: (n, 2) m, of the plane, along its eave and up.
        away: m up from its eave.
    """
    turned = polygon[:, ::-1]
    above = intervals(turned, away + _CLEAR)
    out = []
    for here in intervals(turned, away):
        for over in above:
            low, high = here.low, here.high
            low = over.low if over.low - low > _RIDGE else low
            high = over.high if high - over.high > _RIDGE else high
            if min(high, over.high) - max(low, over.low) >= _SHORTEST / 2:
                out.append((low, high))
                break
    return out


def _point_on(plane: RoofPlane, along: float, away: float) -> Floats:
    """Return a point of a plane along its eave and up from it, (3,) m."""
    way, origin = along_of(plane), plane.polygon[0]
    x, y = way * along + plane.uphill * (float(origin @ plane.uphill) + away)
    return np.array([x, y, float(plane.height(x, y))])


def _met(line: PurlinLine, known: list[PurlinLine]) -> PurlinLine:
    """Return a line whose ends are those of other lines that are near."""
    ends = []
    for point in (line.start, line.end):
        others = [p for other in known for p in (other.start, other.end)]
        near = [p for p in others if np.linalg.norm(p - point) < TOUCH]
        ends.append(near[0] if near else point)
    return replace(line, start=ends[0], end=ends[1])


def _add(draft: Draft, plan: OutlinePlan, line: PurlinLine) -> PurlinLine:
    """Add one line, with a contact under each rafter of its plane that it passes."""
    plane, key = plan.form.planes[line.plane], purlin_key(line.name)
    square = line.purlin.orientation is Orientation.SQUARE
    added = draft.add(
        key,
        Role.PURLIN,
        line.start,
        line.end,
        line.purlin,
        layer=PURLIN_LAYER,
        up=tuple(float(v) for v in plane.normal) if square else (0.0, 0.0, 1.0),
        planar=False,
        slope=plan.planes[line.plane],
        offset=(0.0, 0.0, _drop(draft.brief, plane, line.purlin)),
        group=line.name,
    )
    for rafter, point in _passed(draft, plan, line) if added else ():
        draft.contact(
            rafter,
            key,
            join(draft, rafter, point),
            draft.attach(key, point, PURLIN_LAYER),
            way=(float(plane.uphill[0]), float(plane.uphill[1])),
        )
    return line


def _drop(brief: Brief, plane: RoofPlane, purlin: Purlin) -> float:
    """Return how far above its joint line the middle of a purlin is drawn, plumb."""
    own, rafters = section(purlin.size), section(brief.rafters.size)
    under = top_above_plate(brief) - rafters.depth * math.hypot(1.0, plane.pitch)
    if purlin.orientation is Orientation.SQUARE:
        return under - own.depth / 2 * math.hypot(1.0, plane.pitch)
    edge = own.breadth * purlin.plies / 2 * plane.pitch  # one corner touches
    return under - own.depth / 2 - edge


def _passed(
    draft: Draft, plan: OutlinePlan, line: PurlinLine
) -> Iterator[tuple[str, Floats]]:
    """Yield the rafters that a line passes under, and where.

    A rafter that ends within an inch of the line is held by what it ends on.
    """
    plane, name = plan.form.planes[line.plane], plan.planes[line.plane]
    (low, away), (high, _) = to_plane(plane, np.array([line.start, line.end]))
    for key, piece in list(draft.members.items()):
        if piece.member.role not in (Role.RAFTER, Role.JACK_RAFTER):
            continue
        if piece.member.slope != name:
            continue
        (mark, foot), (_, top) = to_plane(plane, np.array([piece.start, piece.end]))
        on = low - 1e-6 <= mark <= high + 1e-6
        if on and foot + TOUCH < away < top - TOUCH:
            point = line.start + line.way * (float(mark) - low)
            yield key, point


def _meet_under_lines(draft: Draft) -> None:
    """Let a hip or valley rest in the corner where two purlin lines meet under it.

    Nails hold it there, but what they hold sideways is counted at next to nothing. A
    line that ends alone at a hip or valley stops short of it and does not hold it.
    """
    ends: dict[int, list[str]] = {}
    for key, piece in draft.members.items():
        if piece.member.role is Role.PURLIN:
            for at in (min(piece.stations), max(piece.stations)):
                ends.setdefault(piece.stations[at], []).append(key)
    sloping = [k for k, p in draft.members.items() if p.member.role in _LINES]
    for node, keys in ends.items():
        if len(keys) < 2:
            continue
        point = np.array(draft.points[node])
        for over in sloping:
            if _lies_on(draft, over, point):
                upper = join(draft, over, point)
                draft.contact(over, keys[0], upper, node, held=False)


def _lies_on(draft: Draft, key: str, point: Floats) -> bool:
    """Return whether a point lies on the joint line of a member."""
    piece = draft.members[key]
    way = piece.end - piece.start
    part = float((point - piece.start) @ way / (way @ way))
    away = np.linalg.norm(piece.start + part * way - point)
    return 0.0 < part < 1.0 and bool(away < TOUCH)
