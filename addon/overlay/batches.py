"""Roofs of a scene turned into batches for the graphics card, kept while they hold.

Reads the scene, keeps no Blender reference: a batch is known by the roof's session
id, the outcome's serial number and what is visible.
"""

from dataclasses import dataclass

import bpy
import gpu
import numpy as np
from gpu_extras.batch import batch_for_shader

from ..bridge import drawing, members, view
from ..bridge.drawing import Drawn, PathView
from ..properties import find_roof, is_roof
from . import extract, palette, shaders


@dataclass(frozen=True, eq=False)
class Shown:
    """A roof as it is shown now.

    Attributes:
        name: of the roof object.
        drawn: its members as boxes.
        visible: (n,) which of them are seen.
        path: the picked member's load path, or None.
        picked: key of the picked member, or "".
        matrix: (4, 4) from the roof's own m to Blender's world.
        is_old: whether the numbers are those of the roof before the last edit.
    """

    name: str
    drawn: Drawn
    visible: np.ndarray
    path: PathView | None
    picked: str
    matrix: np.ndarray
    is_old: bool = False


def shown_roofs(context: bpy.types.Context, with_path: bool) -> list[Shown]:
    """Return the roofs of a view with what is visible of them."""
    out = []
    for obj in context.scene.objects:
        if not is_roof(obj) or obj.name not in context.view_layer.objects:
            continue
        outcome = view.outcome_of(obj)
        if outcome is None:
            continue
        moved = view.moved_of(obj)
        lines = drawing.drawn_moved(outcome, moved) if moved else drawing.drawn(outcome)
        picked = _picked(context, obj)
        if not picked and with_path:
            picked = view.summary(outcome).worst
        path = None
        if with_path and picked and moved is None:
            path = drawing.path(outcome, picked)
        scale = context.scene.unit_settings.scale_length
        matrix = np.array(obj.matrix_world) @ np.diag([*[1 / scale] * 3, 1.0])
        visible = _visible(context, obj, lines)
        is_old = moved is not None
        out.append(Shown(obj.name, lines, visible, path, picked, matrix, is_old))
    return out


def _picked(context: bpy.types.Context, roof: bpy.types.Object) -> str:
    """Return the key of the active member when it is one of this roof."""
    key = members.member_key(context.object)
    return key if key and find_roof(context.object) == roof else ""


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
        self._order: list[Drawn] = []

    def surface(self, shown: Shown, lit: np.ndarray) -> gpu.types.GPUBatch:
        """Return the shaded members of a roof.

        Args:
            shown: the roof.
            lit: (n,) members to shade; the others are left to the viewport.
        """
        key = (id(shown.drawn), lit.tobytes())
        if key not in self._kept:
            if len(self._kept) > 8:
                self.clear()
            self._order.append(shown.drawn)  # keeps its id from being used again
            self._kept[key] = _surface_batch(shown, lit)
        return self._kept[key]

    def clear(self) -> None:
        """Give all batches up."""
        self._kept.clear()
        self._order.clear()


def _surface_batch(shown: Shown, lit: np.ndarray) -> gpu.types.GPUBatch:
    """Return a batch of the lit members of a roof."""
    lines = shown.drawn
    boxes, owner = extract.kept(lines.boxes, lines.owner, lit)
    colour = extract.member_colours(lines.use, lines.state, lit)
    if shown.is_old:
        neutral = palette.to_linear(palette.srgb(palette.NEUTRAL))
        colour[:, :3] = 0.4 * colour[:, :3] + 0.6 * neutral
    pattern = palette.patterns(lines.use, lines.state)
    made = extract.surfaces(boxes, owner, colour, pattern)
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
