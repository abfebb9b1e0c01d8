"""The roof as binary glTF for any viewer: one node a member, shaded by its use.

A viewer knows nothing of our material, so the pattern of what is over its limit is cut
into the mesh as bands, and what was found is in the properties of each node. The format
is glTF 2.0 (Khronos Group, ISO/IEC 12113), written by Blender's own exporter.
"""

from __future__ import annotations

from pathlib import Path

import bpy
import numpy as np
from numpy.typing import NDArray

from ...solver.framing.solids import member_solid
from ...solver.report.cautions import CAUTION, NOT_CHECKED
from ..overlay import palette
from . import findings, marking, walls
from .pipeline import Outcome

Floats = NDArray[np.float64]
_SIDES = ((0, 1, 5, 4), (1, 2, 6, 5), (2, 3, 7, 6), (3, 0, 4, 7))
_CROSSED = 0.5  # share of ink of bands that stand for cross-hatching
_COLOUR = "Color"
_WALLS = "Walls"


def write(outcome: Outcome, path: Path) -> Path:
    """Write a solved roof as a .glb file; return it.

    The open scenes are left as they were.

    Args:
        outcome: the solved roof.
        path: of the file; its folder is made where it lacks.

    Raises:
        OSError: the file cannot be written.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    window = bpy.context.window
    shown = window.scene
    scene = bpy.data.scenes.new("Loadfall Export")
    material = _material()
    try:
        window.scene = scene
        _fill(scene.collection, outcome, material)
        bpy.ops.export_scene.gltf(
            filepath=str(path), export_format="GLB", use_active_scene=True,
            export_extras=True, export_animations=False, export_morph=False,
        )  # fmt: skip
    except RuntimeError as error:  # how Blender hands on an exporter's own error
        raise OSError(f"{path}: {error}") from error
    finally:
        window.scene = shown
        objects = list(scene.collection.all_objects)
        meshes = [o.data for o in objects if o.data is not None]
        bpy.data.batch_remove([*objects, *meshes])
        bpy.data.materials.remove(material)
        bpy.data.scenes.remove(scene)
    return path


def banded(
    corners: Floats, share: float, period: float
) -> tuple[Floats, list[tuple[int, ...]], list[bool]]:
    """Return a piece cut into bands along its length.

    Args:
        corners: (8 p, 3) m, of each ply four around its start, then four at its end.
        share: of its length that is inked, 0 for none.
        period: m from band to band.

    Returns:
        (v, 3) vertices, faces, and whether each face is inked.
    """
    points: list[Floats] = []
    faces: list[tuple[int, ...]] = []
    inked: list[bool] = []
    for ply in corners.reshape(-1, 8, 3):
        start, end = ply[:4], ply[4:]
        length = float(np.linalg.norm((end - start).mean(axis=0)))
        edges = _edges(length, share, period)
        first = sum(len(p) for p in points)
        points += [start + part * (end - start) for part in edges]
        for n in range(len(edges) - 1):
            at = first + 4 * n
            faces += [tuple(at + k for k in side) for side in _SIDES]
            inked += [n % 2 == 1] * 4
        last = first + 4 * (len(edges) - 1)
        faces += [(first + 3, first + 2, first + 1, first),
                  (last, last + 1, last + 2, last + 3)]  # fmt: skip
        inked += [False, len(edges) % 2 == 1]
    return np.concatenate(points), faces, inked


def _edges(length: float, share: float, period: float) -> list[float]:
    """Return where plain and inked bands meet, as parts of a length, 0 and 1 too."""
    if share <= 0:
        return [0.0, 1.0]
    count = max(1, round(length / period))
    starts = [k / count for k in range(count)]
    cuts = [v for s in starts for v in (s, s + (1 - share) / count)]
    return [*cuts, 1.0]


def _fill(
    folder: bpy.types.Collection, outcome: Outcome, material: bpy.types.Material
) -> None:
    """Add the roof, its members and its walls to a collection."""
    brief, solution = outcome.brief, outcome.solution
    roof = bpy.data.objects.new(brief.name, None)
    roof["caution"], roof["verdict"] = CAUTION, solution.overall.value
    roof["not_checked"] = "; ".join(NOT_CHECKED)
    folder.objects.link(roof)
    shown = marking.shading_of(solution.members.values())
    colours = palette.colours(shown.use, shown.state)
    patterns = palette.patterns(shown.use, shown.state)
    for key, result in solution.members.items():
        row = shown.row[key]
        share = float(patterns[row])
        crossed = share > 1
        solid = member_solid(brief, solution.framing, key)
        period = palette.PERIOD / (2 if crossed else 1)
        made = banded(solid.vertices, _CROSSED if crossed else share, period)
        obj = _object(key, *made, colours[row], material)
        findings.write(obj, findings.properties_of(result, 1.0))
        obj.parent = roof
        folder.objects.link(obj)
    pieces = [piece.corners() for piece in walls.wall_pieces(brief)]
    if pieces:
        made = banded(np.concatenate(pieces), 0.0, 1.0)
        obj = _object(_WALLS, *made, palette.srgb(palette.WALL), material)
        obj.parent = roof
        folder.objects.link(obj)


def _object(
    name: str, points: Floats, faces: list[tuple[int, ...]], inked: list[bool],
    colour: Floats, material: bpy.types.Material,
) -> bpy.types.Object:  # fmt: skip
    """Return a new object whose faces have the colour, or ink."""
    mesh = bpy.data.meshes.new(name)
    mesh.from_pydata(points.tolist(), [], faces)
    mesh.materials.append(material)
    both = palette.to_linear(np.array([colour, palette.srgb(palette.INK)]))
    corner = np.repeat(np.array(inked, dtype=int), [len(f) for f in faces])
    four = np.concatenate([both[corner], np.ones((len(corner), 1))], axis=1)
    held = mesh.color_attributes.new(_COLOUR, "FLOAT_COLOR", "CORNER")
    held.data.foreach_set("color", four.astype(np.float32).ravel())
    mesh.color_attributes.active_color = held
    return bpy.data.objects.new(name, mesh)


def _material() -> bpy.types.Material:
    """Return a new material whose colour is the mesh's."""
    made = bpy.data.materials.new("Loadfall Shaded")
    if made.node_tree is None:
        made.use_nodes = True
    nodes, links = made.node_tree.nodes, made.node_tree.links
    nodes.clear()
    surface = nodes.new("ShaderNodeBsdfPrincipled")
    surface.inputs["Roughness"].default_value = 0.9
    colour = nodes.new("ShaderNodeVertexColor")
    colour.layer_name = _COLOUR
    out = nodes.new("ShaderNodeOutputMaterial")
    links.new(colour.outputs["Color"], surface.inputs["Base Color"])
    links.new(surface.outputs["BSDF"], out.inputs["Surface"])
    return made
