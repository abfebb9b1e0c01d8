"""Sections to scale: through what is worst, and at right angles to it.

Each is a slice of the framing's solids, whatever the outline; sizes and marks are those
of the member schedule.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np

from ..framing.model import Member, Role, SupportKind
from ..framing.solids import member_solid
from ..solve import Solution
from ..trace.wording import role_word
from ..units import FOOT, INCH, show_length, show_pitch
from .board import EDGE, Board, board
from .cutting import cuts
from .ink import Dash, Drawing, Floats, Layer
from .plans import LAYERS
from .view import Outline, View, slice_outlines, upright

_STOREY = 8 * FOOT
_HALF_WALL = 2.25 * INCH
_LINE = 5.0  # mm from line to line of the words on a side
_TEXT = 2.1  # mm
_GROUND = (SupportKind.SIDEWAYS, SupportKind.STRAPPED)


@dataclass(frozen=True, eq=False)
class _Slice:
    """A slice and what is in it."""

    view: View
    half: float
    pieces: list[tuple[Member, list[Outline]]]
    walls: list[tuple[str, float, float, float]]  # owner, from, to, top; m

    @property
    def low(self) -> tuple[float, float]:
        """Lower corner, m."""
        return self._box(min)

    @property
    def high(self) -> tuple[float, float]:
        """Upper corner, m."""
        return self._box(max)

    def _box(self, end: object) -> tuple[float, float]:
        places = np.array([p for _, lines in self.pieces for o in lines for p in o])
        low, high = places.min(axis=0), places.max(axis=0)
        floor = min(-_STOREY, float(low[1]))
        if end is min:
            return float(low[0]), floor - 0.25
        return float(high[0]), float(high[1])


def sections(solution: Solution, marks: Mapping[str, str]) -> list[Drawing]:
    """Return section A through what is worst, and B at right angles to it.

    Args:
        solution: the solved roof.
        marks: of the schedule, by member.
    """
    out: list[Drawing] = []
    for n, (letter, words, place, along) in enumerate(cuts(solution), 3):
        found = _slice(solution, upright(place, along))
        if found.pieces:
            title = f"Section {letter}, {words}"
            out.append(_drawn(solution, found, marks, letter, title, str(n)))
    return out


def _slice(solution: Solution, view: View) -> _Slice:
    """Return what a view shows within half a rafter spacing of its plane."""
    half = solution.brief.rafters.spacing / 2 + INCH
    pieces = []
    for member in solution.framing.members.values():
        if member.role is Role.PLATE:
            continue
        solid = member_solid(solution.brief, solution.framing, member.key)
        lines = slice_outlines(solid, view, -half, half)
        if lines:
            pieces.append((member, lines))
    return _Slice(view, half, pieces, list(_walls(solution, view, half)))


def _walls(
    solution: Solution, view: View, half: float
) -> Iterator[tuple[str, float, float, float]]:
    """Yield owner, extent and top of the walls and footings in a slice.

    Supports of one wall that stand close together are of one stretch of it, seen
    lengthwise.
    """
    found: dict[str, list[tuple[float, float]]] = {}
    for support in solution.framing.supports:
        if support.owner[:2] not in ("W-", "F-") or support.kind in _GROUND:
            continue
        x, top, away = (
            float(v) for v in view.at(solution.framing.points[support.node])[0]
        )
        if abs(away) <= half:
            found.setdefault(support.owner, []).append((x, top))
    near = max(2.5 * half, 6 * _HALF_WALL)
    for owner, places in found.items():
        start = last = sorted(places)[0]
        for place in [*sorted(places)[1:], (np.inf, 0.0)]:
            if place[0] - last[0] > near:
                yield owner, start[0], last[0], start[1]
                start = place
            last = place


def _drawn(
    solution: Solution, found: _Slice, marks: Mapping[str, str], letter: str,
    title: str, number: str,
) -> Drawing:  # fmt: skip
    """Return the sheet of one section."""
    brief = solution.brief
    made = board(
        f"section_{letter.lower()}", title, brief.name, found.low, found.high,
        brief.units, number,
    )  # fmt: skip
    _below(made, found)
    order = list(Role)
    for member, lines in sorted(found.pieces, key=lambda p: -order.index(p[0].role)):
        for outline in lines:
            layer = LAYERS.get(member.role, Layer.RAFTERS)
            made.drawing.outline(
                made.at(np.array(outline)), layer, 0.25, fill="#f7f4ec"
            )
    _tell(made, solution, found, marks)
    _measured(made, solution, found)
    return made.drawing


def _below(made: Board, found: _Slice) -> None:
    """Add walls, footings and the floor."""
    floor = found.low[1] + 0.25
    for owner, x0, x1, top in found.walls:
        if owner.startswith("F-"):
            low, high = (x0 - 0.25, floor - 0.22), (x1 + 0.25, floor)
        else:
            low, high = (x0 - _HALF_WALL, floor), (x1 + _HALF_WALL, min(top, 0.0))
        made.drawing.box(made.at(low), made.at(high), Layer.WALLS, 0.25, "#e7e9e7")
    ends = [(found.low[0], floor), (found.high[0], floor)]
    made.drawing.line(made.at(np.array(ends)), Layer.WALLS, 0.35)


def _tell(
    made: Board, solution: Solution, found: _Slice, marks: Mapping[str, str]
) -> None:
    """Add mark, size and lumber of one piece of each kind, with a line to it."""
    kinds: dict[tuple[object, ...], tuple[Member, Floats]] = {}
    for member, lines in found.pieces:
        points = np.array([p for o in lines for p in o])
        alike = member.role, member.section, marks.get(member.key, "")
        known = kinds.get(alike)
        reach = np.ptp(points, axis=0).max()
        if known is None or reach > np.ptp(known[1], axis=0).max() + 1e-9:
            kinds[alike] = member, points
    rows = sorted(kinds.values(), key=lambda one: -float(one[1][:, 1].mean()))
    middle = (found.low[0] + found.high[0]) / 2
    sides: dict[bool, list[tuple[Member, Floats]]] = {True: [], False: []}
    for n, (member, points) in enumerate(rows):
        at = float(points[:, 0].mean())
        right = n % 2 == 0 if abs(at - middle) < 0.4 else at > middle
        sides[right].append((member, points))
    for right, listed in sides.items():
        _column(made, solution, found, listed, marks, right)


def _column(
    made: Board, solution: Solution, found: _Slice,
    listed: list[tuple[Member, Floats]], marks: Mapping[str, str], right: bool,
) -> None:  # fmt: skip
    """Add the words of one side, one below the other, clear of the roof."""
    top = made.drawing.size[1] - EDGE - 6.0
    x = made.drawing.size[0] - 14.0 if right else 14.0
    anchor = "end" if right else "start"
    told: list[tuple[str, float, Floats]] = []
    for member, points in listed:
        place = made.at(points.mean(axis=0))
        if len(points) <= 8:
            place = made.at((points.min(axis=0) + points.max(axis=0)) / 2)
        words = _words(solution, member, marks)
        told.append((words, len(words) * _TEXT * 0.6 + 1.5, place))
    inward = -1.0 if right else 1.0
    bend = x + inward * max((wide for _, wide, _ in told), default=0.0)
    heights = [top - _LINE * n for n in range(len(told))]
    order = uncrossed(bend, heights, [place for *_, place in told])
    for y, at in zip(heights, order, strict=True):
        words, wide, place = told[at]
        made.drawing.say((x, y), words, _TEXT, anchor)
        way = [(x + inward * wide, y + 0.8), (bend, y + 0.8), place]
        made.drawing.line(way, Layer.WORDS, 0.1)
        made.drawing.outline(_dot(place), Layer.WORDS, 0.1, fill="#22282a")


def uncrossed(x: float, heights: list[float], places: list[Floats]) -> list[int]:
    """Return which place each height leads to so that no two lines cross.

    Two that cross change places. Both together are then shorter, and there are few
    orders, so that this ends.

    Args:
        x: mm, where all lines begin.
        heights: mm, of their beginnings, from the top down.
        places: mm, what they lead to.
    """
    order = list(range(len(places)))

    def crossing() -> tuple[int, int] | None:
        lines = [
            (np.array([x, y]), np.asarray(places[at], dtype=float))
            for y, at in zip(heights, order, strict=True)
        ]
        pairs = combinations(range(len(lines)), 2)
        return next((p for p in pairs if _cross(*lines[p[0]], *lines[p[1]])), None)

    while (found := crossing()) is not None:
        n, k = found
        order[n], order[k] = order[k], order[n]
    return order


def _cross(a: Floats, b: Floats, c: Floats, d: Floats) -> bool:
    """Return whether two stretches of line cross."""

    def side(p: Floats, q: Floats, r: Floats) -> float:
        return float((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]))

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def _dot(place: Floats) -> list[Floats]:
    """Return a small dot."""
    turns = np.linspace(0, 2 * np.pi, 9)[:-1]
    return [place + 0.45 * np.array([np.cos(t), np.sin(t)]) for t in turns]


def _words(solution: Solution, member: Member, marks: Mapping[str, str]) -> str:
    """Return what a piece is."""
    brief, made = solution.brief, member.section
    size = f"{made.plies}-{made.name}" if made.plies > 1 else made.name
    spacing = ""
    if member.role in (Role.RAFTER, Role.JACK_RAFTER):
        spacing = f" at {show_length(brief.rafters.spacing, brief.units)}"
    elif member.role is Role.CEILING_JOIST and brief.ceiling_joists is not None:
        spacing = f" at {show_length(brief.ceiling_joists.spacing, brief.units)}"
    mark = marks.get(member.key, "")
    return (
        f"{mark} {role_word(member.role.value)} {size} {member.species} "
        f"{member.grade}{spacing}"
    ).strip()


def _measured(made: Board, solution: Solution, found: _Slice) -> None:
    """Add the distances of walls, the height of the ridge, purlins, and the pitch."""
    units, floor = solution.brief.units, found.low[1] + 0.25
    stands = sorted(
        {
            round(x, 3)
            for owner, *ends, _ in found.walls
            for x in ends
            if owner[:2] == "W-"
        }
    )
    for a, b in pairwise(stands):
        made.drawing.measure(
            made.at((a, floor)), made.at((b, floor)), -7.0, show_length(b - a, units)
        )
    if len(stands) > 2:
        ends = made.at((stands[0], floor)), made.at((stands[-1], floor))
        words = show_length(stands[-1] - stands[0], units)
        made.drawing.measure(*ends, -14.0, words)
    high = found.high[1]
    made.drawing.measure(
        made.at((found.low[0], 0.0)), made.at((found.low[0], high)), 5.0,
        show_length(high, units),
    )  # fmt: skip
    made.drawing.measure(
        made.at((found.low[0], floor)), made.at((found.low[0], 0.0)), 5.0,
        show_length(-floor, units),
    )  # fmt: skip
    made.drawing.line(
        [made.at((found.low[0], 0.0)), made.at((found.high[0], 0.0))],
        Layer.DIMENSIONS, 0.1, Dash.CENTRE,
    )  # fmt: skip
    for member, lines in found.pieces:
        if member.role is Role.PURLIN and stands:
            _purlin(made, solution, found, lines, stands)
    _pitch(made, solution, found)


def _purlin(
    made: Board, solution: Solution, found: _Slice, lines: list[Outline],
    stands: list[float],
) -> None:  # fmt: skip
    """Add how far a purlin that is cut across stands from the wall on its side."""
    points = np.array([p for o in lines for p in o])
    if np.ptp(points[:, 0]) > 0.5:
        return
    x = float((points[:, 0].min() + points[:, 0].max()) / 2)
    left = x < (stands[0] + stands[-1]) / 2
    a, b = (stands[0], x) if left else (x, stands[-1])
    y = made.at((0.0, 0.0))[1]
    ends = [np.array([made.at((v, 0.0))[0], y]) for v in (a, b)]
    words = show_length(b - a, solution.brief.units)
    made.drawing.measure(ends[0], ends[1], -9.0, words)


def _pitch(made: Board, solution: Solution, found: _Slice) -> None:
    """Add the pitch of the longest sloping piece, as a triangle and in words."""
    sloping = [
        (float(np.ptp(np.array(lines[0]), axis=0)[0]), m)
        for m, lines in found.pieces
        if m.role in (Role.RAFTER, Role.JACK_RAFTER)
    ]
    if not sloping:
        return
    _, member = max(sloping, key=lambda one: one[0])
    start, end = found.view.at(np.array(solution.framing.ends(member.key)))
    run = float(end[0] - start[0])
    if abs(run) < 0.3:
        return
    pitch = float(end[1] - start[1]) / abs(run)
    way = np.sign(run)
    spot = made.at(start[:2] + 0.6 * (end - start)[:2])
    spot = spot + np.array((-way * 6.0, 9.0))
    corner = spot + np.array((way * 10.0, 0.0))
    tip = corner + np.array((0.0, 10.0 * pitch))
    made.drawing.outline([spot, corner, tip], Layer.SYMBOLS, 0.18)
    under = (spot + corner) / 2 - np.array((0.0, 3.2))
    made.drawing.say(under, show_pitch(pitch, solution.brief.units), _TEXT, "middle")
