"""The legend: what the shading means, in whose units, and the caution."""

import textwrap

import bpy

from . import ink, palette
from .batches import Shown
from .labels import Box
from .scales import Legend, Swatch

_SHORT = "A pre-check: an engineer and the local code decide"
_OLD = "Out of date: solved again once you let go"
_PATH = "Wider: more force. White: what others bring to it"
_SCALE, _BEYOND = 180, 110  # pixels at a scale of 1
_CHARS = 62  # of a note in a line
_ROW = 20  # from swatch to swatch


def of_path(roofs: list[Shown]) -> Legend:
    """Return the legend of the load path that is shown."""
    title = next((r.path.title for r in roofs if r.path), "No load path to show")
    return Legend(title=title, notes=(_PATH,))


def draw(
    context: bpy.types.Context, legend: Legend, scale: float, *, is_old: bool
) -> list[Box]:
    """Draw the legend; return the place that it takes."""
    small, size = 11 * scale, 13 * scale
    paper = ink.paper()
    notes = [
        line for note in (*legend.notes, _SHORT) for line in textwrap.wrap(note, _CHARS)
    ]
    wide = _swatch_width(legend.swatches, scale)
    left = _left_edge(context)
    columns = 2 if wide * 2 + 52 * scale < _right_edge(context) - left else 1
    rows = -(-len(legend.swatches) // columns)
    width = max(
        330 * scale,
        ink.measure(legend.title, size)[0] + 24 * scale,
        *(ink.measure(words, small)[0] + 24 * scale for words in notes),
        wide * columns + 24 * scale if legend.swatches else 0.0,
    )
    height = (34 + (42 if legend.bands else 0) + rows * _ROW + len(notes) * 16) * scale
    margin = 14 * scale
    box = Box(left + margin, _foot(context) + margin, width, height)
    ink.rectangle(box, paper.plaque)
    x, y = box.x + 12 * scale, box.y + box.height - 22 * scale
    ink.write(legend.title, x, y, size)
    if legend.bands:
        _draw_scale(legend, Box(x, y - 28 * scale, _SCALE * scale, 16 * scale), scale)
        y -= 42 * scale
    for n, swatch in enumerate(legend.swatches):
        down = (n // columns + 1) * _ROW * scale
        at = Box(x + (n % columns) * wide, y - down, 0, 0)
        _draw_swatch(swatch, at, scale)
    for n, words in enumerate(reversed(notes)):
        ink.write(words, x, box.y + (9 + 16 * n) * scale, small, paper.dim)
    if not is_old:
        return [box]
    flag = Box(box.x, box.y + box.height + 6 * scale, width, 26 * scale)
    ink.rectangle(flag, (*palette.srgb(palette.INK), 0.95))
    white = (*palette.srgb(palette.HATCHED), 1.0)
    ink.write(_OLD, x, flag.y + 8 * scale, size, white)
    return [box, flag]


def _swatch_width(swatches: tuple[Swatch, ...], scale: float) -> float:
    """Return the width of a column of swatches."""
    widest = max((ink.measure(s.words, 11 * scale)[0] for s in swatches), default=0.0)
    return widest + 56 * scale


def _draw_swatch(swatch: Swatch, at: Box, scale: float) -> None:
    """Draw one swatch with its words."""
    box = Box(at.x, at.y, 30 * scale, 14 * scale)
    ink.swatch(box, (*swatch.colour, 1.0), _dark(), swatch.pattern)
    ink.write(swatch.words, at.x + 38 * scale, at.y + 3 * scale, 11 * scale)


def _draw_scale(legend: Legend, box: Box, scale: float) -> None:
    """Draw the scale with its ticks, and what lies beyond its end."""
    step = box.width / len(legend.bands)
    for k, band in enumerate(legend.bands):
        part = Box(box.x + k * step, box.y, step + 0.5, box.height)
        ink.rectangle(part, (*band.colour, 1.0))
    for at, words in legend.ticks:
        wide, _ = ink.measure(words, 11 * scale)
        x = max(box.x + at * box.width - wide / 2, box.x)
        ink.write(words, x, box.y - 13 * scale, 11 * scale)
    if not legend.beyond:
        return
    over = Box(box.x + box.width + 10 * scale, box.y, _BEYOND * scale, box.height)
    step = over.width / len(legend.beyond)
    for k, swatch in enumerate(legend.beyond):
        part = Box(over.x + k * step, over.y, step, over.height)
        ink.swatch(part, (*swatch.colour, 1.0), _dark(), swatch.pattern)
    wide, _ = ink.measure(legend.beyond_words, 11 * scale)
    x = over.x + max(over.width - wide, 0.0)
    ink.write(legend.beyond_words, x, over.y - 13 * scale, 11 * scale)


def _dark() -> ink.Colour:
    """Return the colour of stripes and hatching."""
    return (*palette.srgb(palette.INK), 1.0)


def _left_edge(context: bpy.types.Context) -> float:
    """Return where the view is free of the toolbar, pixels."""
    if not context.preferences.system.use_region_overlap:
        return 0.0
    tools = [r for r in context.area.regions if r.type == "TOOLS"]
    return float(sum(r.width for r in tools if r.width > 1))


def _right_edge(context: bpy.types.Context) -> float:
    """Return where the sidebar begins, pixels."""
    right = float(context.region.width)
    if not context.preferences.system.use_region_overlap:
        return right
    sides = [r for r in context.area.regions if r.type == "UI"]
    return right - sum(r.width for r in sides if r.width > 1)


def _foot(context: bpy.types.Context) -> float:
    """Return the height of the last operation's panel in the lower left, pixels."""
    found = [r.height for r in context.area.regions if r.type == "HUD" and r.width > 1]
    return float(max((h for h in found if h > 1), default=0.0))
