"""The walls under a roof as plain pieces: what the roof stands on, drawn, not checked.

They stand in a collection of their own that a user may hide or throw away.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import bpy
import numpy as np
from mathutils import Matrix
from numpy.typing import NDArray

from ...solver.brief import Brief
from ...solver.brief.model import Wall
from ...solver.brief.outline import is_outline
from ...solver.framing.outline.plan import Edge, outer_walls
from ...solver.framing.plan import gaps_of, line_of
from ...solver.units import FOOT, INCH
from ..names import WALL_KEY, WALLS
from ..overlay import palette
from ..properties import owner_of
from . import shading

HEIGHT = 8 * FOOT
_TOP = -3.0 * INCH  # under a double plate
_BEARING, _PARTITION, _OUTER = 5.5 * INCH, 3.5 * INCH, 5.5 * INCH
ROLE = "wall"
_SQUARE = 1e-9  # rad off x or y

_CORNERS = np.array(
    [(x, y, z) for x in (0, 1) for y, z in ((0, 0), (1, 0), (1, 1), (0, 1))], float
)
FACES = (
    (0, 3, 2, 1),
    (4, 5, 6, 7),
    (0, 1, 5, 4),
    (1, 2, 6, 5),
    (2, 3, 7, 6),
    (3, 0, 4, 7),
)


@dataclass(frozen=True)
class Piece:
    """A piece of wall along a line on plan, square to x and y or not.

    Attributes:
        key: of it.
        start, end: (x, y) m, of its middle line.
        thick: m.
        top: m, where it ends above the plates' lower edges.
    """

    key: str
    start: tuple[float, float]
    end: tuple[float, float]
    thick: float
    top: float = _TOP

    def corners(self, height: float = HEIGHT) -> NDArray[np.float64]:
        """Return (8, 3) m: four at its start, then four at its end.

        Args:
            height: m below the plates that it reaches down to.
        """
        ends = np.array([self.start, self.end])
        way = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
        aside = self.thick * np.array([-way[1], way[0]])
        of_end = _CORNERS[:, 0].astype(int)
        plan = ends[of_end] + aside * (_CORNERS[:, 1:2] - 0.5)
        heights = np.where(_CORNERS[:, 2] > 0, self.top, -height)
        return np.column_stack([plan, heights])

    def line(self) -> NDArray[np.float64]:
        """Return (2, 3) m, the ends of the middle line of its top."""
        return np.array([(*self.start, self.top), (*self.end, self.top)])

    def cut(self, first: float, last: float) -> Piece:
        """Return what is left between two parts of its length, 0 to 1."""
        start, end = np.array(self.start), np.array(self.end)
        ends = (tuple((start + t * (end - start)).tolist()) for t in (first, last))
        return replace(self, **dict(zip(("start", "end"), ends, strict=True)))

    def moved(self, offset: Sequence[float], mark: str) -> Piece:
        """Return it moved by m on plan, its key marked."""
        ends = (tuple(np.add(e, offset[:2]).tolist()) for e in (self.start, self.end))
        named = dict(zip(("start", "end"), ends, strict=True))
        return replace(self, key=f"{self.key} {mark}", **named)


def wall_pieces(brief: Brief) -> tuple[Piece, ...]:
    """Return the pieces of the outer and interior walls between their gaps."""
    length, width = brief.footprint.length, brief.footprint.width
    half = _OUTER / 2
    if is_outline(brief):
        out = [_side(edge) for edge in outer_walls(brief)]
    else:
        out = [
            Piece("W-SOUTH", (-half, 0.0), (length + half, 0.0), _OUTER),
            Piece("W-NORTH", (-half, width), (length + half, width), _OUTER),
            Piece("W-WEST", (0.0, half), (0.0, width - half), _OUTER),
            Piece("W-EAST", (length, half), (length, width - half), _OUTER),
        ]
    for wall in brief.walls:
        out += _standing(wall)
    return tuple(out)


def _standing(wall: Wall) -> Iterator[Piece]:
    """Yield the pieces of an interior wall between its gaps."""
    line = line_of(wall)
    thick = _BEARING if wall.bearing else _PARTITION
    edges = [line.low, *(u for gap in gaps_of(wall) for u in gap), line.high]
    for n, (low, high) in enumerate(zip(edges[::2], edges[1::2], strict=True), start=1):
        if high - low > INCH:
            start, end = (tuple(map(float, line.point(u)[:2])) for u in (low, high))
            yield Piece(f"W-{wall.name}-{n}", start, end, thick)


def _side(edge: Edge) -> Piece:
    """Return an outer wall of a drawn outline; square ones reach round corners."""
    more = edge.way * (_OUTER / 2) if min(abs(edge.outward)) <= _SQUARE else 0.0
    start, end = (tuple(e.tolist()) for e in (edge.start - more, edge.end + more))
    return Piece(f"W-{edge.name}", start, end, _OUTER, _TOP + edge.top)


def write(
    roof: bpy.types.Object,
    top: bpy.types.Collection,
    brief: Brief,
    scale_length: float,
) -> None:
    """Make the wall objects under a roof what its brief says.

    Args:
        roof: the roof object; walls follow its matrix.
        top: the roof's own collection.
        brief: of the roof.
        scale_length: m per Blender unit.
    """
    folder = next((c for c in top.children if owner_of(c).role == ROLE), None)
    if folder is None:
        folder = bpy.data.collections.new(f"{roof.name} Walls")
        owner_of(folder).roof, owner_of(folder).role = roof, ROLE
        top.children.link(folder)
    known = {o[WALL_KEY]: o for o in folder.objects if is_wall(o) and o.parent == roof}
    wanted = {piece.key: piece.corners() for piece in wall_pieces(brief)}
    gone = [known.pop(key) for key in list(known) if key not in wanted]
    if gone:  # even an empty removal has Blender evaluate the whole scene again
        meshes = [obj.data for obj in gone]
        bpy.data.batch_remove(gone)
        bpy.data.batch_remove([m for m in meshes if m.users == 0])
    for key, corners in wanted.items():
        obj = known.get(key) or _new(key, roof, folder)
        points = (corners / scale_length).astype(np.float32)
        held = np.empty(points.size, dtype=np.float32)
        obj.data.vertices.foreach_get("co", held)
        if not np.array_equal(held, points.ravel()):
            obj.data.vertices.foreach_set("co", points.ravel())
            obj.data.update()


def is_wall(obj: bpy.types.Object) -> bool:
    """Return whether an object is a piece of wall of some roof."""
    return obj.get(WALL_KEY) is not None and obj.type == "MESH"


def owner_of_wall(obj: bpy.types.Object) -> str:
    """Return the support owner of a piece of wall, "" for any other object.

    Pieces of an interior wall between its gaps are numbered; outer walls are not.
    """
    if not is_wall(obj):
        return ""
    key = str(obj[WALL_KEY])
    name, _, number = key.rpartition("-")
    return name if number.isdigit() and name.startswith("W-") else key


def _new(
    key: str, roof: bpy.types.Object, folder: bpy.types.Collection
) -> bpy.types.Object:
    """Return a new wall object of a unit box."""
    mesh = bpy.data.meshes.new(key)
    mesh.from_pydata(_CORNERS.tolist(), [], FACES)
    mesh.materials.append(shading.plain(WALLS, palette.WALL))
    obj = bpy.data.objects.new(key, mesh)
    obj[WALL_KEY] = key
    obj.parent, obj.matrix_parent_inverse = roof, Matrix()
    obj.lock_location = obj.lock_rotation = obj.lock_scale = (True, True, True)
    obj.color = (*palette.to_linear(palette.srgb(palette.WALL)), 1.0)
    folder.objects.link(obj)
    return obj
