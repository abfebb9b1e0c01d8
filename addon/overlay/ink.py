"""Flat shapes and text on the screen, in pixels."""

from dataclasses import dataclass

import blf
import bpy
import gpu
from gpu_extras.batch import batch_for_shader

from . import palette
from .labels import Box

FONT = 0
Colour = tuple[float, float, float, float]


@dataclass(frozen=True)
class Paper:
    """What is written on, and in which colours, sRGB."""

    plaque: Colour
    text: Colour
    dim: Colour


_DARK = Paper((0.055, 0.06, 0.075, 0.88), (0.96, 0.96, 0.95, 1.0), (0.8, 0.8, 0.78, 1))
_LIGHT = Paper((0.97, 0.97, 0.96, 0.93), (0.07, 0.07, 0.09, 1.0), (0.3, 0.3, 0.32, 1))


def paper() -> Paper:
    """Return dark paper in a dark theme and light paper in a light one."""
    themes = bpy.context.preferences.themes
    if not len(themes):
        return _DARK
    text = themes[0].user_interface.wcol_menu_back.text
    return _DARK if sum(text[:3]) > 1.5 else _LIGHT


def rectangle(box: Box, colour: Colour) -> None:
    """Fill a rectangle."""
    x, y, right, top = box.x, box.y, box.x + box.width, box.y + box.height
    polygon([(x, y), (right, y), (right, top), (x, top)], colour)


def polygon(points: list[tuple[float, float]], colour: Colour) -> None:
    """Fill a convex polygon."""
    shader = gpu.shader.from_builtin("UNIFORM_COLOR")
    fan = [(0, k, k + 1) for k in range(1, len(points) - 1)]
    batch = batch_for_shader(shader, "TRIS", {"pos": points}, indices=fan)
    shader.bind()
    shader.uniform_float("color", colour)
    batch.draw(shader)


def line(points: list[tuple[float, float]], colour: Colour, width: float) -> None:
    """Draw a line through points."""
    shader = gpu.shader.from_builtin("POLYLINE_UNIFORM_COLOR")
    raised = [(x, y, 0.0) for x, y in points]
    batch = batch_for_shader(shader, "LINE_STRIP", {"pos": raised})
    shader.bind()
    _, _, wide, high = gpu.state.viewport_get()
    shader.uniform_float("viewportSize", (wide, high))
    shader.uniform_float("lineWidth", width)
    shader.uniform_float("color", colour)
    batch.draw(shader)


def measure(text: str, size: float) -> tuple[float, float]:
    """Return the width of a text and the height of its line, pixels."""
    blf.size(FONT, size)
    return blf.dimensions(FONT, text)[0], size * 1.25


def write(
    text: str, x: float, y: float, size: float, colour: Colour | None = None
) -> None:
    """Write text with its baseline's left end at a place."""
    blf.size(FONT, size)
    blf.color(FONT, *(colour or paper().text))
    blf.position(FONT, x, y, 0)
    blf.draw(FONT, text)


def plaque(text: str, box: Box, size: float) -> None:
    """Write text on a plaque."""
    rectangle(box, paper().plaque)
    width, _ = measure(text, size)
    x = box.x + (box.width - width) / 2
    write(text, x, box.y + box.height / 2 - size * 0.36, size)


def swatch(box: Box, colour: Colour, ink: Colour, pattern: float) -> None:
    """Fill a rectangle with a colour under a pattern, see palette.patterns."""
    rectangle(Box(box.x - 1, box.y - 1, box.width + 2, box.height + 2), ink)
    rectangle(box, colour)
    if pattern <= 0:
        return
    if pattern >= palette.DOTS:
        _dots(box, ink)
        return
    plain = 0.4 if pattern >= palette.BACKWARD else 0.3
    share = pattern if pattern <= 1.0 else plain
    step = box.height * 0.7
    count = int((box.width + box.height) / step) + 1
    for k in range(count):
        start = box.x - box.height + k * step
        if pattern < palette.BACKWARD:
            _stripe(box, start, step * share, ink, 1)
        if pattern >= palette.HATCH:
            _stripe(box, start, step * share, ink, -1)


def _dots(box: Box, ink: Colour) -> None:
    """Fill a rectangle with dots."""
    step = box.height / 2
    side = step * 0.45
    for row in range(2):
        y = box.y + (row + 0.5) * step - side / 2
        for k in range(int(box.width / step)):
            x = box.x + (k + 0.5) * step - side / 2
            rectangle(Box(x, y, side, side), ink)


def _stripe(box: Box, start: float, width: float, ink: Colour, lean: int) -> None:
    """Draw one leaning stripe, cut to the rectangle."""
    low, high = (0.0, box.height) if lean > 0 else (box.height, 0.0)
    corners = [
        (start + low, box.y),
        (start + width + low, box.y),
        (start + width + high, box.y + box.height),
        (start + high, box.y + box.height),
    ]
    cut = [(min(max(x, box.x), box.x + box.width), y) for x, y in corners]
    if len({x for x, _ in cut}) > 1:
        polygon(cut, ink)


def project(
    matrix: object, size: tuple[float, float], point: object
) -> tuple[float, float] | None:
    """Return where a point lies on the screen, None behind the viewer.

    Args:
        matrix: (4, 4) of the view, as nested rows or an array.
        size: width and height of the region, pixels.
        point: (3,) in Blender's world.
    """
    x, y, _, w = (
        sum(row[k] * v for k, v in enumerate((*point, 1.0)))  # type: ignore[misc]
        for row in matrix  # type: ignore[attr-defined]
    )
    if w <= 1e-6:
        return None
    return (x / w + 1) / 2 * size[0], (y / w + 1) / 2 * size[1]
