"""Briefs and entries to begin with: a new roof, a new wall, a new group of struts.

Pure of Blender: a script that calls these gets what the buttons give.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from ...solver.brief import Brief
from ...solver.brief import model as m
from ...solver.brief.outline import is_drawn
from ...solver.framing import Framing
from ...solver.framing.changes import place_of
from ...solver.framing.plan import OBLIQUE, line_of
from ...solver.units import FOOT, INCH, System


class FeetOn(StrEnum):
    """What the struts of a new roof stand on."""

    JOISTS = "joists"
    WALL = "wall"
    NONE = "none"


@dataclass(frozen=True, kw_only=True)
class Start:
    """The few facts that a new roof is made from.

    Attributes:
        length, width: m.
        pitch: rise over run.
        overhang: m.
        spacing: m, of rafters and joists.
        size: of rafters and joists.
        feet: what the struts stand on; NONE leaves purlins and struts out.
        units: of reports.
    """

    length: float
    width: float
    pitch: float
    overhang: float
    spacing: float
    size: str
    feet: FeetOn
    units: System


def new_roof(start: Start) -> Brief:
    """Return the brief of a new roof: a spine wall, joists, purlins and struts.

    Struts lean to the spine wall where they stand on it, held at mid-length by a
    runner, under purlins one size deeper than the rafters. They stand plumb where they
    stand on joists; those purlins run at mid-slope and are as deep as the rafters.
    """
    middle = start.width / 2
    spine = m.Wall(name="Spine", start=(0.0, middle), end=(start.length, middle))
    purlins: tuple[m.Purlin, ...] = ()
    struts: tuple[m.Struts, ...] = ()
    if start.feet is not FeetOn.NONE:
        on_wall = start.feet is FeetOn.WALL
        # Mid-slope, or just high enough for struts at 45 degrees to the spine.
        place = middle / 2
        if on_wall:
            place = max(place, middle / (1 + start.pitch))
        foot = m.Foot(on=m.FootOn.CEILING_JOIST)
        if on_wall:
            foot = m.Foot(on=m.FootOn.WALL, name=spine.name)
        purlins = tuple(
            m.Purlin(
                name=name,
                slope=slope,
                size=_next_size(start.size) if on_wall else start.size,
                from_plate=place,
            )
            for name, slope in (("S", m.Slope.SOUTH), ("N", m.Slope.NORTH))
        )
        # At most 4 ft apart, and as far from one end of the purlin as from the other.
        spacing = start.length / math.ceil(start.length / (4 * FOOT) - 1e-6)
        leaning = {"foot": foot, "held_at_mid": on_wall, "spacing": spacing}
        struts = tuple(m.Struts(purlin=p.name, size="2x4", **leaning) for p in purlins)
    return m.Brief(
        units=start.units,
        footprint=m.Footprint(length=start.length, width=start.width),
        roof=m.Roof(pitch=start.pitch, overhang=start.overhang),
        rafters=m.Rafters(size=start.size, spacing=start.spacing),
        ridge=m.Ridge(size=_next_size(start.size)),
        ceiling_joists=m.CeilingJoists(size=start.size, spacing=start.spacing),
        walls=(spine,),
        purlins=purlins,
        struts=struts,
    )


def _next_size(size: str) -> str:
    """Return the ridge board of rafters: one size deeper, for their plumb cut."""
    depths = ["4", "6", "8", "10", "12", "14"]
    width, _, depth = size.partition("x")
    if depth in depths[:-1]:
        return f"{width}x{depths[depths.index(depth) + 1]}"
    return size


def free_name(taken: list[str], stem: str) -> str:
    """Return a name that no entry of a list has."""
    names = [stem, *(f"{stem} {n}" for n in range(2, len(taken) + 3))]
    return next(name for name in names if name not in taken)


def new_wall(brief: Brief) -> m.Wall:
    """Return a wall along the middle of the house."""
    size = brief.footprint
    name = free_name([w.name for w in brief.walls], "Wall")
    middle = size.width / 2
    return m.Wall(name=name, start=(0.0, middle), end=(size.length, middle))


def new_wing(brief: Brief, count: int) -> m.Wing:
    """Return a wing against the side of a house that has none yet.

    Args:
        brief: of the roof.
        count: how many wings it has.
    """
    sides = (m.Slope.NORTH, m.Slope.SOUTH, m.Slope.EAST, m.Slope.WEST)
    side, size = sides[count % 4], brief.footprint
    along = size.length if count % 4 < 2 else size.width
    width = min(along / 2, 0.7 * min(size.width, size.length))
    return m.Wing(side=side, start=along / 4, width=width, length=width / 2)


def new_opening(wall: m.Wall) -> m.Opening:
    """Return a gap in the middle third of a wall, with a header over it."""
    length = max(abs(b - a) for a, b in zip(wall.start, wall.end, strict=True))
    return m.Opening(start=length / 3, end=length * 2 / 3, header=m.Header())


def new_beam(brief: Brief) -> m.Beam:
    """Return a beam in the first gap of a wall, else across the middle."""
    name = free_name([b.name for b in brief.beams], "Beam")
    for wall in brief.walls:
        for gap in wall.openings if line_of(wall).along != OBLIQUE else ():
            along = 0 if wall.start[1] == wall.end[1] else 1
            first, last = list(wall.start), list(wall.start)
            sign = 1 if wall.end[along] > wall.start[along] else -1
            first[along] += sign * gap.start
            last[along] += sign * gap.end
            return m.Beam(
                name=name, size="2x10", plies=2,
                start=(first[0], first[1]), end=(last[0], last[1]),
            )  # fmt: skip
    size = brief.footprint
    middle = size.width / 2
    return m.Beam(
        name=name, size="2x10", plies=2, start=(0.0, middle), end=(size.length, middle)
    )


def new_post(brief: Brief) -> m.Post:
    """Return a post under the middle of the first beam, else of the house."""
    name = free_name([p.name for p in brief.posts], "Post")
    size = brief.footprint
    at = (size.length / 2, size.width / 2)
    if brief.beams:
        beam = brief.beams[0]
        at = tuple((a + b) / 2 for a, b in zip(beam.start, beam.end, strict=True))
    return m.Post(name=name, at=(at[0], at[1]))


def new_purlin(brief: Brief) -> m.Purlin:
    """Return a purlin line on the slope with the fewest, in its widest free stretch.

    Over a drawn outline, a line under every plane.
    """
    taken, plan = [p.name for p in brief.purlins], brief.footprint
    size = brief.rafters.size
    if is_drawn(brief):
        at = min(plan.length, plan.width) / 8
        name = free_name(taken, "Ring")
        return m.Purlin(name=name, slope=m.Slope.ALL, size=size, from_plate=at)
    lines = {
        slope: sorted(_from_plate(brief, p) for p in brief.purlins if p.slope is slope)
        for slope in (m.Slope.SOUTH, m.Slope.NORTH)
    }
    slope = min(lines, key=lambda one: len(lines[one]))
    marks = [0.0, *lines[slope], plan.width / 2]
    low, high = max(pairwise(marks), key=lambda gap: gap[1] - gap[0])
    return m.Purlin(
        name=free_name(taken, "S" if slope is m.Slope.SOUTH else "N"),
        slope=slope,
        size=size,
        from_plate=round((low + high) / 2 / INCH) * INCH,
    )


def _from_plate(brief: Brief, purlin: m.Purlin) -> float:
    """Return the plan distance of a purlin from the plate of its slope, m."""
    if purlin.from_plate is not None:
        return purlin.from_plate
    return (purlin.height or 0.0) / brief.roof.pitch


def new_struts(brief: Brief) -> m.Struts:
    """Return struts under the first purlin that has none, on the joists below."""
    held = {g.purlin for g in brief.struts}
    names = [p.name for p in brief.purlins] or ["S"]
    purlin = next((n for n in names if n not in held), names[0])
    on = m.FootOn.POINT if brief.ceiling_joists is None else m.FootOn.CEILING_JOIST
    return m.Struts(purlin=purlin, spacing=4 * FOOT, foot=m.Foot(on=on))


def new_added_strut(brief: m.Brief) -> m.AddedStrut:
    """Return one strut more, like those of the first group, where none stands yet."""
    like = new_struts(brief)
    name = free_name([s.name for s in brief.added_struts], "extra")
    return m.AddedStrut(
        name=name, purlin=like.purlin, at=brief.footprint.length / 2, foot=like.foot
    )


def new_override(framing: Framing, key: str) -> m.Override:
    """Return a change of a member that changes nothing yet, and keeps to its stick."""
    return m.Override(member=key, near=place_of(framing, key))


def new_truss(brief: Brief) -> m.Truss:
    """Return trusses of every rafter pair."""
    name = free_name([t.name for t in brief.trusses], "Trusses")
    return m.Truss(name=name, spacing=brief.rafters.spacing)


def new_hip_brace(brief: Brief) -> m.HipBrace:
    """Return a post under both ridge ends: on a bearing wall that lies under them."""
    size = brief.footprint
    for wall in brief.walls:
        ends = (wall.start, wall.end)
        on_ridge = all(abs(y - size.width / 2) < 1 * FOOT for _, y in ends)
        if wall.bearing and on_ridge:
            return m.HipBrace(foot=m.Foot(on=m.FootOn.WALL, name=wall.name))
    return m.HipBrace(foot=m.Foot(on=m.FootOn.POINT))
