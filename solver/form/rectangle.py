"""The roof over a rectangle, in closed form where one ridge runs between two eaves.

Gives the same form as the general method and is its check; anything that the closed
form does not cover goes to the general method.
"""

from __future__ import annotations

import numpy as np

from .assemble import assemble
from .exact import MovingLine
from .model import Floats, Outline, RoofForm
from .moving import Face
from .outline import read_outline
from .polygon import roof_from_outline
from .spec import EdgeSpec
from .weave import Patch

INWARD = ((0, 1), (-1, 0), (0, -1), (1, 0))


def roof_from_rectangle(
    length: float,
    width: float,
    south: EdgeSpec,
    east: EdgeSpec,
    north: EdgeSpec,
    west: EdgeSpec,
) -> RoofForm:
    """Return the roof over the rectangle from (0, 0) to (length, width).

    Two eaves opposite each other, of pitches p and q at a distance w, meet in a ridge
    h = w / (1/p + 1/q) above the plate, h/p from the first; a hip end of pitch r stops
    the ridge h/r short of its wall, a gable end does not.

    Args:
        length: along x, m.
        width: along y, m.
        south: what is stated of edge 0, along y = 0.
        east: of edge 1.
        north: of edge 2.
        west: of edge 3.

    Raises:
        BriefError, FramingError: as for any outline.
    """
    corners = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    specs = (south, east, north, west)
    outline, read = read_outline(corners, specs)
    if not any(spec.above or spec.plate != south.plate for spec in specs):
        for turn in (0, 1) if length >= width else (1, 0):
            form = _ridge_roof(outline, read, turn)
            if form is not None:
                return form
    return roof_from_outline(corners, specs)


def _ridge_roof(
    outline: Outline, specs: tuple[EdgeSpec, ...], turn: int
) -> RoofForm | None:
    """Return the roof whose ridge runs along edge ``turn``, or None if none does."""
    first, right, second, left = (specs[(turn + k) % 4] for k in range(4))
    if first.pitch is None or second.pitch is None:
        return None
    size = np.ptp(outline.polygon, axis=0)
    along, across = float(size[turn]), float(size[1 - turn])
    rise = across / (1 / first.pitch + 1 / second.pitch)
    inset_left = rise / left.pitch if left.pitch else 0.0
    inset_right = rise / right.pitch if right.pitch else 0.0
    if inset_left + inset_right > along:
        return None
    ends = np.array([inset_left, along - inset_right])
    is_pyramid = ends[1] - ends[0] < 1e-9 * along
    corner = outline.polygon[turn]
    away = np.array(INWARD[turn], dtype=np.float64)
    forth = np.array([away[1], -away[0]])
    tops = corner + ends[:, None] * forth + rise / first.pitch * away
    base = np.column_stack([outline.polygon, np.full(4, first.plate)])
    peaks = np.column_stack([tops, np.full(2, first.plate + rise)])
    nodes = np.vstack([base, peaks[:1] if is_pyramid else peaks])
    return _assembled(outline, specs, nodes, turn, is_pyramid)


def _assembled(
    outline: Outline,
    specs: tuple[EdgeSpec, ...],
    nodes: Floats,
    turn: int,
    is_pyramid: bool,
) -> RoofForm:
    """Return the form over the given nodes."""
    near, far = 4, 4 if is_pyramid else 5
    tops = [(far, near), (far,), (near, far), (near,)]
    if is_pyramid:
        tops = [(4,)] * 4
    patches: list[Patch] = []
    for edge in range(4):
        A, B = INWARD[edge]
        face = Face(edge, 0, specs[edge].pitch, MovingLine(A, B, 0, 1), 0)
        cycle = (edge, (edge + 1) % 4, *tops[(edge - turn) % 4])
        patches.append(Patch((face,), cycle))
    return assemble(outline, specs, nodes, patches, range(4), np.zeros(2))
