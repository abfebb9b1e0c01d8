"""Light, ground, camera and render settings of a picture.

Settings that differ between Blender's versions or render engines are all here.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import bpy
import numpy as np
from mathutils import Matrix, Vector

from ..bridge import shading
from ..overlay import palette

BACKDROP = "#e6eaee"
FLOOR = "#b9bec6"


@dataclass(frozen=True)
class View:
    """Where a picture is taken from.

    Attributes:
        eye, target: (3,) m, in the world.
        lens: mm, on a sensor 36 mm wide.
        shift: of the picture, parts of its width, right and up.
    """

    eye: tuple[float, float, float]
    target: tuple[float, float, float]
    lens: float = 35.0
    shift: tuple[float, float] = (0.0, 0.0)


def add_camera(
    scene: bpy.types.Scene, view: View, collection: bpy.types.Collection, name: str
) -> bpy.types.Object:
    """Return a new camera of a view."""
    data = bpy.data.cameras.new(name)
    data.lens, data.clip_start, data.clip_end = view.lens, 0.5, 500.0
    data.shift_x, data.shift_y = view.shift
    obj = bpy.data.objects.new(name, data)
    eye, target = Vector(view.eye), Vector(view.target)
    turn = (target - eye).to_track_quat("-Z", "Y").to_matrix().to_4x4()
    obj.matrix_basis = Matrix.Translation(eye) @ turn
    collection.objects.link(obj)
    scene.camera = obj
    return obj


def light(scene: bpy.types.Scene, collection: bpy.types.Collection) -> None:
    """Light a scene: one sun with sharp shadows under an even sky."""
    sun = bpy.data.lights.new("Sun", "SUN")
    sun.energy, sun.angle = 4.2, 0.0
    obj = bpy.data.objects.new("Sun", sun)
    obj.matrix_basis = (
        Vector((0.45, 0.5, -1.0)).to_track_quat("-Z", "Y").to_matrix().to_4x4()
    )
    collection.objects.link(obj)
    scene.world = sky()


def sky(colour: str = BACKDROP, *, is_lit_by: bool = True) -> bpy.types.World:
    """Return a sky that is seen and lights nothing.

    Shade is lit by the materials' own glow, so that there is no noise to sample away.

    Args:
        colour: sRGB code.
        is_lit_by: whether any material of the scene takes light; where none does, the
            sky need not ask what looks at it, which makes pictures cheaper.
    """
    world = bpy.data.worlds.new("Loadfall Sky")
    if world.node_tree is None:
        world.use_nodes = True
    tree = world.node_tree
    back = next(n for n in tree.nodes if n.type == "BACKGROUND")
    linear = (*palette.to_linear(palette.srgb(colour)), 1.0)
    back.inputs["Color"].default_value = linear
    if is_lit_by:
        path = tree.nodes.new("ShaderNodeLightPath")
        tree.links.new(path.outputs["Is Camera Ray"], back.inputs["Strength"])
    world.cycles.sampling_method = "NONE"
    return world


def floor(collection: bpy.types.Collection, walls: Sequence[bpy.types.Object]) -> None:
    """Add a floor under walls, as far as they reach.

    Args:
        collection: that the floor is linked to.
        walls: at least one; they stand in the world's axes.
    """
    corners = np.array([w.matrix_world @ Vector(c) for w in walls for c in w.bound_box])
    (x, y, z), (right, back, _) = corners.min(axis=0), corners.max(axis=0)
    mesh = bpy.data.meshes.new("Floor")
    mesh.from_pydata(
        [(x, y, z), (right, y, z), (right, back, z), (x, back, z)], [], [(0, 1, 2, 3)]
    )
    mesh.materials.append(shading.plain("Loadfall Floor", FLOOR))
    obj = bpy.data.objects.new("Floor", mesh)
    obj.hide_select = True
    collection.objects.link(obj)


def settings(scene: bpy.types.Scene, size: tuple[int, int], samples: int) -> None:
    """Set a scene to make quick pictures without a graphics card."""
    render = scene.render
    render.engine = "CYCLES"
    render.resolution_x, render.resolution_y = size
    render.resolution_percentage = 100
    render.image_settings.file_format = "PNG"
    render.image_settings.color_mode = "RGB"
    render.use_persistent_data = False
    render.film_transparent = False
    render.dither_intensity = 0.0
    cycles = scene.cycles
    cycles.device = "CPU"
    cycles.samples = samples
    # Nothing here is random but where in a pixel the rays go: every pixel asks at the
    # same places, so that edges and letters are even with few samples.
    cycles.sampling_pattern, cycles.scrambling_distance = "TABULATED_SOBOL", 0.0
    cycles.use_adaptive_sampling = False
    cycles.use_denoising = False
    cycles.max_bounces = 0
    cycles.caustics_reflective = cycles.caustics_refractive = False
    cycles.pixel_filter_type = "BLACKMAN_HARRIS"
    scene.view_settings.view_transform = "Standard"
    scene.view_settings.look = "None"


def project(
    camera: bpy.types.Object, size: tuple[int, int], points: np.ndarray
) -> np.ndarray:
    """Return (n, 2) pixels of points of the world; NaN behind the camera.

    Args:
        camera: placed, its matrix up to date.
        size: of the picture, pixels.
        points: (n, 3) Blender units.
    """
    width, height = size
    depsgraph = bpy.context.evaluated_depsgraph_get()
    screen = camera.calc_matrix_camera(depsgraph, x=width, y=height)
    matrix = np.array(screen @ camera.matrix_world.inverted())
    flat = np.c_[points, np.ones(len(points))] @ matrix.T
    w = flat[:, 3:]
    with np.errstate(divide="ignore", invalid="ignore"):
        out = np.where(w > 1e-6, flat[:, :2] / w, np.nan)
    return (out + 1) / 2 * np.array(size, dtype=float)
