"""Labels beside the members that a mode has something to say of."""

import bpy
import numpy as np

from . import ink, labels
from .batches import Shown
from .labels import Box

_MOST = 12


def draw(
    context: bpy.types.Context, roofs: list[Shown], scale: float, taken: list[Box]
) -> None:
    """Write marks, then the worst members' labels beside them, the picked one first."""
    found = []
    for shown in roofs:
        lines, reading = shown.drawn, shown.reading
        for n, (words, point) in enumerate(reading.marks):
            found.append(((0, n), words, world_point(shown, point)))
        for row, words in enumerate(reading.words):
            if not words or not shown.visible[row]:
                continue
            is_picked = lines.keys[row] == shown.picked
            text = f"{lines.keys[row]}  {words}" if is_picked else words
            rank = (1 - 2 * is_picked, -float(reading.weight[row]))
            middle = lines.lines[row].mean(axis=0)
            found.append((rank, text, world_point(shown, middle)))
    found.sort(key=lambda item: item[0])
    write_all(
        context, [(text, point) for _, text, point in found[:_MOST]], scale, taken
    )


def world_point(shown: Shown, point: np.ndarray) -> np.ndarray:
    """Return a point of a roof's own axes in Blender's world."""
    return shown.matrix[:3, :3] @ point + shown.matrix[:3, 3]


def write_all(
    context: bpy.types.Context,
    wanted: list[tuple[str, np.ndarray]],
    scale: float,
    taken: list[Box],
) -> None:
    """Write texts near points of the world so that none lies on another."""
    region, size = context.region, 12 * scale
    matrix = context.region_data.perspective_matrix
    spots = [ink.project(matrix, (region.width, region.height), p) for _, p in wanted]
    points = np.array([spot or (np.nan, np.nan) for spot in spots]).reshape(-1, 2)
    sizes = []
    for text, _ in wanted:
        width, height = ink.measure(text, size)
        sizes.append((width + 10 * scale, height + 4 * scale))
    bounds = _free_bounds(context, scale)
    for (text, _), point, box in zip(
        wanted, points, labels.place(points, sizes, bounds, taken), strict=True
    ):
        if box is not None:
            near = (
                min(max(point[0], box.x), box.x + box.width),
                min(max(point[1], box.y), box.y + box.height),
            )
            ink.line([tuple(point), near], ink.paper().text, 1.2 * scale)
            ink.plaque(text, box, size)


def _free_bounds(context: bpy.types.Context, scale: float) -> Box:
    """Return the part of the view that no other region covers."""
    left, right = 0.0, float(context.region.width)
    top = float(context.region.height)
    if context.preferences.system.use_region_overlap:
        for region in context.area.regions:
            if region.type == "UI" and region.width > 1:
                right -= region.width
            elif region.type == "TOOLS" and region.width > 1:
                left += region.width
            elif region.type in ("HEADER", "TOOL_HEADER") and region.height > 1:
                top -= region.height
    pad = 4 * scale
    return Box(left + pad, pad, right - left - 2 * pad, top - 2 * pad)
