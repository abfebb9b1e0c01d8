"""Puts the overlay on the screen: shaded members, load path, legend and labels.

Draws what extract.py and labels.py made; nothing is computed here but places on the
screen. Costs nothing while the scene's overlay is off.
"""

import bpy
import gpu
import numpy as np
from mathutils import Matrix, Vector

from ..properties import settings_of
from . import legend, patches, pathway, shaders, tags
from .batches import Batches, Shown, shown_roofs


class _Overlay:
    """The draw handlers and what they keep."""

    def __init__(self) -> None:
        self.handlers: list[object] = []
        self.batches = Batches()
        self.region = 0  # whose roofs are kept from the view's drawing to the pixels'
        self.roofs: list[Shown] = []


OVERLAY = _Overlay()


def _is_off(context: bpy.types.Context) -> bool:
    """Return whether this view shows no overlay; all that an idle overlay costs."""
    return (
        context.space_data is None
        or not settings_of(context.scene).show
        or not context.space_data.overlay.show_overlays
    )


def draw_view() -> None:
    """Shade the members in the view."""
    context = bpy.context
    OVERLAY.roofs, OVERLAY.region = [], context.region.as_pointer()
    if _is_off(context):
        return
    OVERLAY.roofs = shown_roofs(context)
    for shown in OVERLAY.roofs:
        lit = shown.visible
        if shown.patches:
            patches.draw_view(context, shown)
            continue
        if shown.path is not None:
            on_path = [key in shown.path.members for key in shown.drawn.keys]
            lit = lit & np.array(on_path)
        if lit.any():
            _draw_surfaces(context, shown, OVERLAY.batches.surface(shown, lit))
        if shown.reading.strips is not None:
            _draw_surfaces(context, shown, OVERLAY.batches.strips(shown))
        if shown.path is not None:
            pathway.draw_lines(context, shown)


def _draw_surfaces(
    context: bpy.types.Context, shown: Shown, batch: gpu.types.GPUBatch
) -> None:
    """Draw shaded surfaces just in front of the members themselves."""
    shader = shaders.surface()
    region = context.region_data
    world = Matrix(shown.matrix.tolist())
    back = world.inverted()
    shader.bind()
    shader.uniform_float("view", region.perspective_matrix @ world)
    inverse = region.view_matrix.inverted()
    if region.is_perspective:
        eye = (*(back @ inverse.translation), 1.0)
    else:
        away = back.to_3x3() @ (inverse.to_3x3() @ Vector((0.0, 0.0, -1.0)))
        eye = (*away.normalized(), 0.0)
    shader.uniform_float("eye", eye)
    shader.uniform_float("zoom", 1.0 / max(region.view_distance, 1e-6))
    gpu.state.depth_test_set("LESS_EQUAL")
    gpu.state.depth_mask_set(True)
    batch.draw(shader)
    gpu.state.depth_mask_set(False)
    gpu.state.depth_test_set("NONE")


def draw_pixels() -> None:
    """Write legend and labels over the view."""
    context = bpy.context
    roofs = OVERLAY.roofs if OVERLAY.region == context.region.as_pointer() else []
    OVERLAY.roofs = []
    if not roofs or _is_off(context):
        return
    settings = settings_of(context.scene)
    scale = context.preferences.system.ui_scale
    gpu.state.blend_set("ALPHA")
    is_path = settings.mode == "PATH"
    picked = next((r for r in roofs if r.reading.strips or r.picked), roofs[0])
    said = legend.of_path(roofs) if is_path else picked.reading.legend
    if any(shown.patches for shown in roofs):
        said = patches.LEGEND
    is_old = any(roof.is_old for roof in roofs)
    taken = legend.draw(context, said, scale, is_old=is_old)
    if is_path:
        pathway.draw_labels(context, roofs, scale, taken)
        patches.draw_labels(context, roofs, scale, taken)
    elif settings.labels:
        tags.draw(context, roofs, scale, taken)
    gpu.state.blend_set("NONE")


def register() -> None:
    """Add the draw handlers, unless there is no window to draw in."""
    if bpy.app.background:
        return
    add = bpy.types.SpaceView3D.draw_handler_add
    OVERLAY.handlers = [
        add(draw_view, (), "WINDOW", "POST_VIEW"),
        add(draw_pixels, (), "WINDOW", "POST_PIXEL"),
    ]


def unregister() -> None:
    """Remove the draw handlers and what they keep."""
    for handler in OVERLAY.handlers:
        bpy.types.SpaceView3D.draw_handler_remove(handler, "WINDOW")
    OVERLAY.handlers, OVERLAY.roofs = [], []
    OVERLAY.batches.clear()
    shaders.surface.cache_clear()
