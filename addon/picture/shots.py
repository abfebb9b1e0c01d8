"""One picture of one roof: its stage, what is left out, and what is written over it.

Works on the scene that shows the roof; leaves the camera and the sheet there, so that
rendering the saved file makes the same picture again.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path

import bpy
import numpy as np

from ..bridge import members, shading, walls
from ..bridge.drawing import PathView
from ..names import WALL_KEY, Key
from . import stage, words
from .sheet import Sheet
from .words import Label

_COLLECTION = "Loadfall Picture"
DIM = "#cfd3d8"


@dataclass(frozen=True, kw_only=True)
class Shot:
    """A picture to make.

    Attributes:
        view: where from.
        title, lines: headline and what stands under it.
        labels: words about points of the world, the most important first.
        is_left_out: whether a member or wall, by its object, is left out.
        is_dimmed: whether a member is shown without its colour.
        path: load path to draw over it, or None.
        has_legend: whether the shading is explained.
        caution: the line along the lower edge.
    """

    view: stage.View
    title: str
    lines: tuple[str, ...]
    labels: tuple[Label, ...] = ()
    is_left_out: Callable[[bpy.types.Object], bool] = lambda _obj: False
    is_dimmed: Callable[[bpy.types.Object], bool] = lambda _obj: False
    path: PathView | None = None
    has_legend: bool = True
    caution: str = ""


@dataclass(frozen=True)
class Format:
    """Size and quality of a picture."""

    size: tuple[int, int] = (1440, 900)
    samples: int = field(default=12)


def take(
    roof: bpy.types.Object, scene: bpy.types.Scene, shot: Shot, path: Path, how: Format
) -> None:
    """Render a shot to a file; the scene must be the active one."""
    set_up(roof, scene, shot, how)
    scene.render.filepath = str(path)
    bpy.ops.render.render(write_still=True, scene=scene.name)


def set_up(
    roof: bpy.types.Object, scene: bpy.types.Scene, shot: Shot, how: Format
) -> None:
    """Put camera, light and sheet of a shot into a scene, instead of any before."""
    folder = _fresh_collection(scene)
    stage.settings(scene, how.size, how.samples)
    stage.light(scene, folder)
    camera = stage.add_camera(scene, shot.view, folder, "Loadfall Camera")
    _dress(members.members_of(roof).values(), shot)
    for obj in roof.children:
        if walls.is_wall(obj):
            obj.hide_render = shot.is_left_out(obj)
            obj.display_type = "WIRE" if obj.hide_render else "TEXTURED"
    stage.floor(folder, [o for o in roof.children if walls.is_wall(o)])
    bpy.context.view_layer.update()
    sheet = Sheet(camera, how.size, folder)
    taken = [words.headline(sheet, shot.title, shot.lines)]
    taken.append(words.caution(sheet, shot.caution))
    if shot.has_legend:
        taken.append(words.legend(sheet))
    if shot.path is not None:
        words.load_path(sheet, camera, shot.path, np.array(roof.matrix_world))
    words.write_labels(sheet, camera, shot.labels, taken)


def _dress(objects: Iterable[bpy.types.Object], shot: Shot) -> None:
    """Leave out and dim the members that the shot says."""
    shaded = shading.material()
    dim = shading.plain("Loadfall Dimmed", DIM)
    for obj in objects:
        left_out = shot.is_left_out(obj)
        obj.hide_render = left_out
        obj.display_type = "WIRE" if left_out else "TEXTURED"
        obj.material_slots[0].link = "OBJECT"
        obj.material_slots[0].material = dim if shot.is_dimmed(obj) else shaded


def role(obj: bpy.types.Object) -> str:
    """Return the role of a member's object."""
    return str(obj[Key.ROLE.value])


def key(obj: bpy.types.Object) -> str:
    """Return the key of a member's or a wall's object."""
    return str(obj.get(Key.MEMBER.value) or obj.get(WALL_KEY))


def _fresh_collection(scene: bpy.types.Scene) -> bpy.types.Collection:
    """Return the scene's empty collection for camera, light and sheet."""
    for child in scene.collection.children:
        if child.name.startswith(_COLLECTION):
            bpy.data.batch_remove(list(child.objects))
            bpy.data.orphans_purge(do_recursive=True)
            return child
    made = bpy.data.collections.new(_COLLECTION)
    scene.collection.children.link(made)
    return made
