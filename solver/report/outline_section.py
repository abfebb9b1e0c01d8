"""A section over a drawn outline: up the plane of its worst strut or rafter, to scale.

Draws what a slice through the solids shows; reads every force from the solved frame.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..framing.model import Member, Role
from ..framing.plan import line_of, wall_stands_at
from ..framing.solids import solids
from ..solve import Solution
from ..trace.beside import frame_push
from ..trace.wording import combination_words
from ..units import FOOT, INCH
from .cross_section import draw_piece
from .cut import Cut, worst_cut
from .markup import Raw, tag
from .show import Show, use
from .sketch import INK, OVER, SOFT, Sketch, between

Floats = NDArray[np.float64]
_BELOW = 3.4 * FOOT  # of wall that is drawn
_NEAR = 1 * FOOT  # of the roof to either side of the section
_SQUARE = 0.99  # cosine between a slope and the section that goes up it
_ROOM = 1.9  # m of the drawing that the words beside a strut need
_STANDING = (Role.STRUT, Role.POST)
_NOT_SHOWN = (Role.JACK_STUD,)


@dataclass(frozen=True, eq=False)
class _View:
    """The plumb plane of a section.

    Attributes:
        origin: (2,) m on plan, that it passes through.
        way: (2,) unit, to the right on the drawing.
    """

    origin: Floats
    way: Floats

    def at(self, points: Floats) -> Floats:
        """Return (n, 3): along the section, height, and depth behind it, m."""
        gap = points[:, :2] - self.origin
        aside = np.array([-self.way[1], self.way[0]])
        return np.column_stack([gap @ self.way, points[:, 2], gap @ aside])


def outline_section(solution: Solution) -> Raw:
    """Return the section with walls, sizes and the forces of its struts."""
    cut, show = worst_cut(solution), Show(solution.brief.units)
    view = _view_of(solution, cut.about)
    drawn = _slice(solution, view, cut.about)
    corners = np.array([c for _, part in drawn for c in part]).reshape(-1, 2)
    walls = _walls(solution, view)
    low = min([float(corners[:, 0].min()), *(at for at, _, _ in walls)])
    high = max([float(corners[:, 0].max()), *(at for at, _, _ in walls)])
    top = float(corners[:, 1].max())
    sketch = Sketch((low, -_BELOW), (high, top + 0.3), margin=(84.0, 44.0, 84.0, 34.0))
    _draw_walls(sketch, walls)
    for member, part in drawn:
        draw_piece(sketch, solution, member, part)
    _dimensions(sketch, solution, view, walls, show, top)
    forces = _forces(sketch, solution, cut, view, show)
    words = (
        f"Section through {cut.about}, up the roof's slope there; to scale, a foot to "
        f"either side of it drawn. {forces}"
    )
    picture = sketch.svg(f"Section through {cut.about}").text
    return tag("figure", Raw(picture + tag("figcaption", words).text))


def _view_of(solution: Solution, about: str) -> _View:
    """Return the plane of the section: up the slope over a member."""
    framing = solution.framing
    member = framing.members[about]
    start, end = framing.ends(about)
    plan = framing.plan
    assert plan is not None
    place = (end if member.role is Role.STRUT else (start + end) / 2)[:2]
    if member.slope in plan.planes:
        way = plan.plane(str(member.slope)).uphill
    elif str(member.group) in plan.lines:
        line = plan.form.lines[plan.lines[str(member.group)]]
        way = plan.form.planes[line.planes[0]].uphill
    else:
        way = (end - start)[:2]
        way = way / np.hypot(*way)
    if way[0] < -1e-9 or (abs(way[0]) <= 1e-9 and way[1] < 0):
        way = -way
    return _View(place, way)


def _slice(
    solution: Solution, view: _View, about: str
) -> list[tuple[Member, list[list[float]]]]:
    """Return the members in the slice, far ones first, with their corners, m."""
    found = []
    made = solids(solution.brief, solution.framing)
    for key, solid in made.items():
        member = solution.framing.members[key]
        if member.role in _NOT_SHOWN:
            continue
        seen = view.at(solid.vertices)
        depth = abs(float(seen[:, 2].mean()))
        if member.role in _STANDING and key != about:
            ends = view.at(np.array(solution.framing.ends(key)))
            if np.abs(ends[:, 2]).max() > _NEAR:
                continue
        for block in seen.reshape(-1, 8, 3):
            part = between(block, -_NEAR, _NEAR)
            if len(part) > 2 and np.ptp(part[:, 0]) > 1e-6:
                stands = member.role in _STANDING
                found.append((stands, -depth, member, part[:, :2].tolist()))
    found.sort(key=lambda one: one[:2])
    return [(member, part) for _, _, member, part in found]


def _walls(solution: Solution, view: _View) -> list[tuple[float, str, bool]]:
    """Return place, words and whether it bears of each wall that the section meets."""
    plan = solution.framing.plan
    assert plan is not None
    out = []
    for edge in plan.edges:
        at = _meeting(view, edge.start, edge.way, edge.length)
        if at is not None:
            out.append((at[0], "", True))
    for wall in solution.brief.walls:
        line = line_of(wall)
        start = np.array(line.point(line.low)[:2])
        at = _meeting(view, start, np.array(line.way), line.high - line.low)
        if at is None:
            continue
        stands = wall.bearing and wall_stands_at(wall, line.low + at[1])
        note = "" if stands else (" (gap)" if wall.bearing else " (partition)")
        out.append((at[0], f"wall {wall.name}{note}", stands))
    return sorted(out)


def _meeting(
    view: _View, start: Floats, way: Floats, length: float
) -> tuple[float, float] | None:
    """Return where the section meets a plan line: along it, and along the line, m."""
    across = float(view.way[0] * way[1] - view.way[1] * way[0])
    if abs(across) < 1e-6:
        return None
    gap = start - view.origin
    along = float(gap[0] * way[1] - gap[1] * way[0]) / across
    u = float(gap[0] * view.way[1] - gap[1] * view.way[0]) / across
    return (along, u) if -INCH < u < length + INCH else None


def _draw_walls(sketch: Sketch, walls: list[tuple[float, str, bool]]) -> None:
    """Add the walls from the ceiling line down."""
    half = 2.25 * INCH
    for at, words, stands in walls:
        sketch.box(
            (at - half, -_BELOW), (at + half, 0.0),
            fill="#dfe1de" if stands else "none",
            width=0.8, dash="" if stands else "3 3", ink=INK if stands else SOFT,
        )  # fmt: skip
        if words:
            sketch.text((at, -_BELOW * 0.62), words, 10, "start", (12, 4))


def _dimensions(
    sketch: Sketch,
    solution: Solution,
    view: _View,
    walls: list[tuple[float, str, bool]],
    show: Show,
    top: float,
) -> None:
    """Add the distances of walls, and the height of each purlin that is cut."""
    places = [at for at, _, _ in walls]
    for a, b in pairwise(places):
        sketch.dimension((a, -_BELOW), (b, -_BELOW), show.length(b - a), -22)
    for purlin in solution.framing.of_role(Role.PURLIN):
        start, end = view.at(np.array(solution.framing.ends(purlin.key)))
        if start[2] * end[2] > 0 or abs(end[2] - start[2]) < INCH:
            continue
        plane = solution.framing.plan.plane(str(purlin.slope))  # type: ignore[union-attr]
        turn = float(plane.uphill @ view.way)
        if abs(turn) < _SQUARE:
            continue
        part = start[2] / (start[2] - end[2])
        u, z = (float(v) for v in start[:2] + (end[:2] - start[:2]) * part)
        place = view.origin + view.way * u
        away = float((place - plane.polygon[0]) @ plane.uphill)
        a, b = sorted((u, u - away * (1.0 if turn > 0 else -1.0)))
        sketch.dimension((a, top + 0.3), (b, top + 0.3), show.length(away), 12)
        sketch.line([(u, z), (u, top + 0.3)], 0.5, SOFT, "2 3")


def _forces(
    sketch: Sketch, solution: Solution, cut: Cut, view: _View, show: Show
) -> str:
    """Add the push of each strut of the slice, by the frame and by hand."""
    if solution.frame is None or solution.model is None or not cut.combination:
        return "Nothing here is analysed, so no force is drawn."
    row = solution.combinations.row(cut.combination)
    struts = solution.framing.of_role(Role.STRUT)
    taken: list[float] = []
    for strut in sorted(struts, key=lambda m: m.key != cut.about):
        ends = view.at(np.array(solution.framing.ends(strut.key)))
        if strut.key != cut.about and np.abs(ends[:, 2]).max() > _NEAR:
            continue
        foot, top = ends[0, :2], ends[1, :2]
        if any(abs(float(foot[0]) - at) < _ROOM for at in taken):
            continue
        taken.append(float(foot[0]))
        if strut.key not in solution.model.members:
            sketch.text(foot.tolist(), f"{strut.key}: no load path", 10.5,
                        shift=(0, 26), bold=True)  # fmt: skip
            continue
        _force(sketch, solution, strut, row, foot, top, show)
    words = combination_words(solution.combinations, cut.combination)
    return f"Forces by the frame analysis in {words}, by hand beside them in italics."


def _force(
    sketch: Sketch,
    solution: Solution,
    strut: Member,
    row: int,
    foot: Floats,
    top: Floats,
    show: Show,
) -> None:
    """Add the push of one strut beside it, and what its foot does to its carrier."""
    push = float(frame_push(solution, strut.key)[row])
    ink = OVER if solution.members[strut.key].analysis_passes is False else INK
    middle = foot * 0.45 + top * 0.55
    words = f"{strut.key}  {show.force(push)}" if push > 0 else f"{strut.key}  slack"
    sketch.text(middle.tolist(), words, 10.5, "start", (12, -6), ink=ink, bold=True)
    hand, name = solution.hand.struts.get(strut.key), solution.combinations.names[row]
    if hand is not None and name in solution.hand.combinations:
        by_hand = float(hand.axial[solution.hand.combinations.index(name)])
        sketch.text(
            middle.tolist(), f"by hand {show.force(by_hand)}", 10.5, "start", (12, 8),
            slant=True,
        )  # fmt: skip
        angle = math.degrees(hand.angle)
        words = f"{show.length(hand.length)}, {angle:.0f}° from level"
        sketch.text(middle.tolist(), words, 10.5, "start", (12, 21))
    on = solution.members[strut.key].stands_on
    under = solution.members.get(on.name) if on is not None else None
    if under is not None and under.utilisation is not None:
        sketch.text(
            foot.tolist(), f"{under.key}: {use(under.utilisation)} of its limit", 10.5,
            shift=(0, 30), bold=True, ink=OVER if under.utilisation > 1 else INK,
        )  # fmt: skip
