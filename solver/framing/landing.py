"""Where a brace may land by the rule: the nearest bearing wall that it can reach.

Source: IRC 2018 R802.4.5: a purlin brace goes down to a bearing wall, no flatter than
45 degrees from level, with no more than 8 ft of it unbraced. Walls are the interior
bearing walls where they stand; a header over a gap is no landing, because no table of
headers knows single loads.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.irc.purlins import BRACE_ANGLE, BRACE_LENGTH
from ..brief.model import Beam, Brief, Foot, FootOn, Otherwise, Wall
from ..units import show_length
from .plan import gaps_of, line_of

_SLACK = 1e-9
_HELD = 2  # parts of a brace that a lateral brace at mid-length leaves
Floats = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Landing:
    """A place on a bearing wall, as seen from the top of a brace.

    Attributes:
        wall: name.
        point: m on plan.
        run: m, level distance from the top of the brace.
        rise: m, height of the top above the ceiling line.
        legal: whether angle and length keep the rule.
        held: whether it keeps it only with a lateral brace at mid-length.
    """

    wall: str
    point: tuple[float, float]
    run: float
    rise: float
    legal: bool
    held: bool

    @property
    def angle(self) -> float:
        """Angle from level, rad."""
        return math.atan2(self.rise, self.run)

    @property
    def length(self) -> float:
        """Length of the brace, m."""
        return math.hypot(self.rise, self.run)


def nearest_landing(brief: Brief, top: Floats) -> Landing | None:
    """Return the landing nearest to plumb under a top, a legal one if there is any.

    Args:
        brief: has the walls.
        top: (3,) m, where the brace meets what it holds.

    Returns:
        Among legal ones the steepest, one without a lateral brace before one with;
        where none is legal the steepest of all, not legal. None without bearing walls.
    """
    found = [
        _landing(wall.name, point, top)
        for wall in brief.walls
        if wall.bearing
        for point in [_nearest_standing(wall, float(top[0]), float(top[1]))]
        if point is not None
    ]
    return min(found, key=lambda one: (not one.legal, one.held, one.run), default=None)


def legal_reach(rise: float, held: bool = False) -> float:
    """Return how far level from its top a brace may land by the rule, m.

    Angle: as far as it is high. Length: ``run^2 + rise^2 <= (8 ft)^2``, twice 8 ft with
    a lateral brace. Below 0 where even a plumb one is too long.

    Args:
        rise: m, height of the top above the landing.
        held: with a lateral brace at mid-length.
    """
    most = BRACE_LENGTH * (_HELD if held else 1)
    if rise > most:
        return -1.0
    return min(rise / math.tan(BRACE_ANGLE), math.sqrt(most**2 - rise**2))


def _landing(wall: str, point: tuple[float, float], top: Floats) -> Landing:
    """Return a landing with what the rule says of it."""
    rise, run = float(top[2]), float(np.hypot(*(top[:2] - np.array(point))))
    bare = run <= legal_reach(rise) + _SLACK
    with_brace = run <= legal_reach(rise, held=True) + _SLACK
    return Landing(
        wall=wall,
        point=point,
        run=run,
        rise=rise,
        legal=bare or with_brace,
        held=with_brace and not bare,
    )


def _nearest_standing(wall: Wall, x: float, y: float) -> tuple[float, float] | None:
    """Return the point of a wall, where it stands, nearest to a plan point."""
    line = line_of(wall)
    u, _ = line.place(x, y)
    edges = [line.low, *(v for gap in gaps_of(wall) for v in gap), line.high]
    places = [
        min(max(u, low), high)
        for low, high in zip(edges[::2], edges[1::2], strict=True)
        if high >= low
    ]
    if not places:
        return None
    at = min(places, key=lambda place: abs(place - u))
    return line.point(at)[:2]


@dataclass(frozen=True)
class FoundFoot:
    """The foot of one strut, where its group's finds its own place.

    Attributes:
        foot: where it stands.
        held: whether it has a lateral brace at mid-length of its own.
        why_not: why no wall was found and nothing else is stated, or None.
    """

    foot: Foot
    held: bool = False
    why_not: str | None = None


def found_foot(brief: Brief, stated: Foot, top: Floats) -> FoundFoot:
    """Return the foot of a strut: as stated, or on the nearest legal landing.

    Args:
        brief: has walls and beams.
        stated: foot of its group.
        top: (3,) m, where it meets what it holds.
    """
    if stated.on is not FootOn.NEAREST_WALL:
        return FoundFoot(stated)
    found = nearest_landing(brief, top)
    if found is not None and found.legal:
        foot = Foot(on=FootOn.WALL, name=found.wall, at=found.point)
        return FoundFoot(foot, held=found.held)
    if stated.otherwise is Otherwise.CEILING_JOIST:
        return FoundFoot(Foot(on=FootOn.CEILING_JOIST))
    if stated.otherwise is Otherwise.BEAM:
        x, y = float(top[0]), float(top[1])
        name = min(brief.beams, key=lambda b: _away(b, x, y)).name
        return FoundFoot(Foot(on=FootOn.BEAM, name=name, at=(x, y)))
    return FoundFoot(
        stated, why_not=f"it finds no legal foot: {no_landing(brief, found)}"
    )


def no_landing(brief: Brief, found: Landing | None) -> str:
    """Return why a brace has no legal landing, in words without a full stop.

    Args:
        brief: says the units.
        found: the steepest landing, not legal; None without bearing walls.
    """
    if found is None:
        return "no interior bearing wall stands under this roof"
    run = show_length(found.run, brief.units)
    angle = math.degrees(found.angle)
    if found.angle < BRACE_ANGLE:
        why = f"{angle:.0f} degrees from level where 45 is asked"
    else:
        long = show_length(found.length, brief.units)
        why = f"{long} long, too long even with a lateral brace"
    return f"the nearest bearing wall, {found.wall}, lies {run} aside: {why}"


def _away(beam: Beam, x: float, y: float) -> float:
    """Return the plan distance of a beam from a point, m."""
    line = line_of(beam)
    u, aside = line.place(x, y)
    past = max(line.low - u, u - line.high, 0.0)
    return math.hypot(aside, past)
