"""The load path of the picked member: a chain of lines, arrows and forces."""

import bpy
import gpu
import numpy as np
from gpu_extras.batch import batch_for_shader

from . import extract, ink, palette, tags
from .batches import Shown
from .labels import Box

_DOWN = (1.0, 0.93, 0.36, 1.0)  # what the picked member hands on
_IN = (0.93, 0.95, 1.0, 1.0)  # what others bring to it
_EDGE = (0.09, 0.06, 0.12, 1.0)
_THIN, _WIDE = 2.5, 9.0
_MOST = 9  # forces written for one load path


def _chains(shown: Shown) -> list[tuple[extract.PathLines, ink.Colour]]:
    """Return the path's lines in the roof's axes with their colours."""
    out = []
    largest = max((b.force for b in shown.path.branches), default=0.0)
    for incoming, colour in ((True, _IN), (False, _DOWN)):
        branches = [b for b in shown.path.branches if b.is_incoming == incoming]
        lines = extract.path_lines(
            np.array([b.start for b in branches]).reshape(-1, 3),
            np.array([b.end for b in branches]).reshape(-1, 3),
            np.array([b.force for b in branches]),
            np.array([b.is_ground for b in branches], dtype=bool),
            largest,
        )
        out.append((lines, colour))
    return out


def draw_lines(context: bpy.types.Context, shown: Shown) -> None:
    """Draw the chain over everything else, each line as wide as its force asks."""
    scale = context.preferences.system.ui_scale
    shader = gpu.shader.from_builtin("POLYLINE_UNIFORM_COLOR")
    shader.bind()
    shader.uniform_float("viewportSize", gpu.state.viewport_get()[2:])
    gpu.state.blend_set("ALPHA")
    for lines, own in _chains(shown):
        for extra, colour in ((3.0, _EDGE), (0.0, own)):
            shader.uniform_float("color", (*palette.to_linear(colour[:3]), 1.0))
            for segment, width in zip(lines.segments, lines.width, strict=True):
                ends = [tags.world_point(shown, p) for p in segment]
                batch = batch_for_shader(
                    shader, "LINES", {"pos": np.array(ends, dtype=np.float32)}
                )
                thick = (_THIN + (_WIDE - _THIN) * width + extra) * scale
                shader.uniform_float("lineWidth", thick)
                batch.draw(shader)
    gpu.state.blend_set("NONE")


def draw_labels(
    context: bpy.types.Context, roofs: list[Shown], scale: float, taken: list[Box]
) -> None:
    """Draw arrow heads, and write what is handed over at each joint."""
    wanted = []
    for shown in roofs:
        if shown.path is None:
            continue
        _draw_heads(context, shown, scale)
        said = [b for b in shown.path.branches if b.text]
        said.sort(key=lambda b: -b.force)
        wanted += [(b.text, tags.world_point(shown, b.end)) for b in said[:_MOST]]
    tags.write_all(context, wanted, scale, taken)


def _draw_heads(context: bpy.types.Context, shown: Shown, scale: float) -> None:
    """Draw the arrow heads as they lie on the screen."""
    matrix = context.region_data.perspective_matrix
    size = (context.region.width, context.region.height)
    for lines, own in _chains(shown):
        for head, way, width in zip(
            lines.heads, lines.direction, lines.width, strict=True
        ):
            tip = ink.project(matrix, size, tags.world_point(shown, head))
            on = ink.project(matrix, size, tags.world_point(shown, head + 0.05 * way))
            if tip is None or on is None or np.hypot(*np.subtract(on, tip)) < 1e-3:
                continue
            for extra, colour in ((2.5, _EDGE), (0.0, own)):
                _draw_head(tip, on, (6.0 + 6.0 * width + extra) * scale, colour)


def _draw_head(
    tip: tuple[float, float],
    on: tuple[float, float],
    reach: float,
    colour: ink.Colour,
) -> None:
    """Draw one arrow head that points on from a place, pixels."""
    along = np.subtract(on, tip)
    along = along / np.hypot(*along)
    side = np.array([-along[1], along[0]])
    back = np.array(tip) - along * reach * 0.7
    corners = [np.array(tip) + along * reach, back + side * reach * 0.8]
    ink.polygon([tuple(c) for c in (*corners, back - side * reach * 0.8)], colour)
