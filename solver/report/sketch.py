"""A drawing to scale as SVG: lines, hatches, dimensions and forces in world metres.

Knows nothing of roofs. A drawing stands alone: every style is in its elements.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from .markup import Raw, tag

Floats = NDArray[np.float64]
Place = Sequence[float] | Floats
INK, SOFT, OVER, LEGAL = "#22282a", "#6d7679", "#8a2f14", "#5d7f78"
WOOD = "#efe9dc"
_HALO = {  # so that words read over lines
    "stroke": "#fdfcf9",
    "stroke-width": "3",
    "paint-order": "stroke",
    "stroke-linejoin": "round",
}

_EDGES = np.array(
    [(0, 1), (1, 2), (2, 3), (3, 0), (4, 5), (5, 6), (6, 7), (7, 4),
     (0, 4), (1, 5), (2, 6), (3, 7)]
)  # fmt: skip


class Sketch:
    """A drawing whose pixels are metres times a scale, y upward."""

    def __init__(
        self,
        low: Place,
        high: Place,
        width: float = 760.0,
        margin: tuple[float, float, float, float] = (46.0, 14.0, 46.0, 46.0),
        tallest: float = 560.0,
    ):
        """Fit a world box into a width.

        Args:
            low: lower corner of the box, m.
            high: upper corner.
            width: px of the drawing.
            margin: px left, top, right, bottom.
            tallest: px; a taller box is drawn narrower.
        """
        left, top, right, bottom = margin
        across, up = high[0] - low[0], high[1] - low[1]
        self.scale = min(
            (width - left - right) / across, (tallest - top - bottom) / max(up, 1e-6)
        )
        self._low, self._left, self._top = low, left, top
        self._up = up * self.scale
        self.width = across * self.scale + left + right
        self.height = self._up + top + bottom
        self._parts: list[str] = []

    def at(self, place: Place) -> tuple[float, float]:
        """Return the pixel of a world place."""
        x = self._left + float(place[0] - self._low[0]) * self.scale
        return x, self._top + self._up - float(place[1] - self._low[1]) * self.scale

    def add(self, markup: str) -> None:
        """Add ready markup in pixels."""
        self._parts.append(markup)

    def line(
        self, points: Iterable[Place], width: float = 1.0, ink: str = INK,
        dash: str = "",
    ) -> None:  # fmt: skip
        """Add a polyline; width and dash in px."""
        path = "L".join(f"{x:.1f} {y:.1f}" for x, y in map(self.at, points))
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self.add(
            f'<path d="M{path}" fill="none" stroke="{ink}" '
            f'stroke-width="{width}"{dashed}/>'
        )

    def polygon(
        self, points: Iterable[Place], fill: str = "none", ink: str = INK,
        width: float = 1.0, dash: str = "",
    ) -> None:  # fmt: skip
        """Add a closed outline; fill is a colour or ``url(#pattern)``."""
        path = "L".join(f"{x:.1f} {y:.1f}" for x, y in map(self.at, points))
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self.add(
            f'<path d="M{path}Z" fill="{fill}" stroke="{ink}" '
            f'stroke-width="{width}" stroke-linejoin="round"{dashed}/>'
        )

    def box(self, low: Place, high: Place, **style: object) -> None:
        """Add a rectangle between two corners."""
        a, b = low, high
        corners = [a, (b[0], a[1]), b, (a[0], b[1])]
        self.polygon(corners, **style)  # type: ignore[arg-type]

    def text(
        self, place: Place, words: str, size: float = 11.0, anchor: str = "middle",
        shift: tuple[float, float] = (0.0, 0.0), turn: float = 0.0,
        ink: str = INK, bold: bool = False, slant: bool = False,
    ) -> None:  # fmt: skip
        """Add words at a world place, moved by px and turned by degrees."""
        x, y = self.at(place)
        x, y = x + shift[0], y + shift[1]
        extra = {"transform": f"rotate({turn:.1f} {x:.1f} {y:.1f})"} if turn else {}
        if bold:
            extra["font-weight"] = "600"
        if slant:
            extra["font-style"] = "italic"
        self.add(
            tag(
                "text", words, x=f"{x:.1f}", y=f"{y:.1f}", fill=ink,
                **{"font-size": f"{size:g}", "text-anchor": anchor, **_HALO, **extra},
            ).text
        )  # fmt: skip

    def mark(self, place: Place, shape: str, size: float = 11.0) -> None:
        """Add a verdict's mark centred on a place."""
        x, y = self.at(place)
        self.add(
            f'<use href="#mark-{shape}" x="{x - size / 2:.1f}" '
            f'y="{y - size / 2:.1f}" width="{size:g}" height="{size:g}"/>'
        )

    def dimension(self, a: Place, b: Place, words: str, off: float) -> None:
        """Add a dimension from a to b, its line moved off by px to the left of a-b."""
        (xa, ya), (xb, yb) = self.at(a), self.at(b)
        length = math.hypot(xb - xa, yb - ya) or 1.0
        ux, uy = (xb - xa) / length, (yb - ya) / length
        nx, ny = uy * off, -ux * off
        side = 1.0 if off >= 0 else -1.0
        ends = [(xa + nx, ya + ny), (xb + nx, yb + ny)]
        for (x, y), (x0, y0) in zip(ends, ((xa, ya), (xb, yb)), strict=True):
            gap, over = 4 * side, 5 * side
            self.add(
                f'<path d="M{x0 + uy * gap:.1f} {y0 - ux * gap:.1f}'
                f'L{x + uy * over:.1f} {y - ux * over:.1f}" '
                f'stroke="{SOFT}" stroke-width="0.6"/>'
                f'<path d="M{x - 3.2 * (ux + uy):.1f} {y - 3.2 * (uy - ux):.1f}'
                f'L{x + 3.2 * (ux + uy):.1f} {y + 3.2 * (uy - ux):.1f}" '
                f'stroke="{INK}" stroke-width="1.3"/>'
            )
        (x1, y1), (x2, y2) = ends
        self.add(
            f'<path d="M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}" stroke="{SOFT}" '
            'stroke-width="0.7"/>'
        )
        turn = math.degrees(math.atan2(y2 - y1, x2 - x1))
        if turn >= 90 or turn < -90:
            turn -= math.copysign(180, turn)
        self._words((x1 + x2) / 2, (y1 + y2) / 2, words, turn)

    def _words(self, x: float, y: float, words: str, turn: float) -> None:
        """Add the words of a dimension just above its line."""
        rise = math.radians(turn)
        x, y = x + 4 * math.sin(rise), y - 4 * math.cos(rise)
        extra = {"transform": f"rotate({turn:.1f} {x:.1f} {y:.1f})"} if turn else {}
        self.add(
            tag(
                "text", words, x=f"{x:.1f}", y=f"{y:.1f}", fill=INK,
                **{"font-size": "10.5", "text-anchor": "middle", **_HALO, **extra},
            ).text
        )  # fmt: skip

    def arrow(
        self, tip: Place, toward: tuple[float, float], length: float = 34.0,
        ink: str = INK, width: float = 2.0,
    ) -> tuple[float, float]:  # fmt: skip
        """Add a force arrow that ends on a world place.

        Args:
            tip: world place.
            toward: direction in the world, any length above 0.
            length: px.
            ink: colour.
            width: px.

        Returns:
            The pixel of its tail.
        """
        x, y = self.at(tip)
        size = math.hypot(*toward)
        ux, uy = toward[0] / size, -toward[1] / size
        tail = x - ux * length, y - uy * length
        neck = x - ux * 7, y - uy * 7
        self.add(
            f'<path d="M{tail[0]:.1f} {tail[1]:.1f}L{neck[0]:.1f} {neck[1]:.1f}" '
            f'stroke="{ink}" stroke-width="{width}"/>'
            f'<path d="M{x:.1f} {y:.1f}L{neck[0] - uy * 4:.1f} {neck[1] + ux * 4:.1f}'
            f'L{neck[0] + uy * 4:.1f} {neck[1] - ux * 4:.1f}Z" fill="{ink}"/>'
        )
        return tail

    def svg(self, title: str) -> Raw:
        """Return the drawing; the title is what a screen reader says."""
        inside = tag("title", title).text + "".join(self._parts)
        size = f"0 0 {self.width:.0f} {self.height:.0f}"
        return Raw(
            f'<svg viewBox="{size}" role="img" preserveAspectRatio="xMinYMin meet" '
            f'style="max-width:{self.width:.0f}px">{inside}</svg>'
        )


def hull(points: Iterable[Place]) -> list[tuple[float, float]]:
    """Return the convex outline of points of a plane, counter-clockwise."""
    ordered = sorted({(float(p[0]), float(p[1])) for p in points})
    if len(ordered) < 3:
        return ordered

    def chain(row: list[tuple[float, float]]) -> list[tuple[float, float]]:
        out: list[tuple[float, float]] = []
        for p in row:
            while len(out) > 1 and _turn(out[-2], out[-1], p) <= 0:
                out.pop()
            out.append(p)
        return out[:-1]

    return chain(ordered) + chain(ordered[::-1])


def _turn(a: Place, b: Place, c: Place) -> float:
    """Return above 0 where a-b-c turns to the left."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def between(corners: Floats, low: float, high: float) -> Floats:
    """Return corners of the part of a box between two depths, (n, 3)."""
    inside = [corners[(corners[:, 2] >= low) & (corners[:, 2] <= high)]]
    a, b = corners[_EDGES[:, 0]], corners[_EDGES[:, 1]]
    run = b[:, 2] - a[:, 2]
    for depth in (low, high):
        crosses = (a[:, 2] - depth) * (b[:, 2] - depth) < 0
        part = (depth - a[crosses, 2]) / run[crosses]
        inside.append(a[crosses] + part[:, None] * (b[crosses] - a[crosses]))
    return np.concatenate(inside)
