"""Supporting valleys: where a wing's ridge ends on the slope of a higher roof.

Two valleys meet there with nothing above them. A framer runs one of them on, straight
up the higher slope, to its ridge or hip; the other valley and the wing's ridge end on
it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...form import LineKind
from ...form import RoofForm as Form
from ..planes import to_plane

Floats = NDArray[np.float64]
_LEAST = 1e-3  # m


@dataclass(frozen=True, eq=False)
class Extension:
    """How far a valley goes on.

    Attributes:
        line: number of its line of the form.
        plane: number of the plane that it goes on in.
        onto: number of the line of the form that it ends on.
        start: (3,) m, where the valleys meet.
        end: (3,) m, where it ends.
    """

    line: int
    plane: int
    onto: int
    start: Floats
    end: Floats


def extensions_of(form: Form) -> tuple[Extension, ...]:
    """Return the valleys that go on past where they meet, one at each such point."""
    tops: dict[int, list[int]] = {}
    for n, line in enumerate(form.lines):
        if line.kind is LineKind.VALLEY:
            tops.setdefault(line.end_node, []).append(n)
    out = []
    for node, valleys in sorted(tops.items()):
        if len(valleys) != 2 or _goes_up(form, node):
            continue
        shared = set(form.lines[valleys[0]].planes) & set(form.lines[valleys[1]].planes)
        for plane in sorted(shared):
            found = _extended(form, valleys[0], plane) or _extended(
                form, valleys[1], plane
            )
            if found is not None:
                out.append(found)
                break
    return tuple(out)


def _goes_up(form: Form, node: int) -> bool:
    """Return whether a hip or ridge rises from a node."""
    return any(
        line.start_node == node
        and line.kind in (LineKind.HIP, LineKind.RIDGE, LineKind.VALLEY)
        and line.rise > _LEAST
        for line in form.lines
    )


def _extended(form: Form, number: int, plane: int) -> Extension | None:
    """Return a valley carried on across a plane to the next line, or None."""
    line, face = form.lines[number], form.planes[plane]
    origin = to_plane(face, line.end[None])[0]
    way = origin - to_plane(face, line.start[None])[0]
    way /= np.hypot(*way)
    polygon, nodes = to_plane(face, face.polygon), face.nodes.tolist()
    best: tuple[float, int] | None = None
    for n in range(len(nodes)):
        a, b = polygon[n], polygon[(n + 1) % len(nodes)]
        side, gap = b - a, a - origin
        det = float(way[0] * side[1] - way[1] * side[0])
        if abs(det) < 1e-9 or line.end_node in (nodes[n], nodes[(n + 1) % len(nodes)]):
            continue
        far = float(gap[0] * side[1] - gap[1] * side[0]) / det
        part = float(gap[0] * way[1] - gap[1] * way[0]) / det
        if far > _LEAST and -1e-9 <= part <= 1 + 1e-9 and (not best or far < best[0]):
            best = (far, n)
    if best is None:
        return None
    ends = {nodes[best[1]], nodes[(best[1] + 1) % len(nodes)]}
    onto = next(
        n for n, o in enumerate(form.lines) if {o.start_node, o.end_node} == ends
    )
    if form.lines[onto].kind not in (LineKind.RIDGE, LineKind.HIP):
        return None
    flat = (line.end - line.start) / line.run
    return Extension(number, plane, onto, line.end, line.end + flat * best[0])
