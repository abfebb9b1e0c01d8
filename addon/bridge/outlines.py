"""A plan outline from what a user drew: the edge of mesh faces, or a curve.

Gives corners on plan in m; decides nothing of the roof.
"""

import bpy
import numpy as np

from ...solver.brief import Brief
from ...solver.brief import model as m
from ...solver.errors import BriefError
from . import brief_io
from .starts import Start

_SAME = 1e-3  # m: points nearer than this are one
_STRAIGHT = 1e-3  # m: a point nearer the line of its neighbours is no corner
_FIELD = "footprint.outline"


def corners_of(
    obj: bpy.types.Object, scene: bpy.types.Scene
) -> tuple[list[tuple[float, float]], tuple[float, float, float]]:
    """Return the corners of a drawn outline and where its lowest corner stands.

    Args:
        obj: a mesh, of which the selected faces count, else all; or a curve.
        scene: for the scale of lengths.

    Returns:
        Corners in m, the westmost at x = 0 and the southmost at y = 0; and the world
        place of that origin, in Blender units.

    Raises:
        BriefError: what is drawn has no one edge all round.
    """
    points = _world_points(obj)
    low = points[:, :2].min(axis=0)
    scale = brief_io.scale_of(scene)
    plan = [
        (
            brief_io.typed_length(float(x), scale),
            brief_io.typed_length(float(y), scale),
        )
        for x, y in points[:, :2] - low
    ]
    place = (float(low[0]), float(low[1]), float(points[:, 2].mean()))
    return _without_idle(plan), place


def _world_points(obj: bpy.types.Object) -> np.ndarray:
    """Return the points round an outline in order, (n, 3) in world axes."""
    if obj.mode == "EDIT":
        obj.update_from_editmode()
    owner = obj.evaluated_get(bpy.context.evaluated_depsgraph_get())
    mesh = obj.data if obj.type == "MESH" else owner.to_mesh()
    try:
        ring = _ring(mesh)
        places = np.array([tuple(obj.matrix_world @ mesh.vertices[i].co) for i in ring])
    finally:
        if obj.type != "MESH":
            owner.to_mesh_clear()
    return places


def _ring(mesh: bpy.types.Mesh) -> list[int]:
    """Return the vertices round the selected faces, or round all there is."""
    faces = [p for p in mesh.polygons if p.select] or list(mesh.polygons)
    count: dict[tuple[int, int], int] = {}
    for face in faces:
        for key in face.edge_keys:
            count[key] = count.get(key, 0) + 1
    edges = [key for key, times in count.items() if times == 1]
    if not faces:
        edges = [tuple(edge.vertices) for edge in mesh.edges]
    beside: dict[int, list[int]] = {}
    for a, b in edges:
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)
    ends = [v for v, near in beside.items() if len(near) == 1]
    if len(beside) < 3 or len(ends) not in (0, 2) or len(edges) - len(beside) not in (
        0,
        -1,
    ):  # fmt: skip
        raise BriefError(
            _FIELD, "what is drawn", "faces or a curve with one edge all round",
            "Select the faces of one plan without holes.",
        )  # fmt: skip
    ring = [ends[0] if ends else next(iter(beside))]
    while len(ring) < len(beside):
        onward = [v for v in beside[ring[-1]] if v not in ring[-2:]]
        if not onward or onward[0] == ring[0]:
            raise BriefError(
                _FIELD, "what is drawn", "one edge all round, not several",
                "Select the faces of one plan without holes.",
            )  # fmt: skip
        ring.append(onward[0])
    return ring


def _without_idle(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the points without repeats and without those on straight sides."""
    kept = list(points)
    n = 0
    while n < len(kept) and len(kept) > 3:
        a, b = np.array(kept[n - 1]), np.array(kept[n])
        c = np.array(kept[(n + 1) % len(kept)])
        way, gap = c - a, b - a
        length = float(np.hypot(*way))
        aside = abs(float(way[0] * gap[1] - way[1] * gap[0])) / max(length, 1e-9)
        if float(np.hypot(*gap)) < _SAME or (
            aside < _STRAIGHT and 0 < float(gap @ way) < length**2
        ):
            del kept[n]
            n = max(0, n - 1)
        else:
            n += 1
    return kept


def outlined_roof(start: Start, corners: list[tuple[float, float]]) -> Brief:
    """Return the brief of a new roof over an outline, eaves all round.

    Args:
        start: what is stated; its length and width do not count.
        corners: m.
    """
    return m.Brief(
        name="Outline",
        units=start.units,
        footprint=m.Footprint(
            shape=m.Shape.OUTLINE,
            length=max(x for x, _ in corners),
            width=max(y for _, y in corners),
            outline=tuple(m.Corner(at=at) for at in corners),
        ),
        roof=m.Roof(
            form=m.RoofForm.OUTLINE, pitch=start.pitch, overhang=start.overhang
        ),
        rafters=m.Rafters(size=start.size, spacing=start.spacing),
        ridge=m.Ridge(size=_deeper(start.size)),
        ceiling_joists=m.CeilingJoists(size=start.size, spacing=start.spacing),
    )


def _deeper(size: str) -> str:
    """Return one size deeper, for plumb cuts."""
    deeper = {"2x4": "2x6", "2x6": "2x8", "2x8": "2x10", "2x10": "2x12"}
    return deeper.get(size, size)
