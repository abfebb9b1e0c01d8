"""Roofs of a scene turned into batches for the graphics card, kept while they hold.

Reads the scene, keeps no Blender reference: a batch is known by the roof's session
id, the outcome's serial number and what is visible.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import bpy
import gpu
import numpy as np
from gpu_extras.batch import batch_for_shader

from ...solver.units import System
from ..bridge import asking, drawing, members, readings, view, walls
from ..bridge.asking import Patch
from ..bridge.drawing import Drawn, PathView
from ..bridge.readings import Asked, Reading
from ..bridge.strips import Strips
from ..properties import find_roof, is_roof, roof_of, settings_of
from . import extract, palette, shaders


@dataclass(frozen=True, eq=False)
class Shown:
    """A roof as it is shown now.

    Attributes:
        name: of the roof object.
        drawn: its members as boxes.
        reading: how they look in the mode.
        visible: (n,) which of them are seen.
        path: the picked member's load path, or None.
        patches: patches of roof that were asked about.
        picked: key of the picked member or owner of the picked wall, or "".
        matrix: (4, 4) from the roof's own m to Blender's world.
        is_old: whether the numbers are those of the roof before the last edit.
    """

    name: str
    drawn: Drawn
    reading: Reading
    visible: np.ndarray
    path: PathView | None
    patches: tuple[Patch, ...]
    picked: str
    matrix: np.ndarray
    is_old: bool = False


def shown_roofs(context: bpy.types.Context) -> list[Shown]:
    """Return the roofs of a view with what is visible of them."""
    settings = settings_of(context.scene)
    known = [
        (obj, outcome)
        for obj in context.scene.objects
        if is_roof(obj)
        and obj.name in context.view_layer.objects
        and (outcome := view.outcome_of(obj)) is not None
    ]
    lengths = _lengths(context, known)
    top = 0.0
    if settings.mode in ("SAG_NOW", "SAG_TEN"):
        top = readings.sag_top([outcome for _, outcome in known], lengths)
    asked = Asked(settings.mode, "", lengths, top, settings.quantity)
    return [_shown(context, obj, outcome, asked) for obj, outcome in known]


def _shown(
    context: bpy.types.Context, obj: bpy.types.Object, outcome: object, asked: Asked
) -> Shown:
    """Return one roof as it is shown."""
    moved = view.moved_of(obj)
    picked = _picked(context, obj)
    about = asked.mode in ("PATH", "INFLUENCE")
    if not picked and about and find_roof(context.object) in (obj, None):
        picked = view.summary(outcome).worst
    path, patches = None, ()
    if asked.mode == "PATH" and context.object == obj and moved is None:
        patches = _patches(obj, outcome)
    if asked.mode == "PATH" and picked and moved is None and not patches:
        path = drawing.path(outcome, picked)
    lines = drawing.drawn(outcome)
    reading = readings.reading(outcome, replace(asked, picked=picked))
    if moved is not None:
        old, lines = lines, drawing.drawn_moved(outcome, moved)
        reading = reading.moved([old.row.get(key, -1) for key in lines.keys])
    scale = context.scene.unit_settings.scale_length
    matrix = np.array(obj.matrix_world) @ np.diag([*[1 / scale] * 3, 1.0])
    return Shown(
        name=obj.name,
        drawn=lines,
        reading=reading,
        visible=_visible(context, obj, lines),
        path=path,
        patches=patches,
        picked=picked,
        matrix=matrix,
        is_old=moved is not None,
    )


def _patches(roof: bpy.types.Object, outcome: object) -> tuple[Patch, ...]:
    """Return the patches of a roof that were asked about."""
    points = [tuple(a.point) for a in roof_of(roof).asked if a.kind == "PATCH"]
    found = [asking.patch(outcome, point) for point in points]
    return tuple(patch for patch in found if patch is not None)


def _lengths(context: bpy.types.Context, known: list[tuple]) -> System:
    """Return the units of lengths: the scene's, or the first roof's where it has none.

    The scene's unit system may be none at all.
    """
    system = context.scene.unit_settings.system
    if system == "NONE" and known:
        return view.system_of(known[0][1])
    return System.METRIC if system == "METRIC" else System.IMPERIAL


def _picked(context: bpy.types.Context, roof: bpy.types.Object) -> str:
    """Return the picked member's key or wall's owner when it is one of this roof."""
    obj = context.object
    if obj is None or find_roof(obj) != roof:
        return ""
    return members.member_key(obj) or walls.owner_of_wall(obj)


def _visible(
    context: bpy.types.Context, roof: bpy.types.Object, lines: Drawn
) -> np.ndarray:
    """Return (n,) which members are seen in this view."""
    seen = np.zeros(len(lines.keys), dtype=bool)
    space = context.space_data
    for key, obj in members.members_of(roof).items():
        if key in lines.row:
            seen[lines.row[key]] = (
                obj.visible_get(viewport=space) and obj.mode != "EDIT"
            )
    return seen


class Batches:
    """The batches of the last few roofs that were drawn."""

    def __init__(self) -> None:
        self._kept: dict[tuple, gpu.types.GPUBatch] = {}
        self._order: list[object] = []

    def surface(self, shown: Shown, lit: np.ndarray) -> gpu.types.GPUBatch:
        """Return the shaded members of a roof.

        Args:
            shown: the roof.
            lit: (n,) members to shade; the others are left to the viewport.
        """
        about = (shown.drawn, shown.reading)
        key = (id(about[0]), id(about[1]), lit.tobytes())
        return self._get(key, about, lambda: _surface_batch(shown, lit))

    def strips(self, shown: Shown) -> gpu.types.GPUBatch:
        """Return the shaded stretches of roof and ceiling."""
        strips = shown.reading.strips
        return self._get((id(strips),), (strips,), lambda: _strip_batch(strips))

    def _get(
        self, key: tuple, about: tuple, make: Callable[[], gpu.types.GPUBatch]
    ) -> gpu.types.GPUBatch:
        """Return a kept batch, made where it is missing."""
        if key not in self._kept:
            if len(self._kept) > 8:
                self.clear()
            self._order += about  # keeps their ids from being used again
            self._kept[key] = make()
        return self._kept[key]

    def clear(self) -> None:
        """Give all batches up."""
        self._kept.clear()
        self._order.clear()


def _surface_batch(shown: Shown, lit: np.ndarray) -> gpu.types.GPUBatch:
    """Return a batch of the lit members of a roof."""
    lines, reading = shown.drawn, shown.reading
    boxes, owner = extract.kept(lines.boxes, lines.owner, lit)
    colour = extract.light(reading.colour)
    if shown.is_old:
        neutral = palette.to_linear(palette.srgb(palette.NEUTRAL))
        colour[:, :3] = 0.4 * colour[:, :3] + 0.6 * neutral
    return _batch(extract.surfaces(boxes, owner, colour, reading.pattern))


def _strip_batch(strips: Strips) -> gpu.types.GPUBatch:
    """Return a batch of shaded stretches."""
    return _batch(
        extract.sheets(strips.quads, extract.light(strips.colour), strips.pattern)
    )


def _batch(made: extract.Surfaces) -> gpu.types.GPUBatch:
    """Return a batch of triangles for the shader of surfaces."""
    return batch_for_shader(
        shaders.surface(),
        "TRIS",
        {
            "pos": made.position,
            "normal": made.normal,
            "colour": made.colour,
            "pattern": made.pattern,
            "along": made.along,
        },
        indices=made.triangles,
    )
