"""Joints that stand too near to be two are made one.

A stick is an inch and a half thick, so two joints on one stick nearer than an inch are
the same joint to a framer; in an analysis they would be a stub a thousand times stiffer
than anything else in the roof, and rounding would decide its answer.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from ..brief.braces import hip_inset, purlin_plan, purlin_reach
from ..brief.model import Beam, Brief, Post, Purlin, RoofForm, Wall
from ..brief.outline import is_outline
from .plan import OBLIQUE, TOUCH, line_of

Pair = tuple[float, float]
_SLACK = 1e-9


@dataclass
class Lines:
    """Places along one direction where joints are, m."""

    known: list[float] = field(default_factory=list)

    def settle(self, value: float) -> float:
        """Return the known place within an inch, or this one, now known."""
        at = bisect_left(self.known, value)
        near = self.known[max(0, at - 1) : at + 1]
        best = min(near, key=lambda place: abs(place - value), default=None)
        if best is not None and abs(best - value) < TOUCH - _SLACK:
            return best
        insort(self.known, value)
        return value

    def know(self, values: Iterable[float]) -> None:
        """Take places for joints as they are."""
        for value in values:
            if value not in self.known:
                insort(self.known, float(value))


@dataclass
class JointLines:
    """Where joints may be.

    Attributes:
        roof_x: along the ridge, on purlins and ridge.
        roof_y: across it, on purlins of hip ends.
        floor_x, floor_y: on the ceiling.
        plan: by slope, plan distances from its plate.
    """

    roof_x: Lines = field(default_factory=Lines)
    roof_y: Lines = field(default_factory=Lines)
    floor_x: Lines = field(default_factory=Lines)
    floor_y: Lines = field(default_factory=Lines)
    plan: dict[str, Lines] = field(
        default_factory=lambda: {side: Lines() for side in "SNWE"}
    )

    def along(self, side: str) -> Lines:
        """Return the places along the purlins of a slope."""
        return self.roof_y if side in ("W", "E") else self.roof_x


def settle(
    brief: Brief,
    rafters: Iterable[float],
    joists: Iterable[float],
    across: bool,
    ends: Iterable[float] = (),
) -> tuple[Brief, JointLines]:
    """Return the brief with what stands too near moved together, and its lines.

    Args:
        brief: as stated.
        rafters: stations of the rafters, m; they stay.
        joists: stations of the ceiling joists, m; they stay.
        across: the joists run across the ridge.
        ends: stations of the rafters of hip ends, m; they stay.
    """
    lines, size = JointLines(), brief.footprint
    lines.roof_x.know([0.0, size.length, *rafters])
    lines.floor_x.know([0.0, size.length])
    lines.floor_y.know([0.0, size.width])
    (lines.floor_x if across else lines.floor_y).know(joists)
    if across:
        lines.roof_x.know(joists)
    else:
        lines.roof_y.know(joists)
    lines.roof_y.know([0.0, size.width, *ends])
    for side, plan in lines.plan.items():
        plan.know([0.0, size.width / 2 if side in "SN" else hip_inset(brief)])
    overhang = brief.roof.overhang
    settled = replace(
        brief,
        roof=replace(brief.roof, overhang=overhang if overhang >= TOUCH else 0.0),
        ridge=replace(
            brief.ridge, posts=tuple(lines.roof_x.settle(x) for x in brief.ridge.posts)
        ),
        walls=tuple(_wall(wall, lines) for wall in brief.walls),
        beams=tuple(_beam(beam, lines) for beam in brief.beams),
        posts=tuple(_post(post, lines) for post in brief.posts),
        purlins=_purlins(brief, lines),
    )
    return settled, lines


def _wall(wall: Wall, lines: JointLines) -> Wall:
    """Return a wall on its line; it may be shorter or longer than its joints.

    One at an angle stays: nothing else runs along it.
    """
    along, at = line_of(wall).along, line_of(wall).at
    if along == OBLIQUE:
        return wall
    place = (lines.floor_y if along == 0 else lines.floor_x).settle(at)
    ends = [_moved(end, 1 - along, place) for end in (wall.start, wall.end)]
    return replace(wall, start=ends[0], end=ends[1])


def _beam(beam: Beam, lines: JointLines) -> Beam:
    """Return a beam on its line, its ends on the lines that cross it."""
    along, at = line_of(beam).along, line_of(beam).at
    axes = (lines.floor_x, lines.floor_y)
    place = axes[1 - along].settle(at)
    ends = [
        _moved(_moved(end, 1 - along, place), along, axes[along].settle(end[along]))
        for end in (beam.start, beam.end)
    ]
    return replace(beam, start=ends[0], end=ends[1])


def _post(post: Post, lines: JointLines) -> Post:
    """Return a post at the crossing of its lines."""
    x, y = post.at
    return replace(post, at=(lines.floor_x.settle(x), lines.floor_y.settle(y)))


def _purlins(brief: Brief, lines: JointLines) -> tuple[Purlin, ...]:
    """Return the purlins on their lines; over a drawn outline planes say where."""
    if is_outline(brief):
        return brief.purlins
    return tuple(_purlin(brief, purlin, lines) for purlin in brief.purlins)


def _purlin(brief: Brief, purlin: Purlin, lines: JointLines) -> Purlin:
    """Return a purlin on its line, its ends at rafters that are near."""
    side = purlin.slope.value[0].upper()
    plan = lines.plan[side].settle(purlin_plan(brief, purlin))
    if brief.roof.form is RoofForm.HIP:
        low, high = purlin_reach(brief, replace(purlin, from_plate=plan, height=None))
        stated = purlin.start or 0.0, purlin.end
        purlin = replace(purlin, from_plate=plan, start=low, end=high, height=None)
        if stated[0] < low and (stated[1] is None or stated[1] > high):
            return purlin  # both ends at the hips, where lines of two slopes may meet
    along = lines.along(side)
    return replace(
        purlin,
        from_plate=plan,
        start=None if purlin.start is None else along.settle(purlin.start),
        end=None if purlin.end is None else along.settle(purlin.end),
    )


def _moved(point: Pair, axis: int, value: float) -> Pair:
    """Return a point with one coordinate replaced."""
    return (value, point[1]) if axis == 0 else (point[0], value)
