"""What is written over a picture: headline, legend, labels with leaders, load paths.

Places on the sheet only; the words come from whoever composes the picture.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import bpy
import numpy as np

from ..bridge.drawing import PathView
from ..overlay import extract, labels, palette
from ..overlay.labels import Box
from . import stage
from .sheet import Sheet

DARK = "#17191f"
SOFT = "#4a515c"
PAPER = "#ffffff"
ALARM = "#a3240f"
DOWN = "#ffd83d"

_STATES = palette.State
LEGEND_WIDTH = 452.0


@dataclass(frozen=True, eq=False)
class Label:
    """Words about a point of the world.

    Attributes:
        words: one line.
        point: (3,) Blender units.
        is_alarm: whether it says that something does not pass.
        size: height of the letters, pixels.
        aside: pixels right and up of the point, where the middle of the label should
            be; None where any near place will do.
    """

    words: str
    point: np.ndarray
    is_alarm: bool = False
    size: float = 22.0
    aside: tuple[float, float] | None = None


def headline(sheet: Sheet, title: str, lines: Sequence[str]) -> Box:
    """Write a headline with a line or two under it; return the place it takes."""
    size, small = 40.0, 23.0
    x, y = 36.0, sheet.height - 58.0
    widest = sheet.text(title, (x, y), size, DARK, bold=True)
    for n, line in enumerate(lines):
        width = sheet.text(line, (x, y - 38.0 - n * 31.0), small, SOFT)
        widest = max(widest, width)
    height = 58.0 + 31.0 * len(lines) + 20
    return Box(0.0, sheet.height - height, x + widest + 20, height)


def caution(sheet: Sheet, words: str) -> Box:
    """Write the caution along the lower edge; return the place it takes."""
    strip = Box(0.0, 0.0, sheet.width, 34.0)
    sheet.rectangle(strip, DARK)
    sheet.text(words, (sheet.width / 2, 11.0), 16.5, PAPER, middle=True)
    return strip


def legend(
    sheet: Sheet, corner: tuple[float, float] | None = None, large: float = 1.0
) -> Box:
    """Draw what the shading means; return the place it takes.

    Args:
        sheet: to draw on.
        corner: its upper left corner, pixels; left out, it stands low at the left.
        large: how many times as large as usual it is.
    """
    z = large
    x, top = corner or (30.0, 54.0 + 142.0 * z)
    box = Box(x, top - 142 * z, LEGEND_WIDTH * z, 142.0 * z)
    sheet.rectangle(box, PAPER)
    x = x + 18 * z

    def tell(
        words: str, right: float, y: float, size: float = 15.0, *, middle: bool = False
    ) -> None:
        sheet.text(words, (x + right * z, y), size * z, DARK, middle=middle)

    tell("Use of each member: demand over capacity", 0, top - 30 * z, 17.0)
    scale = Box(x, top - 66 * z, 252.0 * z, 24.0 * z)
    bands = 14
    use = (np.arange(bands) + 0.5) / bands
    step = scale.width / bands
    for k, colour in enumerate(palette.colours(use, np.full(bands, _STATES.RATED))):
        band = Box(scale.x + k * step, scale.y, step, scale.height)
        sheet.rectangle(band, _code(colour))
    for at, words in ((0.0, "0"), (0.5, "0.5"), (1.0, "1")):
        tell(words, at * 252, scale.y - 18 * z, middle=True)
    for k, ratio in enumerate((1.1, 1.6, 2.5)):
        part = Box(x + (266 + k * 50) * z, scale.y, 50.0 * z, scale.height)
        _swatch(sheet, part, ratio, _STATES.RATED)
    tell("over its limit", 266 + 75, scale.y - 18 * z, middle=True)
    low = box.y + 14 * z
    _swatch(sheet, Box(x, low, 34.0 * z, 18.0 * z), 0.0, _STATES.NO_LOAD_PATH)
    tell("no load path", 44, low + 3 * z)
    edge = Box(x + 178 * z, low, 34.0 * z, 18.0 * z)
    sheet.rectangle(edge, SOFT)
    inner = Box(edge.x + 1, edge.y + 1, edge.width - 2, edge.height - 2)
    sheet.rectangle(inner, palette.NEUTRAL)
    tell("drawn, not counted", 222, low + 3 * z)
    return box


def _swatch(sheet: Sheet, box: Box, use: float, state: palette.State) -> None:
    """Draw what a use or a state looks like."""
    colour = palette.colours(np.array([use]), np.array([state]))[0]
    pattern = float(palette.patterns(np.array([use]), np.array([state]))[0])
    sheet.rectangle(box, _code(colour))
    if pattern > 1:
        sheet.stripes(box, 0.3, palette.INK, cross=True)
    elif pattern > 0:
        sheet.stripes(box, pattern, palette.INK, cross=False)


def _code(colour: np.ndarray) -> str:
    """Return the code of an sRGB colour."""
    return "#" + "".join(f"{round(float(v) * 255):02x}" for v in colour)


def write_labels(
    sheet: Sheet,
    camera: bpy.types.Object,
    wanted: Sequence[Label],
    taken: list[Box],
    room: Box | None = None,
) -> None:
    """Write labels near their points, each with a leader, none on another.

    Args:
        sheet: to write on.
        camera: that it stands before.
        wanted: the labels, the most important first.
        taken: places in use; those of the labels are added.
        room: where they may lie; left out, everywhere but under headline and caution.
    """
    size = (sheet.width, sheet.height)
    spots = stage.project(
        camera, size, np.array([w.point for w in wanted]).reshape(-1, 3)
    )
    pads = [(w.size * 0.9, w.size * 0.75) for w in wanted]
    sizes = [
        (sheet.measure(w.words, w.size) + pad[0], w.size + pad[1])
        for w, pad in zip(wanted, pads, strict=True)
    ]
    whole = Box(16.0, 44.0, sheet.width - 32.0, sheet.height - 60.0)
    bounds = room or whole
    placed = _fixed(wanted, spots, sizes)
    used = [*taken, *(box for box in placed if box is not None)]
    free = [n for n, box in enumerate(placed) if box is None]
    found = labels.place(spots[free], [sizes[n] for n in free], bounds, used)
    for n, box in zip(free, found, strict=True):
        placed[n] = box
    for label, spot, box in zip(wanted, spots, placed, strict=True):
        if box is None:
            continue
        colour = ALARM if label.is_alarm else DARK
        near = (
            min(max(spot[0], box.x + 8), box.x + box.width - 8),
            min(max(spot[1], box.y), box.y + box.height),
        )
        thick = label.size / 22
        sheet.line(tuple(spot), near, 5.0 * thick, PAPER)
        sheet.line(tuple(spot), near, 2.5 * thick, colour)
        _dot(sheet, tuple(spot), 7.5 * thick, PAPER)
        _dot(sheet, tuple(spot), 5.5 * thick, colour)
        sheet.rectangle(box, colour)
        middle = (box.x + box.width / 2, box.y + box.height / 2 - label.size * 0.36)
        sheet.text(label.words, middle, label.size, PAPER, middle=True, bold=True)
        taken.append(box)


def _fixed(
    wanted: Sequence[Label], spots: np.ndarray, sizes: Sequence[tuple[float, float]]
) -> list[Box | None]:
    """Return the places of the labels that say where they want to be."""
    out: list[Box | None] = []
    for label, spot, (width, height) in zip(wanted, spots, sizes, strict=True):
        if label.aside is None or not np.isfinite(spot).all():
            out.append(None)
        else:
            x, y = spot + np.array(label.aside)
            out.append(Box(float(x - width / 2), float(y - height / 2), width, height))
    return out


def _dot(sheet: Sheet, at: tuple[float, float], radius: float, colour: str) -> None:
    """Draw a dot."""
    turn = np.linspace(0, 2 * np.pi, 16, endpoint=False)
    points = np.c_[np.cos(turn), np.sin(turn)] * radius + np.array(at)
    sheet.polygon([tuple(p) for p in points], colour)


def load_path(
    sheet: Sheet,
    camera: bpy.types.Object,
    path: PathView,
    matrix: np.ndarray,
    large: float = 1.0,
) -> None:
    """Draw a load path as a chain of arrows, as wide as their forces ask.

    What others bring to its first member is left out.

    Args:
        sheet: to draw on.
        camera: that it stands before.
        path: the load path, in the roof's axes.
        matrix: (4, 4) from there to Blender's world.
        large: how many times as thick as usual the arrows are.
    """
    branches = [b for b in path.branches if not b.is_incoming]
    lines = extract.path_lines(
        np.array([b.start for b in branches]),
        np.array([b.end for b in branches]),
        np.array([b.force for b in branches]),
        np.array([b.is_ground for b in branches]),
        max(b.force for b in branches),
    )
    size = (sheet.width, sheet.height)
    ends = lines.segments.reshape(-1, 3) @ matrix[:3, :3].T + matrix[:3, 3]
    spots = stage.project(camera, size, ends).reshape(-1, 2, 2)
    for wider, colour in ((6.0 * large, DARK), (0.0, DOWN)):
        for (start, end), width in zip(spots, lines.width, strict=True):
            if not np.isfinite([start, end]).all():
                continue
            thick = (4.0 + 6.0 * float(width)) * large
            head = thick * 2.6
            length = float(np.hypot(*(end - start)))
            toward = end + (end - start) / max(length, 1e-6)
            stop = end - (end - start) / max(length, 1e-6) * head * 0.5
            sheet.line(tuple(start), tuple(stop), thick + wider, colour)
            at = end - (end - start) / max(length, 1e-6) * head * 0.55
            sheet.arrow_head(tuple(at), tuple(toward), head + wider * 1.6, colour)
