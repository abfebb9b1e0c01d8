"""Patches of roof that were asked about, each with its ways to the supports."""

import bpy
import gpu
import numpy as np
from gpu_extras.batch import batch_for_shader

from . import palette, tags
from .batches import Shown
from .labels import Box
from .scales import Legend

LEGEND = Legend(
    title="Where a load on the patch ends up",
    notes=(
        "Lines lead straight to the support; the wider, the more of it",
        "Shares are exact: they add to all of it",
    ),
)
_COLOURS = ("#2b4f94", "#c8641e", "#6c4473", "#2f7f6f")
_THIN, _WIDE = 2.0, 9.0


def _colour(n: int) -> np.ndarray:
    """Return the sRGB colour of the nth patch."""
    return palette.srgb(_COLOURS[n % len(_COLOURS)])


def draw_view(context: bpy.types.Context, shown: Shown) -> None:
    """Fill every patch and draw its lines over everything else."""
    scale = context.preferences.system.ui_scale
    gpu.state.blend_set("ALPHA")
    for n, patch in enumerate(shown.patches):
        colour = tuple(palette.to_linear(_colour(n)))
        corners = [tags.world_point(shown, p) for p in patch.corners]
        flat = gpu.shader.from_builtin("UNIFORM_COLOR")
        batch = batch_for_shader(
            flat,
            "TRIS",
            {"pos": np.array(corners, dtype=np.float32)},
            indices=[(0, 1, 2), (0, 2, 3)],
        )
        flat.bind()
        flat.uniform_float("color", (*colour, 0.85))
        batch.draw(flat)
        _draw_ways(shown, n, colour, scale)
    gpu.state.blend_set("NONE")


def _draw_ways(shown: Shown, n: int, colour: tuple, scale: float) -> None:
    """Draw the lines from a patch to its supports."""
    patch = shown.patches[n]
    line = gpu.shader.from_builtin("POLYLINE_UNIFORM_COLOR")
    line.bind()
    line.uniform_float("viewportSize", gpu.state.viewport_get()[2:])
    middle = patch.corners.mean(axis=0)
    edge = tuple(palette.to_linear(palette.srgb(palette.HATCHED)))
    for (_, end), part in zip(patch.ends, patch.shares.values(), strict=True):
        points = [tags.world_point(shown, p) for p in (middle, end)]
        data = {"pos": np.array(points, dtype=np.float32)}
        for extra, tint in ((3.0, edge), (0.0, colour)):
            batch = batch_for_shader(line, "LINES", data)
            wide = _THIN + (_WIDE - _THIN) * min(abs(part), 1.0) + extra
            line.uniform_float("color", (*tint, 1.0))
            line.uniform_float("lineWidth", wide * scale)
            batch.draw(line)


def draw_labels(
    context: bpy.types.Context, roofs: list[Shown], scale: float, taken: list[Box]
) -> None:
    """Write every share at its support."""
    wanted = [
        (words, tags.world_point(shown, end))
        for shown in roofs
        for patch in shown.patches
        for words, end in patch.ends
    ]
    if wanted:
        tags.write_all(context, wanted, scale, taken)
