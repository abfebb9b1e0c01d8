"""Handles of a roof in the view: where they are, what they set, and what they snap to.

A handle is a number of the roof's properties that lies along a line in the view. All
lengths here are in m and in the roof's own axes; the property is in Blender units.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import bpy
import numpy as np
from numpy.typing import NDArray

from ...solver.units import INCH, System, feet_inches
from ..properties import roof_of
from .pipeline import Outcome

Floats = NDArray[np.float64]
_NEAR = 8 * INCH  # from a wall or joist within which a handle takes it
_UP = np.array([0.0, 0.0, 1.0])
_UPSLOPE = 1.5  # m from an eave to the handle of its own pitch
_ASIDE = 0.12  # part of the length that handles stand off the middle


class Kind(StrEnum):
    """What a handle sets."""

    PITCH = "PITCH"
    SIDE_PITCH = "SIDE_PITCH"
    OVERHANG = "OVERHANG"
    PURLIN = "PURLIN"
    WALL = "WALL"
    FOOT = "FOOT"


@dataclass(frozen=True, eq=False)
class Handle:
    """One handle.

    Attributes:
        kind, index: what it sets, and of which entry of the roof's list.
        name: of it.
        origin: (3,) m, where its line begins.
        direction: (3,) unit, along which it moves.
        offset: m along the line.
        run: m of level run that a pitch rises over, 0 for what is no pitch.
    """

    kind: Kind
    index: int
    name: str
    origin: Floats
    direction: Floats
    offset: float
    run: float = 0.0

    @property
    def place(self) -> Floats:
        """(3,) m, where it is."""
        return self.origin + self.offset * self.direction

    @property
    def pitch(self) -> float:
        """Rise in 12 of run that a pitch is at."""
        return self.offset / self.run * 12

    def at_pitch(self, pitch: float) -> float:
        """Return the offset of a rise in 12 of run, m."""
        return pitch / 12 * self.run


def handles_of(roof: bpy.types.Object, scale: float) -> list[Handle]:
    """Return the handles of a roof.

    Args:
        roof: the roof object.
        scale: m per Blender unit.
    """
    stated = roof_of(roof)
    if stated.footprint.shape == "RECTANGLE":
        return list(_handles(stated, scale))
    return list(_outlined(stated, scale))


def handle(
    roof: bpy.types.Object, scale: float, kind: Kind, index: int
) -> Handle | None:
    """Return one handle, None where the roof has no such."""
    found = handles_of(roof, scale)
    return next((h for h in found if (h.kind, h.index) == (kind, index)), None)


def _handles(stated: Any, scale: float) -> Iterator[Handle]:
    """Yield the handles of a roof's properties."""
    length = stated.footprint.length * scale
    half = stated.footprint.width * scale / 2
    pitch = stated.roof.pitch / 12
    south = np.array([0.0, -1.0, 0.0])
    middle = length / 2
    origin = np.array([middle, half, 0.0])
    yield Handle(Kind.PITCH, 0, "Pitch", origin, _UP, pitch * half, half)
    over = stated.roof.overhang * scale
    eave = np.array([middle, 0.0, -pitch * over])
    yield Handle(Kind.OVERHANG, 0, "Overhang", eave, south, over)
    yield from _supports(stated, scale)


def _supports(stated: Any, scale: float) -> Iterator[Handle]:
    """Yield the handles of purlins, walls and strut feet."""
    for n, purlin in enumerate(stated.purlins):
        plate = _plate(stated, scale, purlin)
        if purlin.placed == "FROM_PLATE" and plate is not None:
            at, name = purlin.from_plate * scale, f"Purlin {purlin.name}"
            origin = plate.point + at * plate.slope * _UP
            yield Handle(Kind.PURLIN, n, name, origin, plate.inward, at)
    for n, wall in enumerate(stated.walls):
        yield _wall(wall, n, scale)
    for n, group in enumerate(stated.struts):
        found = next((p for p in stated.purlins if p.name == group.purlin), None)
        if found is None or found.placed != "FROM_PLATE" or group.foot.use_at:
            continue
        plate = _plate(stated, scale, found)
        if plate is not None:
            origin = plate.point + _ASIDE * plate.along
            at = _foot_at(stated, scale, group.foot, found, plate)
            name = f"Foot under {found.name}"
            yield Handle(Kind.FOOT, n, name, origin, plate.inward, at)


def _outlined(stated: Any, scale: float) -> Iterator[Handle]:
    """Yield the handles of a roof over a drawn outline.

    The pitch of the whole roof stands over its middle; each eave has its own beside it.
    """
    corners = stated.footprint.outline
    ring = np.array([(*corner.at, 0.0) for corner in corners]) * scale
    if len(ring) < 3:
        return
    low, high = ring.min(axis=0), ring.max(axis=0)
    run, pitch = float((high - low)[:2].min()) / 2, stated.roof.pitch / 12
    yield Handle(Kind.PITCH, 0, "Pitch", (low + high) / 2, _UP, pitch * run, run)
    eaves = [n for n, corner in enumerate(corners) if corner.edge == "EAVE"]
    for n in eaves:
        slope = corners[n].pitch / 12 if corners[n].use_pitch else pitch
        middle, inward, long = _edge(ring, n)
        if n == eaves[0]:
            over = stated.roof.overhang * scale
            eave = middle - slope * over * _UP
            yield Handle(Kind.OVERHANG, 0, "Overhang", eave, -inward, over)
        reach = min(_UPSLOPE, long / 4)
        foot, name = middle + reach * inward, f"Pitch from C{n + 1} on"
        yield Handle(Kind.SIDE_PITCH, n, name, foot, _UP, slope * reach, reach)
    yield from _supports(stated, scale)


def _edge(ring: Floats, n: int) -> tuple[Floats, Floats, float]:
    """Return the middle of a side of an outline, the way inward, and its length."""
    along = ring[(n + 1) % len(ring)] - ring[n]
    long = float(np.linalg.norm(along))
    turn = 1.0 if _area(ring) > 0 else -1.0
    inward = turn * np.array([-along[1], along[0], 0.0]) / max(long, 1e-9)
    return ring[n] + along / 2, inward, long


def _area(ring: Floats) -> float:
    """Return twice the area in a ring of (n, 3) points; positive to the left."""
    x, y = ring[:, 0], ring[:, 1]
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


@dataclass(frozen=True, eq=False)
class _Plate:
    """The plate under a slope.

    Attributes:
        point: (3,) m, its middle.
        inward: (3,) unit, level, up the slope.
        along: (3,) m, from its one end to its other.
        slope: rise over run.
    """

    point: Floats
    inward: Floats
    along: Floats
    slope: float


def _plate(stated: Any, scale: float, purlin: Any) -> _Plate | None:
    """Return the plate under a purlin's slope, None where there is none."""
    if stated.footprint.shape == "RECTANGLE":
        return _plate_of_rectangle(stated, scale, purlin.slope)
    corners = stated.footprint.outline
    ring = np.array([(*corner.at, 0.0) for corner in corners]) * scale
    if len(ring) < 3:
        return None
    order = range(len(ring)) if _area(ring) > 0 else reversed(range(len(ring)))
    found: list[tuple[float, _Plate]] = []
    for n in order:
        middle, inward, long = _edge(ring, n)
        if corners[n].edge != "EAVE" or purlin.slope not in ("ALL", _facing(-inward)):
            continue
        rise = corners[n].pitch if corners[n].use_pitch else stated.roof.pitch
        along = ring[(n + 1) % len(ring)] - ring[n]
        found.append((long, _Plate(middle, inward, along, rise / 12)))
    if purlin.plane[1:].isdigit() and 0 < int(purlin.plane[1:]) <= len(found):
        return found[int(purlin.plane[1:]) - 1][1]
    return max(found, key=lambda one: one[0])[1] if found else None


def _facing(outward: Floats) -> str:
    """Return the side of the sky that a level direction is nearest to."""
    x, y = outward[:2]
    if abs(y) >= abs(x):
        return "SOUTH" if y < 0 else "NORTH"
    return "WEST" if x < 0 else "EAST"


def _plate_of_rectangle(stated: Any, scale: float, slope: str) -> _Plate:
    """Return the plate under a slope of a roof over a rectangle."""
    long, wide = stated.footprint.length * scale, stated.footprint.width * scale
    x, y = np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
    rise = stated.roof.pitch
    if slope in ("WEST", "EAST"):
        rise = stated.roof.end_pitch if stated.roof.use_end_pitch else rise
        start, inward = (0.0, x) if slope == "WEST" else (long, -x)
        return _Plate(start * x + wide / 2 * y, inward, wide * y, rise / 12)
    start, inward = (wide, -y) if slope == "NORTH" else (0.0, y)
    return _Plate(start * y + long / 2 * x, inward, long * x, rise / 12)


def _wall(wall: Any, index: int, scale: float) -> Handle:
    """Return the handle of a wall: it moves square to its run."""
    start, end = np.array(wall.start) * scale, np.array(wall.end) * scale
    across = 0 if abs(end[1] - start[1]) > abs(end[0] - start[0]) else 1
    origin = np.zeros(3)
    origin[1 - across] = 0.35 * start[1 - across] + 0.65 * end[1 - across]
    direction = np.eye(3)[across]
    name = f"Wall {wall.name}"
    return Handle(Kind.WALL, index, name, origin, direction, float(start[across]))


def _foot_at(stated: Any, scale: float, foot: Any, purlin: Any, plate: _Plate) -> float:
    """Return how far feet stand from the plate of their slope, m."""
    if foot.on == "WALL":
        for name, at in _walls_along(stated, scale, plate.point, plate.inward):
            if name == foot.name:
                return at
    return (foot.from_plate if foot.use_from_plate else purlin.from_plate) * scale


def snapped(
    roof: bpy.types.Object,
    scale: float,
    one: Handle,
    offset: float,
    outcome: Outcome | None,
) -> float:
    """Return where a handle comes to rest near an offset, m.

    Walls that run across take the nearest joist, feet take the nearest bearing wall,
    and all take whole steps: quarter pitches, inches or centimetres.
    """
    stated = roof_of(roof)
    if one.run:
        return round(offset / one.run * 48) / 48 * one.run
    near = [
        at for at in _marks(stated, scale, one, outcome) if abs(at - offset) < _NEAR
    ]
    if near:
        return min(near, key=lambda at: abs(at - offset))
    step = INCH if stated.units == "IMPERIAL" else 0.01
    return round(offset / step) * step


def _marks(
    stated: Any, scale: float, one: Handle, outcome: Outcome | None
) -> list[float]:
    """Return the offsets that a handle is drawn to, m."""
    if one.kind is Kind.FOOT:
        walls = _walls_along(stated, scale, one.origin, one.direction)
        return [at for _, at in walls]
    if one.kind is Kind.WALL and one.direction[0] == 1.0 and outcome is not None:
        return [float(x) for x in outcome.solution.framing.joist_stations]
    return []


def _walls_along(
    stated: Any, scale: float, origin: Floats, inward: Floats
) -> list[tuple[str, float]]:
    """Return the bearing walls along a plate, and how far from it, m."""
    axis = int(np.argmax(np.abs(inward)))
    if abs(inward[axis]) < 1 - 1e-6:
        return []  # a plate at an angle: no wall is stated along it
    return [
        (wall.name, float((wall.start[axis] * scale - origin[axis]) * inward[axis]))
        for wall in stated.walls
        if wall.bearing and abs(wall.start[axis] - wall.end[axis]) < 1e-6
    ]


def put(roof: bpy.types.Object, scale: float, one: Handle, offset: float) -> None:
    """Set what a handle sets; what is out of range is refused when the brief is read.

    Args:
        roof: the roof object.
        scale: m per Blender unit.
        one: the handle.
        offset: m along its line.
    """
    stated = roof_of(roof)
    shown = offset / scale
    if one.kind is Kind.PITCH:
        stated.roof.pitch = max(offset, 0.0) / one.run * 12
    elif one.kind is Kind.SIDE_PITCH:
        corner = stated.footprint.outline[one.index]
        corner.use_pitch, corner.pitch = True, max(offset, 0.0) / one.run * 12
    elif one.kind is Kind.OVERHANG:
        stated.roof.overhang = max(shown, 0.0)
    elif one.kind is Kind.PURLIN:
        stated.purlins[one.index].from_plate = max(shown, 0.0)
    elif one.kind is Kind.WALL:
        wall, axis = stated.walls[one.index], int(np.argmax(one.direction))
        for end in (wall.start, wall.end):
            end[axis] = shown
    else:
        _put_foot(stated, scale, one, offset)


_STATED = {
    Kind.PITCH: ("roof", ("pitch",)),
    Kind.SIDE_PITCH: ("footprint.outline[{}]", ("use_pitch", "pitch")),
    Kind.OVERHANG: ("roof", ("overhang",)),
    Kind.PURLIN: ("purlins[{}]", ("from_plate",)),
    Kind.WALL: ("walls[{}]", ("start", "end")),
    Kind.FOOT: ("struts[{}].foot", ("on", "name", "use_from_plate", "from_plate")),
}


def stated_by(roof: bpy.types.Object, one: Handle) -> dict[str, Any]:
    """Return the properties that a handle sets, as they are now."""
    path, names = _STATED[one.kind]
    group = roof_of(roof).path_resolve(path.format(one.index))
    values = {name: getattr(group, name) for name in names}
    return {n: v if isinstance(v, (str, float, int)) else tuple(v)
            for n, v in values.items()}  # fmt: skip


def put_back(roof: bpy.types.Object, one: Handle, values: dict[str, Any]) -> None:
    """Set the properties of a handle to what they were."""
    path, _ = _STATED[one.kind]
    group = roof_of(roof).path_resolve(path.format(one.index))
    for name, value in values.items():
        setattr(group, name, value)


def _put_foot(stated: Any, scale: float, one: Handle, offset: float) -> None:
    """Stand feet on the bearing wall that lies there, else aside on what they had."""
    foot = stated.struts[one.index].foot
    walls = _walls_along(stated, scale, one.origin, one.direction)
    for name, at in walls:
        if abs(at - offset) < 0.5 * INCH:
            foot.on, foot.name = "WALL", name
            return
    if foot.on in ("WALL", "BEAM", "POST"):
        foot.on = "CEILING_JOIST" if stated.use_ceiling_joists else "POINT"
    foot.use_from_plate, foot.from_plate = True, max(offset, 0.0) / scale


def say(roof: bpy.types.Object, scale: float, one: Handle) -> str:
    """Return what a handle is at, in words."""
    stated = roof_of(roof)
    if one.run:
        return f"{one.name}: {one.pitch:.4g} in 12"
    metric = stated.units == System.METRIC.value.upper()
    words = f"{one.offset:.3f} m" if metric else feet_inches(one.offset)
    if one.kind is Kind.FOOT:
        foot = stated.struts[one.index].foot
        on = f"wall {foot.name}" if foot.on == "WALL" else foot.on.lower()
        return f"{one.name}: {words} from the plate, on {on.replace('_', ' ')}"
    return f"{one.name}: {words}"
