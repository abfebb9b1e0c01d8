"""An SVG of our own drawn on a PDF page: paths, words, hatches and marks.

Knows the elements that our drawings are made of and refuses none: what it does not
know (a title, a definition) has no ink of its own.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from typing import Any
from xml.etree import ElementTree

from ..report.markup import DEFINITIONS
from ..report.sketch import INK
from .text import font, written

Element = ElementTree.Element
Canvas = Any  # of reportlab, which has no types of its own
Points = list[tuple[float, float]]
_TOKEN = re.compile(r"[A-Za-z]|-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?")
_HATCHES = {  # id of the pattern: colour, px from line to line, px wide, degrees
    "hatch-over": ("#8a2f14", 4.0, 2.0, 45.0),
    "hatch-legal": ("#5d7f78", 7.0, 1.0, -45.0),
    "hatch-new": ("#1f5c6b", 4.0, 2.0, -45.0),
}
_CLASSES = {"fill": {"fill": "#7d8a86"}}


def size_of(svg: Element) -> tuple[float, float]:
    """Return width and height of a drawing, px."""
    if svg.get("viewBox"):
        _, _, width, height = map(float, str(svg.get("viewBox")).split())
        return width, height
    return float(svg.get("width", "12")), float(svg.get("height", "12"))


def draw(canvas: Canvas, svg: Element, x: float, y: float, scale: float) -> None:
    """Draw an SVG element.

    Args:
        canvas: reportlab's canvas.
        svg: the element.
        x: pt, the place of its upper left corner.
        y: likewise, upward.
        scale: pt for one px.
    """
    canvas.saveState()
    canvas.translate(x, y)
    canvas.scale(scale, -scale)
    Pen(canvas).children(svg, {"fill": "#000000", "stroke": "none"})
    canvas.restoreState()


class Pen:
    """Draws elements with the styles that come down to them."""

    def __init__(self, canvas: Canvas):
        """Take reportlab's canvas, whose y axis points down already."""
        self.canvas = canvas

    def children(self, parent: Element, style: Mapping[str, str]) -> None:
        """Draw what is in an element."""
        for child in parent:
            self._one(child, style)

    def _one(self, element: Element, style: Mapping[str, str]) -> None:
        """Draw one element in a style of its own."""
        kind = element.tag.rpartition("}")[2]
        own = {**style, **_CLASSES.get(element.get("class", ""), {}), **element.attrib}
        self.canvas.saveState()
        self._turn(element.get("transform", ""))
        if kind == "g":
            own.pop("transform", None)
            self.children(element, own)
        elif kind == "path":
            self._path(element.get("d", ""), own)
        elif kind == "rect":
            self._rect(element, own)
        elif kind in ("circle", "line"):
            self._simple(kind, element, own)
        elif kind == "text":
            self._text(element, own)
        elif kind == "use":
            self._use(element, own)
        self.canvas.restoreState()

    def _turn(self, transform: str) -> None:
        """Apply ``rotate(angle x y)``, ``translate(x y)`` or ``scale(k)``."""
        for name, inside in re.findall(r"(\w+)\(([^)]*)\)", transform):
            values = [float(v) for v in re.split(r"[ ,]+", inside.strip())]
            if name == "translate":
                self.canvas.translate(*values)
            elif name == "scale":
                self.canvas.scale(values[0], values[-1])
            elif name == "rotate":
                x, y = values[1:] if len(values) > 1 else (0.0, 0.0)
                self.canvas.translate(x, y)
                self.canvas.rotate(values[0])
                self.canvas.translate(-x, -y)

    def _stroke(self, style: Mapping[str, str]) -> bool:
        """Set the line of a style; return whether it has one."""
        ink = _colour(style.get("stroke", "none"))
        if not ink:
            return False
        self.canvas.setStrokeColor(ink)
        self.canvas.setLineWidth(float(style.get("stroke-width", "1")))
        self.canvas.setLineJoin(1 if style.get("stroke-linejoin") == "round" else 0)
        dash = [float(v) for v in style.get("stroke-dasharray", "").split()]
        self.canvas.setDash(dash)
        return True

    def _fill(self, path: Canvas, style: Mapping[str, str], box: Points) -> bool:
        """Set the fill of a style, a hatch drawn at once; return whether to fill."""
        fill = style.get("fill", "#000000")
        if fill.startswith("url("):
            self._hatch(path, fill[5:-1], box)
            return False
        colour = _colour(fill)
        if colour:
            self.canvas.setFillColor(colour)
        return bool(colour)

    def _hatch(self, path: Canvas, name: str, box: Points) -> None:
        """Fill a path with slanting lines."""
        colour, step, width, angle = _HATCHES[name]
        xs, ys = [p[0] for p in box], [p[1] for p in box]
        middle = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
        reach = math.hypot(max(xs) - min(xs), max(ys) - min(ys)) / 2 + step
        self.canvas.saveState()
        self.canvas.clipPath(path, stroke=0, fill=0)
        self.canvas.setStrokeColor(colour)
        self.canvas.setLineWidth(width)
        self.canvas.setDash([])
        self.canvas.translate(*middle)
        self.canvas.rotate(angle)
        count = math.ceil(reach / step)
        for n in range(-count, count + 1):
            self.canvas.line(n * step, -reach, n * step, reach)
        self.canvas.restoreState()

    def _path(self, d: str, style: Mapping[str, str]) -> None:
        """Draw a path of straight lines."""
        path, box = self.canvas.beginPath(), Points()
        for kind, x, y in steps(d):
            if kind == "Z":
                path.close()
                continue
            box.append((x, y))
            (path.moveTo if kind == "M" else path.lineTo)(x, y)
        self._ink(path, style, box)

    def _ink(self, path: Canvas, style: Mapping[str, str], box: Points) -> None:
        """Fill and stroke a path."""
        filled = bool(box) and self._fill(path, style, box)
        stroked = self._stroke(style)
        if filled or stroked:
            self.canvas.drawPath(path, stroke=int(stroked), fill=int(filled))

    def _rect(self, element: Element, style: Mapping[str, str]) -> None:
        """Draw a rectangle."""
        x, y, w, h = (float(element.get(k, "0")) for k in ("x", "y", "width", "height"))
        path = self.canvas.beginPath()
        path.rect(x, y, w, h)
        self._ink(path, style, [(x, y), (x + w, y + h)])

    def _simple(self, kind: str, element: Element, style: Mapping[str, str]) -> None:
        """Draw a circle or a line."""
        names = ("cx", "cy", "r", "r") if kind == "circle" else ("x1", "y1", "x2", "y2")
        a, b, c, d = (float(element.get(k, "0")) for k in names)
        path = self.canvas.beginPath()
        if kind == "circle":
            path.circle(a, b, c)
            self._ink(path, style, [(a - c, b - c), (a + c, b + c)])
            return
        path.moveTo(a, b)
        path.lineTo(c, d)
        self._ink(path, {**style, "fill": "none"}, [(a, b), (c, d)])

    def _text(self, element: Element, style: Mapping[str, str]) -> None:
        """Draw words, with a halo of paper where the style asks for one."""
        words = written("".join(element.itertext()))
        size = float(style.get("font-size", "11"))
        name = font(
            style.get("font-weight", "") in ("600", "bold"),
            style.get("font-style", "") == "italic",
        )
        wide = self.canvas.stringWidth(words, name, size)
        back = {"middle": wide / 2, "end": wide}.get(style.get("text-anchor", ""), 0.0)
        x, y = float(element.get("x", "0")) - back, float(element.get("y", "0"))
        halo = _colour(style.get("stroke", "none"))
        if halo:
            self._words(words, name, size, (x, y), 1, halo, style)
        ink = _colour(style.get("fill", INK)) or INK
        self._words(words, name, size, (x, y), 0, ink, style)

    def _words(
        self, words: str, name: str, size: float, at: tuple[float, float], mode: int,
        ink: str, style: Mapping[str, str],
    ) -> None:  # fmt: skip
        """Write words upright on a page whose y axis points down."""
        self.canvas.saveState()
        self.canvas.translate(*at)
        self.canvas.scale(1, -1)
        self.canvas.setFillColor(ink)
        self.canvas.setStrokeColor(ink)
        self.canvas.setLineWidth(float(style.get("stroke-width", "0")))
        self.canvas.setLineJoin(1)
        said = self.canvas.beginText(0, 0)
        said.setFont(name, size)
        said.setTextRenderMode(mode)
        said.textOut(words)
        self.canvas.drawText(said)
        self.canvas.restoreState()

    def _use(self, element: Element, style: Mapping[str, str]) -> None:
        """Draw a mark at its place and size."""
        symbol = _symbols()[element.get("href", "#")[1:]]
        wide, _ = size_of(symbol)
        scale = float(element.get("width", str(wide))) / wide
        self.canvas.translate(
            float(element.get("x", "0")), float(element.get("y", "0"))
        )
        self.canvas.scale(scale, scale)
        self.children(symbol, {"fill": "#000000", "stroke": "none"})


def _symbols() -> dict[str, Element]:
    """Return the marks by their id."""
    root = ElementTree.fromstring(DEFINITIONS.strip())
    return {str(s.get("id")): s for s in root.iter("symbol")}


def _colour(text: str) -> str:
    """Return a colour that reportlab reads, "" for none."""
    if text in ("none", "transparent", ""):
        return ""
    if text == "currentColor":
        return INK
    if re.fullmatch(r"#[0-9a-fA-F]{3}", text):
        return "#" + "".join(2 * letter for letter in text[1:])
    return text


def steps(d: str) -> Iterator[tuple[str, float, float]]:
    """Yield the steps of a path of straight lines.

    Args:
        d: of an SVG path; M, L, H, V and Z, and their small letters.

    Yields:
        ``M``, ``L`` or ``Z`` and an absolute place.

    Raises:
        ValueError: another command.
    """
    tokens = _TOKEN.findall(d)
    x = y = 0.0
    start, command, n = (0.0, 0.0), "", 0
    while n < len(tokens):
        if tokens[n].isalpha():
            command, n = tokens[n], n + 1
            if command in "Zz":
                x, y = start
                yield "Z", x, y
                continue
        if command not in tuple("MmLlHhVv"):
            raise ValueError(f"path command {command!r} is not drawn")
        x, y, n = _moved(command, tokens, n, x, y)
        yield ("M" if command in "Mm" else "L"), x, y
        if command in "Mm":
            start, command = (x, y), "L" if command == "M" else "l"


def _moved(
    command: str, tokens: list[str], n: int, x: float, y: float
) -> tuple[float, float, int]:
    """Return the place after one step, and the next token."""
    near = command.islower()
    if command in "Hh":
        return float(tokens[n]) + (x if near else 0.0), y, n + 1
    if command in "Vv":
        return x, float(tokens[n]) + (y if near else 0.0), n + 1
    a, b = float(tokens[n]), float(tokens[n + 1])
    return (x + a, y + b, n + 2) if near else (a, b, n + 2)
