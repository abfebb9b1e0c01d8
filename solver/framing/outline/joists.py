"""Ceiling joists over a drawn outline: by its convex parts, across the shorter span.

Where their lines end across the mouth of a wing they bear on what stands there: a wall
or beam that the brief states, or a bearing wall that is taken to stand there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ...basis.sections import section
from ...brief.model import Brief, JoistDirection, Mouths, OverWalls
from ..beams import BEAM_LAYER, beam_key
from ..ceiling_joists import Crossing, joist_key
from ..draft import Draft
from ..headers import header_over_gap
from ..hip_layout import hip_stock
from ..model import Role, SupportKind
from ..plan import TOUCH, line_of, wall_owner, wall_stands_at
from ..planes import along_of
from .cells import Cell, cells_of, normal_of
from .lines import join, line_rise, top_above_plate
from .plan import PARALLEL, Edge, OutlinePlan, layout_marks
from .plates import plate_key

Floats = NDArray[np.float64]
_BESIDE = 3 * TOUCH  # a joist this near a rafter is nailed to it
_CELL = 1000  # numbers of joist lines per part of the plan
_ALIKE = 0.01  # spans that differ by less are equal
_KERF = TOUCH / 8
_PAST = 5 * TOUCH  # so far from a valley's foot no joist meets it


@dataclass
class JoistLines:
    """What the joists of a plan yield besides members.

    Attributes:
        widths: key to the ceiling that it carries, m.
        lines: keys of each line of joists, and whether plates hold both its ends.
        mouths: owner to the two ends of a wall that was taken to stand there, m.
    """

    widths: dict[str, float] = field(default_factory=dict)
    lines: list[tuple[list[str], int]] = field(default_factory=list)
    mouths: dict[str, tuple[tuple[float, float], tuple[float, float]]] = field(
        default_factory=dict
    )


def add_joists(draft: Draft, plan: OutlinePlan) -> JoistLines:
    """Add all ceiling joists, where the brief has any."""
    out = JoistLines()
    if draft.brief.ceiling_joists is None:
        return out
    for number, cell in enumerate(cells_of(plan.edges), start=1):
        _CellJoists(draft, plan, cell, number, out).add()
    return out


def joist_way(brief: Brief, plan: OutlinePlan, cell: Cell) -> Floats:
    """Return the unit direction of the joists of a part, (2,).

    Square to the ridge over it, so that they tie its rafters; where no ridge passes
    over it the shorter span, and of equal spans the one square to the longest side of
    the house.
    """
    joists = brief.ceiling_joists
    assert joists is not None
    longest = max(plan.edges, key=lambda edge: edge.length)
    names = [name for name in cell.sides if name is not None]
    ways = [longest.outward, *(plan.edge(name).outward for name in names)]
    ways += [longest.way]
    spans = [cell.longest(way) for way in ways]
    least = min(spans)
    way = next(w for w, s in zip(ways, spans, strict=True) if s <= least * (1 + _ALIKE))
    ridge = _ridge_way(plan, cell)
    if ridge is not None:
        way = np.array([ridge[1], -ridge[0]])
    if joists.direction is JoistDirection.ALONG:
        way = np.array([-way[1], way[0]])
    normal = normal_of(way)
    return np.array([-normal[1], normal[0]])  # marks to the east: runs to the north


def _ridge_way(plan: OutlinePlan, cell: Cell) -> Floats | None:
    """Return the direction of the ridge that is longest over a part, or None."""
    best, most = None, TOUCH
    for line in plan.form.ridges:
        way = (line.end - line.start)[:2] / line.run
        length = cell.covered(line.start[:2], way, line.run)
        if length > most:
            best, most = way, length
    return best


class _CellJoists:
    """The joists of one convex part of the plan."""

    def __init__(
        self, draft: Draft, plan: OutlinePlan, cell: Cell, number: int, out: JoistLines
    ):
        self.draft, self.plan, self.cell, self.out = draft, plan, cell, out
        self.number = number
        joists = draft.brief.ceiling_joists
        assert joists is not None
        self.joists = joists
        self.way = joist_way(draft.brief, plan, cell)
        self.normal = normal_of(self.way)

    def add(self) -> None:
        """Add every line of joists of the part."""
        low, high = self.cell.extent(self.normal)
        marks = self._marks(low, high)
        padded = np.concatenate([[low], marks, [high]])
        widths = (padded[2:] - padded[:-2]) / 2
        for k, (mark, width) in enumerate(zip(marks, widths, strict=True)):
            chord = self.cell.chord(self.way, float(mark))
            if chord is not None and chord[1] - chord[0] > 1.0:
                self._add_line(k, float(mark), float(width), chord)

    def _marks(self, low: float, high: float) -> Floats:
        """Return the places of the lines, beside rafters that are near."""
        first, step = layout_marks(self.plan.form, self.normal, self.joists.spacing)
        count = max(0, math.floor((high - first) / step + 1e-9) + 1)
        marks = first + step * np.arange(count)
        near = self._rafter_marks()
        if len(near):
            found = near[np.abs(near[None, :] - marks[:, None]).argmin(axis=1)]
            marks = np.where(np.abs(found - marks) <= _BESIDE, found, marks)
        marks = np.array([self._past_corners(float(mark)) for mark in marks])
        at_low, at_high = (self._clear(at) for at in (low, high))
        inside = (marks > low + at_low - 1e-9) & (marks < high - at_high + 1e-9)
        marks = marks[inside]
        ends = [at for at, gap in ((low, at_low), (high, at_high)) if gap == 0.0]
        return np.unique(np.concatenate([marks, [at for at in ends if not len(marks)
                         or np.abs(marks - at).min() > _BESIDE]]))  # fmt: skip

    def _past_corners(self, mark: float) -> float:
        """Return a mark moved clear of a valley's foot, to where plates hold it."""
        for line in self.plan.form.valleys:
            corner = float(line.start[:2] @ self.normal)
            if abs(mark - corner) >= _PAST or line.start_node >= len(
                self.plan.form.outline.polygon
            ):
                continue
            moved = [corner + _PAST, corner - _PAST]
            return max(moved, key=self._plates_at)
        return mark

    def _plates_at(self, mark: float) -> int:
        """Return how many ends of a line at a mark lie on plates."""
        low, high = self.cell.extent(self.normal)
        chord = self.cell.chord(self.way, mark) if low < mark < high else None
        if chord is None:
            return -1
        return sum(self.cell.sides[n] is not None for n in chord[2:])

    def _rafter_marks(self) -> Floats:
        """Return where rafters stand that run as the joists do."""
        rows = [
            marks
            for plane, marks in zip(self.plan.form.planes, self.plan.marks, strict=True)
            if abs(float(along_of(plane) @ self.way)) < PARALLEL
        ]
        return np.unique(np.concatenate(rows)) if rows else np.zeros(0)

    def _clear(self, at: float) -> float:
        """Return how far from its end along the marks a part has room for joists.

        Beside an eave the end rafters and hips pass through, beside a gable a joist
        stands on the wall line, and beside a mouth joists of the next part end.
        """
        along = self.cell.polygon @ self.normal
        count = len(along)
        for n, name in enumerate(self.cell.sides):
            ends = along[n], along[(n + 1) % count]
            if max(abs(ends[0] - at), abs(ends[1] - at)) > 1e-3:
                continue
            if name is None:
                return 2 * _BESIDE
            edge = self.plan.edge(name)
            return 0.0 if edge.is_gable else self._clear_of_eave(edge)
        return self.joists.spacing / 2  # a slant or a point: no room there

    def _clear_of_eave(self, edge: Edge) -> float:
        """Return how far from an eave a joist clears what slopes over it, m."""
        brief, made = self.draft.brief, section(self.joists.size)
        plane = next(
            p
            for p, name in zip(self.plan.form.planes, self.plan.planes, strict=True)
            if name == edge.name
        )
        rafter = section(brief.rafters.size)
        top = top_above_plate(brief)
        plumb = rafter.depth * math.hypot(1.0, plane.pitch)
        clear = [(made.depth - top + plumb) / plane.pitch]
        stock = hip_stock(brief)
        deep = section(stock.size, stock.plies)
        for line in self.plan.form.hips:
            if self.plan.planes.index(edge.name) not in line.planes:
                continue
            way = line.end - line.start
            rise = float(way[2]) / abs(float(way[:2] @ edge.outward))
            under = line_rise(brief, self.plan, line)
            under -= deep.depth / 2 * line.length / line.run
            aside = abs(float(way[:2] @ edge.way)) / line.run
            clear.append((made.depth - under) / rise + deep.total_breadth / 2 * aside)
        return max(TOUCH, max(clear) - rafter.breadth / 2 - _KERF)

    def _point(self, mark: float, v: float) -> Floats:
        """Return a plan point of a line at ceiling level, (3,) m."""
        x, y = self.normal * mark + self.way * v
        return np.array([x, y, 0.0])

    def _add_line(
        self, k: int, mark: float, width: float, chord: tuple[float, float, int, int]
    ) -> None:
        """Add the joists of one line, from end to end, and what they bear on."""
        low, high, first, last = chord
        crossings = self._crossings(mark, low, high)
        cuts = [low, *(c.at for c in crossings if c.lapped), high]
        made, station = section(self.joists.size), _CELL * self.number + k
        middle = float(np.mean(self.cell.extent(self.normal)))
        side = 1 if mark <= middle else -1
        ends = [
            self._end_node(self._point(mark, at), self.cell.sides[n])
            for at, n in ((low, first), (high, last))
        ]
        points = [np.array(self.draft.points[ends[0]])]
        points += [self._point(mark, at) for at in cuts[1:-1]]
        points += [np.array(self.draft.points[ends[1]])]
        keys = []
        for bay, (a, b) in enumerate(pairwise(points), start=1):
            aside = made.breadth * (1 if bay % 2 else 2) * side
            key = joist_key(station, bay)
            added = self.draft.add(
                key, Role.CEILING_JOIST, a, b, self.joists,
                up=(0.0, 0.0, 1.0), station=station,
                offset=(*(self.normal * aside).tolist(), made.depth / 2),
            )  # fmt: skip
            self.out.widths[key] = width
            keys.append(key if added else "")
        plates = 0
        for key, node, n in ((keys[0], ends[0], first), (keys[-1], ends[1], last)):
            if key:
                plates += self._bear_at_end(key, node, self.cell.sides[n])
        bay = 0
        for crossing in crossings:
            here = [keys[bay]]
            if crossing.lapped:
                bay += 1
                here.append(keys[bay])
            self._bear([key for key in here if key], crossing, mark)
        whole = 0 if "" in keys else plates
        self.out.lines.append(([key for key in keys if key], whole))

    def _end_node(self, point: Floats, side: str | None) -> int:
        """Return the node at the end of a line: on a plate, or in a mouth."""
        if side is not None and self.draft.has(plate_key(side)):
            return join(self.draft, plate_key(side), point)
        return self.draft.node(point)

    def _bear_at_end(self, key: str, node: int, side: str | None) -> int:
        """Let the end of a line bear; return 1 where it does on a plate."""
        draft = self.draft
        if side is not None:
            draft.support(node, SupportKind.SEAT, f"W-{side}", key)
            return 1
        point = np.array(draft.points[node])
        for wall in draft.brief.walls:
            u = _place_on(wall, point)
            if wall.bearing and u is not None and wall_stands_at(wall, u):
                draft.support(node, SupportKind.BEARING, wall_owner(wall), key)
                return 0
        for beam in draft.brief.beams:
            name = beam_key(beam.name)
            if draft.has(name) and _place_on(beam, point) is not None:
                lower = draft.attach(name, point, BEAM_LAYER)
                draft.contact(key, name, node, lower)
                return 0
        if self.joists.mouths is Mouths.OPEN:
            draft.loose(key, point, "it ends in the mouth of a wing, on nothing")
        else:
            draft.support(node, SupportKind.BEARING, self._mouth_owner(point), key)
        return 0

    def _mouth_owner(self, point: Floats) -> str:
        """Return the owner of the wall that is taken to stand in a mouth."""
        count = len(self.cell.polygon)
        for n, name in enumerate(self.cell.sides):
            a, b = self.cell.polygon[n], self.cell.polygon[(n + 1) % count]
            way = (b - a) / np.hypot(*(b - a))
            gap = point[:2] - a
            if name is None and abs(way[0] * gap[1] - way[1] * gap[0]) < 1e-4:
                ends = sorted((tuple(a.tolist()), tuple(b.tolist())))
                for owner, known in self.out.mouths.items():
                    if np.allclose(known, ends, atol=1e-6):
                        return owner
                owner = f"W-M{len(self.out.mouths) + 1}"
                self.out.mouths[owner] = (ends[0], ends[1])
                return owner
        return "W-M1"

    def _crossings(self, mark: float, low: float, high: float) -> list[Crossing]:
        """Return the walls and beams that a line crosses between its ends, in order."""
        draft, found = self.draft, list[Crossing]()
        lined = [(b, True) for b in draft.brief.beams if b.carries_joists]
        lined = [(b, True) for b, _ in lined if draft.has(beam_key(b.name))]
        lined += [(w, False) for w in draft.brief.walls if w.bearing]
        for item, is_beam in lined:
            meeting = _meeting(self._point(mark, 0.0), self.way, item)
            if meeting is None or not low + TOUCH < meeting[0] < high - TOUCH:
                continue
            if any(abs(c.at - meeting[0]) <= TOUCH for c in found):
                continue
            owner = None
            if not is_beam and wall_stands_at(item, meeting[1]):
                owner = wall_owner(item)
            lapped = (item.joists or self.joists.over_walls) is OverWalls.LAPPED
            key = beam_key(item.name) if is_beam else None
            if not is_beam and owner is None:
                key = header_over_gap(draft, item, meeting[1])
            found.append(Crossing(meeting[0], owner, key, item.name, lapped))
        return sorted(found, key=lambda c: c.at)

    def _bear(self, keys: list[str], crossing: Crossing, mark: float) -> None:
        """Let joists bear where they cross a line, or name the loose ends."""
        where = self._point(mark, crossing.at)
        if crossing.owner is None and crossing.beam is None:
            for key in keys if crossing.lapped else ():
                reason = f"the joist ends over the gap in wall {crossing.name}"
                self.draft.loose(key, where, reason)
            return
        for key in keys:
            node = self.draft.attach(key, where)
            if crossing.owner is not None:
                self.draft.support(node, SupportKind.BEARING, crossing.owner, key)
            elif crossing.beam is not None:
                lower = self.draft.attach(crossing.beam, where, BEAM_LAYER)
                if all(c.upper_node != node for c in self.draft.contacts):
                    self.draft.contact(key, crossing.beam, node, lower)


def _place_on(item, point: Floats) -> float | None:  # noqa: ANN001 - a wall or a beam
    """Return the place along a wall or beam that a plan point lies on, or None."""
    line = line_of(item)
    u, aside = line.place(float(point[0]), float(point[1]))
    inside = line.low - TOUCH <= u <= line.high + TOUCH
    return u if abs(aside) <= TOUCH and inside else None


def _meeting(origin: Floats, way: Floats, item) -> tuple[float, float] | None:  # noqa: ANN001
    """Return where a line meets a wall or beam: along the line, and along it."""
    line = line_of(item)
    (x, y), (dx, dy) = line.origin, line.way
    across = float(way[0] * dy - way[1] * dx)
    if abs(across) < 1e-6:
        return None
    gap = x - float(origin[0]), y - float(origin[1])
    v = (gap[0] * dy - gap[1] * dx) / across
    u = (gap[0] * float(way[1]) - gap[1] * float(way[0])) / across
    return (v, u) if line.low - TOUCH < u < line.high + TOUCH else None
