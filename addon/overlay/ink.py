"""Flat shapes and text on the screen, in pixels."""

import blf
import gpu
from gpu_extras.batch import batch_for_shader

from .labels import Box

FONT = 0
PLAQUE = (0.055, 0.06, 0.075, 0.86)
TEXT = (0.96, 0.96, 0.95, 1.0)
DIM = (0.78, 0.78, 0.76, 1.0)

Colour = tuple[float, float, float, float]


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


def write(text: str, x: float, y: float, size: float, colour: Colour = TEXT) -> None:
    """Write text with its baseline's left end at a place."""
    blf.size(FONT, size)
    blf.color(FONT, *colour)
    blf.position(FONT, x, y, 0)
    blf.draw(FONT, text)


def plaque(text: str, box: Box, size: float, colour: Colour = PLAQUE) -> None:
    """Write text on a dark plaque."""
    rectangle(box, colour)
    width, _ = measure(text, size)
    x = box.x + (box.width - width) / 2
    write(text, x, box.y + box.height / 2 - size * 0.36, size)


def swatch(box: Box, colour: Colour, ink: Colour, share: float, *, cross: bool) -> None:
    """Fill a rectangle with a colour under stripes, or cross-hatching."""
    rectangle(box, colour)
    if share <= 0:
        return
    step = box.height * 0.7
    count = int((box.width + box.height) / step) + 1
    for k in range(count):
        start = box.x - box.height + k * step
        _stripe(box, start, step * share, ink, 1)
        if cross:
            _stripe(box, start, step * share, ink, -1)


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
