"""Rafters over a drawn outline: commons, jacks and cripples, by where they end.

On each plane the layout's marks cut intervals up the slope; what stands at the two ends
of an interval says what the rafter is.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...basis.sections import section
from ...form import LineKind
from ..common_rafters import rafter_key
from ..draft import Draft
from ..hips import jack_key
from ..model import Role, SupportKind
from ..plan import TOUCH
from ..planes import along_of, to_plane
from ..roof_snow import plane_snow
from .lines import join, top_above_plate
from .plan import OutlinePlan
from .plates import plate_key

Floats = NDArray[np.float64]
_SHORTEST = 4 * TOUCH  # no framer cuts a shorter jack
_BESIDE = 1e-5  # m to either side of a mark, where a plane's corner may lie on it
_TOPS = (LineKind.RIDGE, LineKind.RAKE, LineKind.BREAK, LineKind.ABUTMENT)
_BOUNDS = (LineKind.RIDGE, LineKind.HIP, LineKind.VALLEY)


@dataclass(frozen=True)
class Interval:
    """A stretch of a plane up its slope.

    Attributes:
        low, high: m up from the eave on plan.
        foot, top: numbers of the polygon's sides that bound it.
    """

    low: float
    high: float
    foot: int
    top: int


def intervals(polygon: Floats, mark: float) -> list[Interval]:
    """Return where the line at a mark runs within a polygon, in its second axis.

    At a corner of the polygon both sides of the mark are looked at, and what they have
    in common is one interval.

    Args:
        polygon: (n, 2) m, along the eave and up the slope.
        mark: m along the eave.
    """
    found: list[Interval] = []
    for beside in (mark - _BESIDE, mark + _BESIDE):
        crossings = []
        for n, (a, b) in enumerate(
            zip(polygon, np.roll(polygon, -1, axis=0), strict=True)
        ):
            if min(a[0], b[0]) <= beside < max(a[0], b[0]):
                part = (mark - a[0]) / (b[0] - a[0])
                part = min(max(float(part), 0.0), 1.0)
                crossings.append((float(a[1] + (b[1] - a[1]) * part), n))
        crossings.sort()
        for (low, foot), (high, top) in zip(
            crossings[::2], crossings[1::2], strict=True
        ):
            found = _merged(found, Interval(low, high, foot, top))
    return sorted(found, key=lambda i: i.low)


def _merged(found: list[Interval], new: Interval) -> list[Interval]:
    """Return intervals with one more; those that overlap are one."""
    apart = [i for i in found if i.high <= new.low or new.high <= i.low]
    for old in found:
        if old in apart:
            continue
        low = old if old.low <= new.low else new
        high = old if old.high >= new.high else new
        new = Interval(low.low, high.high, low.foot, high.top)
    return [*apart, new]


def add_plane_rafters(draft: Draft, plan: OutlinePlan) -> None:
    """Add the rafters of every plane."""
    snowy = draft.brief.loads.snow is not None
    drifts = plane_snow(draft.brief, plan.form) if snowy else ()
    by_line = {number: key for key, number in plan.lines.items()}
    for n, plane in enumerate(plan.form.planes):
        edge = drifts[n].edge if drifts else None
        number = 0
        polygon = to_plane(plane, plane.polygon)
        beyond = to_plane(plane, plane.overhang3)
        for mark in plan.marks[n].tolist():
            for found in _parted(plan, n, mark, intervals(polygon, mark)):
                if found.high - found.low >= _SHORTEST:
                    rafter = _Rafter(draft, plan, n, mark, found, by_line)
                    rafter.add(number, _tails(beyond, mark, found), edge)
                number += 1


def _parted(
    plan: OutlinePlan, plane: int, mark: float, found: list[Interval]
) -> list[Interval]:
    """Return intervals cut where a supporting valley crosses them.

    The side of such a cut is counted down from -1, in the order of the extensions.
    """
    for n, extension in enumerate(plan.extensions):
        if extension.plane != plane:
            continue
        ends = np.array([extension.start, extension.end])
        (s0, v0), (s1, v1) = to_plane(plan.form.planes[plane], ends)
        if not min(s0, s1) + TOUCH < mark < max(s0, s1) - TOUCH:
            continue
        at = float(v0 + (v1 - v0) * (mark - s0) / (s1 - s0))
        out = []
        for i in found:
            if i.low < at < i.high:
                out += [Interval(i.low, at, i.foot, -1 - n),
                        Interval(at, i.high, -1 - n, i.top)]  # fmt: skip
            else:
                out.append(i)
        found = out
    return found


def _tails(beyond: Floats, mark: float, found: Interval) -> tuple[float, float]:
    """Return how far a rafter goes on past plate and high wall, m on plan."""
    over = intervals(beyond, mark)
    lows = [i.low for i in over if i.low < found.low + _BESIDE]
    highs = [i.high for i in over if i.high > found.high - _BESIDE]
    reach = (
        max((found.low - low for low in lows), default=0.0),
        max((high - found.high for high in highs), default=0.0),
    )
    low, high = (r if r >= TOUCH else 0.0 for r in reach)
    return low, high


class _Rafter:
    """One rafter of a plane, from where it starts to where it ends."""

    def __init__(
        self,
        draft: Draft,
        plan: OutlinePlan,
        number: int,
        mark: float,
        found: Interval,
        by_line: dict[int, str],
    ):
        self.draft, self.plan, self.by_line = draft, plan, by_line
        self.plane = plan.form.planes[number]
        self.name = plan.planes[number]
        self.mark, self.found = mark, found
        self.foot_line = self._line(found.foot)
        self.top_line = self._line(found.top)

    def _line(self, side: int) -> int:
        """Return the line of the form along a side of the plane."""
        if side < 0:
            return self.plan.extensions[-1 - side].line
        nodes = self.plane.nodes.tolist()
        ends = {nodes[side], nodes[(side + 1) % len(nodes)]}
        return next(
            n
            for n, line in enumerate(self.plan.form.lines)
            if {line.start_node, line.end_node} == ends
        )

    def _point(self, up: float) -> Floats:
        """Return the point of the plane at the mark, up the slope, (3,) m."""
        plane, along = self.plane, along_of(self.plane)
        origin = plane.polygon[0]
        base = along * self.mark
        base = base + plane.uphill * float((origin - base) @ plane.uphill)
        x, y = base + plane.uphill * up
        return np.array([x, y, float(plane.height(x, y))])

    def _end(self, number: int, point: Floats) -> int:
        """Return the node that the rafter ends on, at a line of the form."""
        line = self.plan.form.lines[number]
        for end in (line.start, line.end):
            if np.linalg.norm(end - point) < TOUCH - 1e-9:
                return self.draft.node(end)
        if line.kind is LineKind.EAVE:
            key = plate_key(self._edge(point))
        else:
            key = self.by_line.get(number, "")
        if self.draft.has(key):
            return join(self.draft, key, point)
        return self.draft.node(point)

    def _is_ridge_end(self, node: int) -> bool:
        """Return whether a ridge ends on a node, so that a king common does."""
        point = np.array(self.draft.points[node])
        return any(
            np.linalg.norm(end - point) < 1e-6
            for line in self.plan.form.ridges
            for end in (line.start, line.end)
        )

    def _crossed(self, foot: Floats, top: Floats) -> list[Floats]:
        """Return where the ledger under a small gable hangs on the rafter."""
        way, out = top - foot, []
        for line in self.plan.form.of_kind(LineKind.ABUTMENT):
            for end in (line.start, line.end):
                part = float((end - foot) @ way / (way @ way))
                away = float(np.linalg.norm(foot + part * way - end))
                if 0.0 < part < 1.0 and away < _BESIDE:
                    out.append(end)
        return out

    def _stiff(self, kinds: list[LineKind]) -> tuple[bool, bool]:
        """Return at which ends gussets make the rafter one with that of a break."""
        gambrel = self.draft.brief.roof.gambrel
        has_gussets = gambrel is not None and gambrel.gussets
        foot, top = (has_gussets and kind is LineKind.BREAK for kind in kinds)
        return foot, top

    def _tops_high_wall(self) -> bool:
        """Return whether the line that it ends on lies level over a high wall."""
        line = self.plan.form.lines[self.top_line]
        return self.plan.edge(self._edge((line.start + line.end) / 2)).top > 0

    def _edge(self, point: Floats) -> str:
        """Return the name of the side that a foot stands on."""

        def away(edge) -> float:  # noqa: ANN001
            along = float((point[:2] - edge.start) @ edge.way)
            aside = abs(float((point[:2] - edge.start) @ edge.outward))
            return aside + max(0.0, -along, along - edge.length)

        return min(self.plan.edges, key=away).name

    def add(self, number: int, tails: tuple[float, float], drift: float | None) -> None:
        """Add the rafter to the draft, with its seat.

        Args:
            number: of the rafter on its plane.
            tails: m on plan past the plate, and past the top of a high wall.
            drift: m on plan from the eave to where drifted snow begins, or None.
        """
        draft, plane, found = self.draft, self.plane, self.found
        kinds = [self.plan.form.lines[n].kind for n in (self.foot_line, self.top_line)]
        on_plate = kinds[0] is LineKind.EAVE
        foot = self._end(self.foot_line, self._point(found.low))
        top = self._end(self.top_line, self._point(found.high))
        at_ridge = kinds[1] in _TOPS
        from_below = on_plate or kinds[0] is LineKind.BREAK
        is_common = from_below and (at_ridge or self._is_ridge_end(top))
        ends = [np.array(draft.points[node]) for node in (foot, top)]
        if float(np.hypot(*(ends[1] - ends[0])[:2])) < TOUCH:
            return
        key = (rafter_key if is_common else jack_key)(self.name, number)
        depth = section(draft.brief.rafters.size).depth
        rise = top_above_plate(draft.brief) - depth / 2 * np.hypot(1.0, plane.pitch)
        uphill = np.array([*plane.uphill, plane.pitch])
        is_high = kinds[1] is LineKind.RAKE and self._tops_high_wall()
        start = ends[0] - uphill * (tails[0] if on_plate else 0.0)
        end = ends[1] + uphill * (tails[1] if is_high else 0.0)
        added = draft.add(
            key,
            Role.RAFTER if is_common else Role.JACK_RAFTER,
            start,
            end,
            draft.brief.rafters,
            up=tuple(float(v) for v in plane.normal),
            planar=False,
            slope=self.name,
            station=number,
            offset=(0.0, 0.0, float(rise)),
            stiff_ends=self._stiff(kinds),
        )
        if not added:
            return
        for point in (*ends, *self._crossed(*ends)):
            draft.attach(key, point)
        for node, kind, point in zip((foot, top), kinds, ends, strict=True):
            self._support(key, node, kind, point)
        if drift is not None and found.low + TOUCH < drift < found.high - TOUCH:
            part = (drift - found.low) / (found.high - found.low)
            draft.attach(key, ends[0] + (ends[1] - ends[0]) * part)

    def _support(self, key: str, node: int, kind: LineKind, point: Floats) -> None:
        """State what the ground holds at an end of the rafter."""
        owner = f"W-{self._edge(point)}"
        if kind is LineKind.EAVE:
            self.draft.support(node, SupportKind.SEAT, owner, key)
        elif kind is LineKind.RAKE:
            self.draft.support(node, SupportKind.FOOT, owner, key)
