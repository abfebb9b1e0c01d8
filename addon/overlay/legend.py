"""The legend: what the shading means, in whose units, and the caution."""

import bpy

from ..bridge import view
from ..properties import settings_of
from . import ink, palette
from .batches import Shown
from .labels import Box

_BANDS = 25
_SHORT = "A pre-check: an engineer and the local code decide"
_OLD = "Out of date: solved again once you let go"


def draw(context: bpy.types.Context, roofs: list[Shown], scale: float) -> list[Box]:
    """Draw the legend; return the place that it takes."""
    settings = settings_of(context.scene)
    small, size = 11 * scale, 13 * scale
    title = next((r.path.title for r in roofs if r.path), "No load path to show")
    words = "Wider: more force. White: what others bring to it"
    width = 330 * scale
    if settings.mode == "PATH":
        widest = max(ink.measure(title, size)[0], ink.measure(words, small)[0])
        width = max(width, widest + 24 * scale)
    height = (128 if settings.mode == "UTILISATION" else 74) * scale
    margin = 14 * scale
    box = Box(_left_edge(context) + margin, _foot(context) + margin, width, height)
    ink.rectangle(box, ink.PLAQUE)
    x, top = box.x + 12 * scale, box.y + box.height
    if settings.mode == "UTILISATION":
        ink.write("Use: demand over capacity", x, top - 22 * scale, size)
        _draw_scale(Box(x, top - 52 * scale, 180 * scale, 16 * scale), scale)
        _draw_states(x, top - 90 * scale, scale)
    else:
        ink.write(title, x, top - 22 * scale, size)
        ink.write(words, x, top - 42 * scale, small, ink.DIM)
    ink.write(_SHORT, x, box.y + 10 * scale, small, ink.DIM)
    if not any(roof.is_old for roof in roofs):
        return [box]
    flag = Box(box.x, box.y + box.height + 6 * scale, width, 26 * scale)
    ink.rectangle(flag, (*palette.srgb(palette.INK), 0.95))
    ink.write(_OLD, x, flag.y + 8 * scale, size)
    return [box, flag]


def _left_edge(context: bpy.types.Context) -> float:
    """Return where the view is free of the toolbar, pixels."""
    if not context.preferences.system.use_region_overlap:
        return 0.0
    tools = [r for r in context.area.regions if r.type == "TOOLS"]
    return float(sum(r.width for r in tools if r.width > 1))


def _foot(context: bpy.types.Context) -> float:
    """Return the height of the last operation's panel in the lower left, pixels."""
    found = [r.height for r in context.area.regions if r.type == "HUD" and r.width > 1]
    return float(max((h for h in found if h > 1), default=0.0))


def _draw_scale(box: Box, scale: float) -> None:
    """Draw the scale of use up to the limit, and the stripes beyond it."""
    step = box.width / _BANDS
    use = [(k + 0.5) / _BANDS for k in range(_BANDS)]
    for k, colour in enumerate(palette.colours(use, [palette.State.RATED] * _BANDS)):
        band = Box(box.x + k * step, box.y, step + 0.5, box.height)
        ink.rectangle(band, (*colour, 1.0))
    for at, words in ((0.0, "0"), (0.5, "0.5"), (1.0, "1")):
        wide, _ = ink.measure(words, 11 * scale)
        x = box.x + at * box.width - wide / 2
        ink.write(words, x, box.y - 13 * scale, 11 * scale)
    over = Box(box.x + box.width + 10 * scale, box.y, 110 * scale, box.height)
    for k, use in enumerate((1.1, 1.6, 2.5)):
        part = Box(over.x + k * over.width / 3, over.y, over.width / 3, over.height)
        colour = palette.colours([use], [palette.State.RATED])[0]
        share = palette.patterns([use], [palette.State.RATED])[0]
        ink.swatch(part, (*colour, 1.0), _dark(), float(share), cross=False)
    ink.write("over its limit", over.x, over.y - 13 * scale, 11 * scale)


def _dark() -> ink.Colour:
    """Return the colour of stripes and hatching."""
    return (*palette.srgb(palette.INK), 1.0)


def _draw_states(x: float, y: float, scale: float) -> None:
    """Draw what has no use: no load path, and pieces that are not counted."""
    size = 11 * scale
    first = Box(x, y, 30 * scale, 14 * scale)
    ink.swatch(first, (*palette.srgb(palette.HATCHED), 1.0), _dark(), 0.3, cross=True)
    ink.write("no load path", x + 38 * scale, y + 3 * scale, size)
    second = Box(x + 150 * scale, y, 30 * scale, 14 * scale)
    ink.rectangle(second, (*palette.srgb(palette.NEUTRAL), 1.0))
    ink.write("drawn, not counted", x + 188 * scale, y + 3 * scale, size)


CAUTION = view.CAUTION
