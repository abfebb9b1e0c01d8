"""The walls under a roof as plain boxes: what the roof stands on, drawn, not checked.

They stand in a collection of their own that a user may hide or throw away.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import bpy
import numpy as np
from mathutils import Matrix

from ...solver.brief import Brief
from ...solver.brief.model import Wall
from ...solver.brief.outline import is_outline
from ...solver.framing.outline.plan import Edge, outer_walls
from ...solver.framing.plan import OBLIQUE, gaps_of, line_of
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
_FACES = (
    (0, 3, 2, 1),
    (4, 5, 6, 7),
    (0, 1, 5, 4),
    (1, 2, 6, 5),
    (2, 3, 7, 6),
    (3, 0, 4, 7),
)


@dataclass(frozen=True)
class Box:
    """A piece of wall, m, from its low to its high corner."""

    key: str
    low: tuple[float, float, float]
    high: tuple[float, float, float]


def wall_boxes(brief: Brief) -> tuple[Box, ...]:
    """Return the pieces of the outer and interior walls between their gaps."""
    length, width = brief.footprint.length, brief.footprint.width
    half = _OUTER / 2
    drawn = is_outline(brief)
    out = (
        [box for box in map(_side, outer_walls(brief)) if box is not None]
        if drawn
        else [
            _box("W-SOUTH", 0, -half, length + half, 0.0, _OUTER, start=-half),
            _box("W-NORTH", 0, -half, length + half, width, _OUTER, start=-half),
            _box("W-WEST", 1, half, width - half, 0.0, _OUTER),
            _box("W-EAST", 1, half, width - half, length, _OUTER),
        ]
    )
    for wall in brief.walls:
        line = line_of(wall)
        thick = _BEARING if wall.bearing else _PARTITION
        if line.along == OBLIQUE:
            continue
        for key, low, high in _standing(wall):
            out.append(_box(key, line.along, low, high, line.at, thick))
    return tuple(out)


def _standing(wall: Wall) -> Iterator[tuple[str, float, float]]:
    """Yield key and extent along it, m, of every piece of an interior wall."""
    line = line_of(wall)
    edges = [line.low, *(u for gap in gaps_of(wall) for u in gap), line.high]
    for n, (low, high) in enumerate(zip(edges[::2], edges[1::2], strict=True), start=1):
        if high - low > INCH:
            yield f"W-{wall.name}-{n}", low, high


def _side(edge: Edge) -> Box | None:
    """Return an outer wall of a drawn outline, None where it stands aslant."""
    if min(abs(edge.outward)) > _SQUARE:
        return None
    half = _OUTER / 2
    ends = [edge.start - edge.way * half, edge.end + edge.way * half]
    corners = np.array(
        [end + edge.outward * side for end in ends for side in (half, -half)]
    )
    low, high = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    return Box(f"W-{edge.name}", (*low, -HEIGHT), (*high, _TOP + edge.top))


def _aslant(brief: Brief) -> dict[str, np.ndarray]:
    """Return the corners of walls that stand aslant, (8, 3) m by key."""
    out = {}
    for wall in brief.walls:
        line = line_of(wall)
        for key, *ends in _standing(wall) if line.along == OBLIQUE else ():
            way = np.array(line.way)
            start, end = (np.array(line.point(u)[:2]) for u in ends)
            thick = _BEARING if wall.bearing else _PARTITION
            out[key] = _turned(start, end, np.array([-way[1], way[0]]), thick)
    for edge in outer_walls(brief) if is_outline(brief) else ():
        if min(abs(edge.outward)) <= _SQUARE:
            continue
        ends = edge.start, edge.end
        out[f"W-{edge.name}"] = _turned(*ends, edge.outward, _OUTER, _TOP + edge.top)
    return out


def _turned(
    start: np.ndarray,
    end: np.ndarray,
    aside: np.ndarray,
    thick: float,
    top: float = _TOP,
) -> np.ndarray:
    """Return the corners of a piece of wall between two plan points, (8, 3) m."""
    ends = np.array([start, end])
    plan = [ends[i] + aside * thick * (j - 0.5) for i, j in _CORNERS[:, :2].astype(int)]
    heights = np.where(_CORNERS[:, 2] > 0, top, -HEIGHT)
    return np.column_stack([np.array(plan), heights])


def _box(
    key: str,
    along: int,
    low: float,
    high: float,
    at: float,
    thick: float,
    start: float | None = None,
) -> Box:
    """Return a piece of wall along one axis."""
    low = low if start is None else start
    first, last = (low, at - thick / 2), (high, at + thick / 2)
    if along == 1:
        first, last = first[::-1], last[::-1]
    return Box(key, (*first, -HEIGHT), (*last, _TOP))


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
    wanted = {
        box.key: np.array(box.low) + _CORNERS * np.subtract(box.high, box.low)
        for box in wall_boxes(brief)
    } | _aslant(brief)
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
    mesh.from_pydata(_CORNERS.tolist(), [], _FACES)
    mesh.materials.append(shading.plain(WALLS, palette.WALL))
    obj = bpy.data.objects.new(key, mesh)
    obj[WALL_KEY] = key
    obj.parent, obj.matrix_parent_inverse = roof, Matrix()
    obj.lock_location = obj.lock_rotation = obj.lock_scale = (True, True, True)
    obj.color = (*palette.to_linear(palette.srgb(palette.WALL)), 1.0)
    folder.objects.link(obj)
    return obj
