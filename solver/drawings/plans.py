"""Framing plans to scale: the roof, and the ceiling with what carries it.

Draws the solids of the framing from above, whatever the outline; like members side by
side are told once, with the mark of the member schedule.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

import numpy as np

from ..basis.sections import Section
from ..brief.model import Brief
from ..brief.outline import is_outline, plan_corners
from ..framing.model import Member, Role
from ..framing.plan import gaps_of, line_of
from ..framing.solids import member_solid
from ..solve import Solution
from ..units import INCH, show_length, show_pitch
from .board import BLOCK, EDGE, Board, board, north
from .cutting import cuts
from .ink import Dash, Drawing, Floats, Layer, readable
from .runs import Run, runs
from .view import plan_view, slice_outlines

LAYERS = {
    Role.PURLIN: Layer.PURLINS, Role.RIDGE_BOARD: Layer.RIDGE,
    Role.RIDGE_BEAM: Layer.RIDGE, Role.STRUT: Layer.STRUTS, Role.WEB: Layer.STRUTS,
    Role.COLLAR_TIE: Layer.TIES, Role.RAFTER_TIE: Layer.TIES, Role.POST: Layer.POSTS,
    Role.JACK_STUD: Layer.POSTS, Role.BEAM: Layer.BEAMS, Role.HEADER: Layer.BEAMS,
    Role.CEILING_JOIST: Layer.JOISTS, Role.STUB_JOIST: Layer.JOISTS,
    Role.PLATE: Layer.WALLS, Role.CURB: Layer.RIDGE, Role.LEDGER: Layer.RIDGE,
    Role.KNEE_STUD: Layer.POSTS,
}  # fmt: skip
CEILING = (Role.CEILING_JOIST, Role.STUB_JOIST, Role.BEAM, Role.HEADER, Role.POST)
_BELOW = (Role.PURLIN, Role.STRUT, Role.COLLAR_TIE, Role.RAFTER_TIE, Role.WEB)
_NOT_ON_ROOF = (*CEILING, Role.PLATE, Role.JACK_STUD, Role.KNEE_STUD, Role.WEB)
_HALF_WALL = 2.25 * INCH
_TEXT = 2.1  # mm


def roof_plan(solution: Solution, marks: Mapping[str, str]) -> Drawing:
    """Return the framing plan of the roof.

    Args:
        solution: the solved roof.
        marks: of the schedule, by member.
    """
    made = _empty(solution, "roof_plan", "Roof framing plan", "1")
    _corners(made, solution, Dash.HIDDEN)
    _eaves(made, solution)
    members = [
        m for m in solution.framing.members.values() if m.role not in _NOT_ON_ROOF
    ]
    for member in sorted(members, key=lambda m: m.role not in _BELOW):
        _member(made, solution, member, Dash.HIDDEN if member.role in _BELOW else None)
    _tell(made, solution, members, marks)
    _measured(made, solution)
    _cut_lines(made, solution)
    _purlin_places(made, solution)
    pitch = show_pitch(solution.brief.roof.pitch, solution.brief.units)
    _note(made, f"Pitch {pitch} where no other is given. Dashed: below the rafters.")
    return made.drawing


def ceiling_plan(solution: Solution, marks: Mapping[str, str]) -> Drawing:
    """Return the framing plan of the ceiling."""
    made = _empty(solution, "ceiling_plan", "Ceiling framing plan", "2")
    _corners(made, solution, Dash.FULL)
    _walls(made, solution)
    members = [m for m in solution.framing.members.values() if m.role in CEILING]
    for member in members:
        _member(made, solution, member, None)
    _tell(made, solution, members, marks)
    _feet(made, solution)
    _measured(made, solution)
    _cut_lines(made, solution)
    _note(made, "Circle with a cross: foot of a brace. Thick: bearing wall; thin: "
          "partition.")  # fmt: skip
    return made.drawing


def corners_of(brief: Brief) -> Floats:
    """Return the corners of the plan in order, (n, 2) m."""
    if is_outline(brief):
        return np.array([corner.at for corner in plan_corners(brief)])
    a, b = brief.footprint.length, brief.footprint.width
    return np.array([(0.0, 0.0), (a, 0.0), (a, b), (0.0, b)])


def _empty(solution: Solution, name: str, title: str, number: str) -> Board:
    """Return the sheet of a plan."""
    brief = solution.brief
    corners, over = corners_of(brief), brief.roof.overhang
    low, high = corners.min(axis=0) - over, corners.max(axis=0) + over
    made = board(name, title, brief.name, low, high, brief.units, number)
    north(made)
    return made


def _corners(made: Board, solution: Solution, dash: Dash) -> None:
    """Add the outer walls: the plate line and its inner face."""
    corners = corners_of(solution.brief)
    made.drawing.outline(made.at(corners), Layer.WALLS, 0.35, dash)
    if dash is Dash.FULL:
        inner = _inset(corners, 2 * _HALF_WALL)
        made.drawing.outline(made.at(inner), Layer.WALLS, 0.25)


def _inset(corners: Floats, by: float) -> Floats:
    """Return a polygon moved inward; counter-clockwise or not."""
    along = np.roll(corners, -1, axis=0) - corners
    unit = along / np.hypot(*along.T)[:, None]
    x, y = corners.T
    area = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
    inward = np.column_stack((-unit[:, 1], unit[:, 0])) * np.sign(area)
    out = []
    for n, corner in enumerate(corners):
        a, b = inward[n - 1], inward[n]
        cosine = 1 + float(a @ b)
        out.append(corner + by * (a + b) / max(cosine, 0.1))
    return np.array(out)


def _eaves(made: Board, solution: Solution) -> None:
    """Add the edge of the roof, the planes' own where they are known."""
    form, over = solution.framing.form, solution.brief.roof.overhang
    if form is not None:
        for plane in form.planes:
            edge = made.at(plane.overhang3[:, :2])
            made.drawing.outline(edge, Layer.OUTLINE, 0.13)
        return
    corners = corners_of(solution.brief)
    low, high = corners.min(axis=0), corners.max(axis=0)
    rake = solution.brief.roof.rake_overhang
    past = np.array((rake, over))
    made.drawing.box(made.at(low - past), made.at(high + past), Layer.OUTLINE, 0.18)


def _member(made: Board, solution: Solution, member: Member, dash: Dash | None) -> None:
    """Add a piece as seen from above."""
    solid = member_solid(solution.brief, solution.framing, member.key)
    layer = LAYERS.get(member.role, Layer.RAFTERS)
    for outline in slice_outlines(solid, plan_view(), -np.inf, np.inf):
        made.drawing.outline(made.at(np.array(outline)), layer, 0.18, dash or Dash.FULL)


def _walls(made: Board, solution: Solution) -> None:
    """Add the walls inside with their gaps, and their names."""
    for wall in solution.brief.walls:
        line, gaps = line_of(wall), gaps_of(wall)
        edges = [line.low, *(v for gap in gaps for v in gap), line.high]
        width, fill = (0.35, "#d5d8d5") if wall.bearing else (0.13, "")
        side = _HALF_WALL * np.array([-line.way[1], line.way[0]])
        for a, b in zip(edges[::2], edges[1::2], strict=True):
            start, end = (np.array(line.point(u)[:2]) for u in (a, b))
            ring = [start - side, end - side, end + side, start + side]
            made.drawing.outline(
                [made.at(p) for p in ring], Layer.WALLS, width, fill=fill
            )
        turn = readable(float(np.degrees(np.arctan2(line.way[1], line.way[0]))))
        rise = np.radians(turn)
        reads = np.array([np.cos(rise), np.sin(rise)])
        ends = (np.array(line.point(u)[:2]) for u in (line.low, line.high))
        spot = made.at(min(ends, key=lambda p: float(p @ reads)))
        spot = spot + 4.0 * reads + 1.6 * np.array([-reads[1], reads[0]])
        made.drawing.say(spot, f"wall {wall.name}", _TEXT, turn=turn)


def _tell(
    made: Board, solution: Solution, members: list[Member], marks: Mapping[str, str]
) -> None:
    """Add the marks: once for a run of like members, along each one that is alone."""
    taken: list[tuple[Floats, float]] = []
    for run in sorted(runs(solution.framing, members, marks), key=_first):
        role = solution.framing.members[run.keys[0]].role
        if role in (Role.STRUT, Role.WEB) or not run.mark:
            continue
        words = _what(solution, run)
        if len(run.keys) > 2:
            _run(made, run, words, taken)
        else:
            for key, ends in zip(run.keys, run.ends, strict=True):
                one = _named(solution, key, run.mark)
                _alone(made, made.at(ends), one, taken)


def _first(run: Run) -> tuple[bool, int]:
    """Return the order in which runs are told: the long ones first."""
    return len(run.keys) < 3, -len(run.keys)


def _named(solution: Solution, key: str, mark: str) -> str:
    """Return mark and size of a member."""
    return f"{mark} {_size(solution.framing.members[key].section)}"


def _size(section: Section) -> str:
    """Return a size with its plies."""
    return f"{section.plies}-{section.name}" if section.plies > 1 else section.name


def _what(solution: Solution, run: Run) -> str:
    """Return what a run is."""
    said = _named(solution, run.keys[0], run.mark)
    if len(run.keys) < 2:
        return said
    spacing = show_length(run.spacing, solution.brief.units)
    return f"{said}, {len(run.keys)} at {spacing}"


def _run(made: Board, run: Run, words: str, taken: list[tuple[Floats, float]]) -> None:
    """Add an arrow across a run with its words."""
    ends = made.at(run.ends.reshape(-1, 2)).reshape(-1, 2, 2)
    along = ends[0, 1] - ends[0, 0]
    for part in (0.5, 0.38, 0.62, 0.27, 0.73):
        places = ends[:, 0] + part * (ends[:, 1] - ends[:, 0])
        a, b = places[0], places[-1]
        middle = (a + b) / 2
        if all(np.hypot(*(middle - t)) > 0.5 * r + 6.0 for t, r in taken):
            break
    across = (b - a) / max(float(np.hypot(*(b - a))), 1e-9)
    layer = Layer.WORDS
    made.drawing.line([a, b], layer, 0.13)
    for place, way in ((a, 1.0), (b, -1.0)):
        side = along / np.hypot(*along)
        tip = place + way * across * 2.2
        made.drawing.outline([place, tip + 0.5 * side, tip - 0.5 * side], layer, 0.1,
                             fill="#22282a")  # fmt: skip
    turn = readable(float(np.degrees(np.arctan2(across[1], across[0]))))
    rise = np.radians(turn)
    spot = middle + 1.0 * np.array([-np.sin(rise), np.cos(rise)])
    made.drawing.say(spot, words, _TEXT, "middle", turn, bold=True)
    taken.append((middle, len(words) * _TEXT * 0.7))


def _alone(
    made: Board, ends: Floats, words: str, taken: list[tuple[Floats, float]]
) -> None:
    """Add a mark along a member, where no other words are."""
    along = ends[1] - ends[0]
    length = float(np.hypot(*along))
    wide = len(words) * _TEXT * 0.62
    turn = readable(float(np.degrees(np.arctan2(along[1], along[0]))))
    rise = np.radians(turn)
    if length < 4.0:  # seen on end
        made.drawing.say(ends[0] + (1.6, 1.6), words, _TEXT)
        return
    for part in (0.5, 0.3, 0.7, 0.15, 0.85):
        spot = ends[0] + part * along
        if all(np.hypot(*(spot - t)) > 0.3 * (r + wide) + 2.0 for t, r in taken):
            break
    if wide > length:
        words = words.split()[0]
    spot = spot + 1.1 * np.array([-np.sin(rise), np.cos(rise)])
    made.drawing.say(spot, words, _TEXT, "middle", turn)
    taken.append((spot, wide))


def _feet(made: Board, solution: Solution) -> None:
    """Add the feet of braces, and the lean of each."""
    for strut in solution.framing.of_role(Role.STRUT):
        foot, top = (made.at(p[:2]) for p in solution.framing.ends(strut.key))
        if np.hypot(*(top - foot)) > 1.0:
            made.drawing.line([foot, top], Layer.STRUTS, 0.18, Dash.HIDDEN)
        ring = [
            foot + 1.3 * np.array([np.cos(t), np.sin(t)])
            for t in np.linspace(0, 2 * np.pi, 17)[:-1]
        ]
        made.drawing.outline(ring, Layer.STRUTS, 0.3)
        for x, y in ((0.92, 0.92), (0.92, -0.92)):
            arm = np.array((x, y))
            made.drawing.line([foot - arm, foot + arm], Layer.STRUTS, 0.3)


def _measured(made: Board, solution: Solution) -> None:
    """Add the length of every side, and the extents where the plan has corners more."""
    corners, units = corners_of(solution.brief), solution.brief.units
    x, y = corners.T
    turns = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) > 0
    out = solution.brief.roof.overhang * 1000.0 / made.scale + 8.0
    for a, b in pairwise([*corners, corners[0]]):
        length = float(np.hypot(*(b - a)))
        made.drawing.measure(
            made.at(a), made.at(b), -out if turns else out, show_length(length, units)
        )
    low, high = corners.min(axis=0), corners.max(axis=0)
    for axis, away in ((0, -out - 9.0), (1, out + 9.0)):
        if _has_whole_side(corners, axis):
            continue
        far = low.copy()
        far[axis] = high[axis]
        said = show_length(float(high[axis] - low[axis]), units)
        made.drawing.measure(made.at(low), made.at(far), away, said)


def _has_whole_side(corners: Floats, axis: int) -> bool:
    """Return whether one side is as long as the plan, and at its low edge."""
    across = corners[:, 1 - axis]
    on_edge = np.abs(across - across.min()) < INCH / 8
    runs = np.abs(np.roll(corners, -1, axis=0) - corners)[:, axis]
    whole = runs > np.ptp(corners[:, axis]) - INCH / 8
    return bool(np.any(whole & on_edge & np.roll(on_edge, -1)))


def _cut_lines(made: Board, solution: Solution) -> None:
    """Add where the sections are taken: a heavy stroke with a letter at either end."""
    corners = corners_of(solution.brief)
    rows = 1 if all(_has_whole_side(corners, axis) for axis in (0, 1)) else 2
    clear = 5.0 + 9.0 * rows  # mm, beyond the dimensions
    over = solution.brief.roof.overhang + clear * made.scale / 1000.0
    for letter, _, place, along in cuts(solution):
        reach = (corners - place[:2]) @ along
        for end, way in ((reach.min() - over, -1.0), (reach.max() + over, 1.0)):
            a = made.at(place[:2] + end * along)
            b = a + way * 3.5 * along
            made.drawing.line([a, b], Layer.SYMBOLS, 0.5)
            spot = b + way * 2.2 * along - (0.9, 0.9)
            made.drawing.say(spot, letter, 2.8, layer=Layer.SYMBOLS, bold=True)


def _purlin_places(made: Board, solution: Solution) -> None:
    """Add how far purlin lines lie from their plates, on a rectangle."""
    if is_outline(solution.brief):
        return
    width, units = solution.brief.footprint.width, solution.brief.units
    for purlin in solution.framing.of_role(Role.PURLIN):
        start, end = solution.framing.ends(purlin.key)
        if abs(start[1] - end[1]) > INCH or purlin.slope not in ("S", "N"):
            continue
        base = 0.0 if purlin.slope == "S" else width
        a, b = sorted((base, float(start[1])))
        x = float(max(start[0], end[0]))
        made.drawing.measure(
            made.at((x, a)), made.at((x, b)), -4.0 - _clear(made, solution, x),
            show_length(b - a, units),
        )  # fmt: skip


def _clear(made: Board, solution: Solution, x: float) -> float:
    """Return mm from a place to the east edge of the plan."""
    east = float(corners_of(solution.brief)[:, 0].max())
    return max(0.0, (east - x) * 1000.0 / made.scale)


def _note(made: Board, words: str) -> None:
    """Add a line of words over the title block."""
    made.drawing.say((EDGE + 125.0, EDGE + BLOCK + 1.6), words, 1.9)
