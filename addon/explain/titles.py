"""Words in the picture: title, caption, scale and caution, inside the safe area."""

from __future__ import annotations

from collections.abc import Sequence

from ..overlay.labels import Box
from ..picture.sheet import Sheet
from ..picture.words import DARK, PAPER, SOFT

_SAFE = 0.05  # of width and height that a screen may cut off
_LEADING = 1.28
_LARGE, _SMALL = 0.043, 0.033  # heights of letters, parts of the picture's height


def safe(sheet: Sheet) -> Box:
    """Return the part of the picture that every screen shows."""
    x, y = _SAFE * sheet.width, _SAFE * sheet.height
    return Box(x, y, sheet.width - 2 * x, sheet.height - 2 * y)


def room(sheet: Sheet) -> Box:
    """Return where labels may lie."""
    box = safe(sheet)
    low = _strip(sheet) + 0.011 * sheet.height
    return Box(box.x, low, box.width, box.y + box.height - low)


def _strip(sheet: Sheet) -> float:
    """Return the height of the caution's strip, pixels."""
    return (_SAFE + 0.036) * sheet.height


def legend_corner(
    sheet: Sheet, width: float, written: Sequence[Box]
) -> tuple[float, float]:
    """Return the upper left corner of a legend at the right edge, under the notes."""
    box = safe(sheet)
    top = box.y + box.height - 1.6 * _SMALL * sheet.height
    lowest = min((note.y for note in written), default=top)
    return box.x + box.width - width, min(top, lowest - 0.01 * sheet.height)


def frame_of_lesson(sheet: Sheet, title: str, caution: str) -> None:
    """Write what stands in every picture of a lesson: its title and the caution."""
    box = safe(sheet)
    size = _SMALL * sheet.height * 1.1
    at = (box.x, box.y + box.height - size)
    _plate(sheet, at, sheet.measure(title, size) * 1.03, size)
    sheet.text(title, at, size, SOFT, bold=True)
    sheet.rectangle(Box(0.0, 0.0, sheet.width, _strip(sheet)), DARK)
    small = 0.0215 * sheet.height
    fitted = _fitted(sheet, [caution], small, box.width)
    sheet.text(
        caution, (sheet.width / 2, box.y + 0.2 * small), fitted, PAPER, middle=True
    )


def caption(sheet: Sheet, lines: Sequence[str]) -> Box:
    """Write a caption, its first line larger; return the place it takes."""
    box, pad = safe(sheet), 0.025 * sheet.height
    room, first, rest = box.width - 3.5 * pad, lines[:1], lines[1:]
    sizes = [_fitted(sheet, first, _LARGE * sheet.height, room)]
    if rest:
        sizes += [_fitted(sheet, rest, _SMALL * sheet.height, room)] * len(rest)
    height = sum(size * _LEADING for size in sizes) + 1.45 * pad
    paper = Box(box.x, _strip(sheet) + 0.67 * pad, box.width, height)
    sheet.rectangle(paper, PAPER)
    y = paper.y + height - 0.78 * pad
    for n, (line, size) in enumerate(zip(lines, sizes, strict=True)):
        y -= size
        colour = DARK if n == 0 else SOFT
        sheet.text(line, (box.x + pad, y), size, colour, bold=n == 0)
        y -= size * (_LEADING - 1)
    return paper


def notes(sheet: Sheet, scale: str, note: str) -> list[Box]:
    """Write scale and note in the upper right corner; return the places they take."""
    box = safe(sheet)
    size = 0.0235 * sheet.height
    y = box.y + box.height - size
    out = []
    for line in (scale, note):
        if not line:
            continue
        fitted = _fitted(sheet, [line], size, box.width * 0.62)
        wide = sheet.measure(line, fitted)
        at = (box.x + box.width - wide, y)
        out.append(_plate(sheet, at, wide, fitted))
        sheet.text(line, at, fitted, DARK)
        y -= size * 1.5
    return out


def _plate(sheet: Sheet, at: tuple[float, float], width: float, size: float) -> Box:
    """Draw paper under a line of text that begins at a place; return where it lies."""
    side = 0.5 * size
    plate = Box(at[0] - side, at[1] - 0.42 * size, width + 2 * side, size * 1.7)
    sheet.rectangle(plate, PAPER)
    return plate


def _fitted(sheet: Sheet, lines: Sequence[str], size: float, width: float) -> float:
    """Return a size of letters at which lines fit a width, at most the one given."""
    widest = max(sheet.measure(line, size) for line in lines)
    return size if widest <= width else size * width / widest
