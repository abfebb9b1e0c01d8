"""The level cut of the roof, swept upward until nothing is left of it.

The cut starts as the outline. Its corners are where neighbouring lines cross; as it
rises it shrinks, and its shape changes when a side shrinks to nothing, when an inside
corner runs into a side, or when a side changes pitch. Every event is ordered exactly.
The corners' tracks are the hips, valleys, ridges and rakes. This is the weighted
straight skeleton (Aichholzer and Aurenhammer 1996; weights: Eppstein and Erickson
1999), where a gable is a side that does not move.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass, field

from ..errors import FramingError
from .exact import UNIT_BITS, Height, MovingLine, Track, along, is_less, track_of
from .moving import Face, Point

FaceId = tuple[int, int]  # edge, position among that edge's faces


@dataclass(eq=False, slots=True)
class Corner:
    """A corner of the cut, between the faces before and after it."""

    before: FaceId
    after: FaceId
    track: Track
    node: int
    previous: Corner = field(init=False)
    next: Corner = field(init=False)
    is_alive: bool = True


# A side between two corners closes, a corner reaches a face, a face ends in another.
Event = tuple[float, Height, int, Corner | FaceId, Corner | FaceId]


@dataclass
class Sweep:
    """What the sweep leaves behind.

    Attributes:
        nodes: (x, y, z) m from the origin of the grid; the outline's points come first.
        arcs: (face on the left, face on the right, from node, to node) on plan; of a
            corner, the side before it lies to the left of its track.
    """

    nodes: list[tuple[float, float, float]]
    arcs: list[tuple[FaceId, FaceId, int, int]]


def sweep(points: list[Point], faces: list[list[Face]]) -> Sweep:
    """Sweep the cut from the outline to the top.

    Args:
        points: the corners in units, counter-clockwise.
        faces: of every edge, lowest first.

    Raises:
        FramingError: a part of the plan is never covered.
    """
    return _Sweeper(points, faces).run()


class _Sweeper:
    """The state of the cut at one height."""

    def __init__(self, points: list[Point], faces: list[list[Face]]):
        self.faces = faces
        self.height = Height(faces[0][0].start, 1)
        self.out = Sweep([], [])
        self.queue: list[Event] = []
        self.serial = 0
        self.sides: dict[FaceId, set[Corner]] = {}
        base = self.height.value * 2.0**-UNIT_BITS
        for x, y in points:
            self.out.nodes.append((x * 2.0**-UNIT_BITS, y * 2.0**-UNIT_BITS, base))
        count = len(points)
        corners = [self._corner(((i - 1) % count, 0), (i, 0), i) for i in range(count)]
        for i, corner in enumerate(corners):
            _join(corner, corners[(i + 1) % count])
        for corner in corners:
            self._expect_side(corner)
            self._expect_hits(corner)
        for edge, tiers in enumerate(faces):
            for position in range(1, len(tiers)):
                when = Height(tiers[position].start, 1)
                self._expect(when, (edge, position - 1), (edge, position))

    def run(self) -> Sweep:
        """Handle the events in order and return what they leave."""
        while self.queue and self.sides:
            _, height, _, one, other = heapq.heappop(self.queue)
            if isinstance(one, Corner) and isinstance(other, Corner):
                if one.is_alive and other.is_alive and one.next is other:
                    self.height = height
                    self._close_side(one, other)
            elif isinstance(one, Corner) and isinstance(other, tuple):
                if one.is_alive and other in self.sides:
                    self._hit(one, other, height)
            elif not isinstance(one, Corner) and isinstance(other, tuple):
                self._change_pitch(one, other, height)
        if self.sides:
            edges = sorted({edge for edge, _ in self.sides})
            raise UncoveredError(edges)
        return self.out

    # Events

    def _close_side(self, start: Corner, end: Corner) -> None:
        """A side between two corners has shrunk to nothing."""
        node = self._node(start.track, self.height)
        before, after = start.previous, end.next
        self._end(start, node)
        self._end(end, node)
        if before is after:
            self._end(before, node)
            return
        new = self._corner(start.before, end.after, node)
        _join(before, new)
        _join(new, after)
        self._expect_round(new)

    def _hit(self, corner: Corner, face: FaceId, height: Height) -> None:
        """An inside corner reaches the line of a side: it may part the cut in two."""
        start = self._side_under(corner, face, height)
        if start is None:
            return
        self.height = height
        end = start.next
        node = self._node(corner.track, height)
        before, after = corner.previous, corner.next
        self._end(corner, node)
        first = self._corner(corner.before, face, node)
        second = self._corner(face, corner.after, node)
        _join(before, first)
        _join(first, end)
        _join(start, second)
        _join(second, after)
        self._expect_round(first)
        self._expect_round(second)

    def _change_pitch(self, old: FaceId, new: FaceId, height: Height) -> None:
        """All sides of a face, if any is left, go on as another face of its edge."""
        if old not in self.sides:
            return
        self.height = height
        changed: list[Corner] = []
        for start in sorted(self.sides[old], key=lambda corner: corner.node):
            end = start.next
            low = self._node(start.track, self.height)
            high = self._node(end.track, self.height)
            self.out.arcs.append((new, old, low, high))
            first = self._corner(start.before, new, low)
            _join(start.previous, first)
            second = self._corner(new, end.after, high)
            _join(second, end.next)
            _join(first, second)
            self._end(start, low)
            self._end(end, high)
            changed += [first, second]
        for corner in changed:
            self._expect_round(corner)
        for corner in self._alive():
            if corner not in changed:
                self._expect_hit(corner, new)

    # Parts

    def _corner(self, before: FaceId, after: FaceId, node: int) -> Corner:
        """Return a new corner of the cut, not yet joined to its neighbours."""
        track = track_of(self._line(before), self._line(after))
        if track is None:
            raise FramingError(
                f"Edges {before[0]} and {after[0]} run along each other; "
                "no corner lies between them."
            )
        corner = Corner(before, after, track, node)
        self.sides.setdefault(after, set()).add(corner)
        return corner

    def _end(self, corner: Corner, node: int) -> None:
        """End a corner's track at a node."""
        corner.is_alive = False
        self.out.arcs.append((corner.before, corner.after, corner.node, node))
        sides = self.sides[corner.after]
        sides.remove(corner)
        if not sides:
            del self.sides[corner.after]

    def _node(self, track: Track, height: Height) -> int:
        """Return the id of a new node on a track."""
        X, Y, Q = track.at(height)
        unit = 2.0**-UNIT_BITS
        self.out.nodes.append((X / Q * unit, Y / Q * unit, height.value * unit))
        return len(self.out.nodes) - 1

    def _line(self, face: FaceId) -> MovingLine:
        return self.faces[face[0]][face[1]].line

    def _alive(self) -> list[Corner]:
        return [corner for side in self.sides.values() for corner in side]

    def _side_under(
        self, corner: Corner, face: FaceId, height: Height
    ) -> Corner | None:
        """Return the start of the side that a corner meets, if one is there."""
        line = self._line(face)
        here = along(line, corner.track.at(height))
        for start in self.sides[face]:
            low = along(line, start.track.at(height))
            high = along(line, start.next.track.at(height))
            if is_less(low, here) and is_less(here, high):
                return start
        return None

    # Expectations

    def _expect(
        self, height: Height, one: Corner | FaceId, other: Corner | FaceId
    ) -> None:
        self.serial += 1
        heapq.heappush(self.queue, (height.value, height, self.serial, one, other))

    def _expect_round(self, corner: Corner) -> None:
        """Foresee what a new corner and its two sides will do."""
        self._expect_side(corner)
        self._expect_side(corner.previous)
        self._expect_hits(corner)

    def _expect_side(self, start: Corner) -> None:
        """Foresee when the side that starts at a corner shrinks to nothing."""
        end = start.next
        meeting = start.track.meets(self._line(end.after))
        if meeting and self.height < meeting[0]:
            self._expect(meeting[0], start, end)

    def _expect_hits(self, corner: Corner) -> None:
        """Foresee when an inside corner reaches the lines of other sides."""
        if not corner.track.is_convex:
            for face in self.sides:
                self._expect_hit(corner, face)

    def _expect_hit(self, corner: Corner, face: FaceId) -> None:
        """Foresee when an inside corner reaches the line of one side."""
        if corner.track.is_convex or face in (corner.before, corner.after):
            return
        meeting = corner.track.meets(self._line(face))
        if meeting and meeting[1] and self.height < meeting[0]:
            self._expect(meeting[0], corner, face)


class UncoveredError(FramingError):
    """Some edges are left standing with a part of the plan that no plane covers.

    Attributes:
        edges: their indices.
    """

    def __init__(self, edges: list[int]):
        self.edges = edges
        super().__init__(
            f"Edges {edges} stand round a part of the plan that no plane covers."
        )


def _join(corner: Corner, following: Corner) -> None:
    """Make two corners neighbours."""
    corner.next = following
    following.previous = corner
