"""Arrays for the graphics card, from boxes, uses and load paths.

Pure: NumPy in, float32 out; runs and is tested without a window.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from . import palette

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]

# Faces of a box, outward; corners 0 to 3 lie around the start, 4 to 7 around the end.
_FACES = np.array(
    [
        (0, 3, 2, 1),
        (4, 5, 6, 7),
        (0, 1, 5, 4),
        (1, 2, 6, 5),
        (2, 3, 7, 6),
        (3, 0, 4, 7),
    ]
)
_TRIANGLES = np.array([(0, 1, 2), (0, 2, 3)])


@dataclass(frozen=True, eq=False)
class Surfaces:
    """Triangles of shaded boxes.

    Attributes:
        position: (v, 3) m.
        normal: (v, 3) unit, outward.
        colour: (v, 4) linear light and opacity.
        pattern: (v,) see palette.patterns.
        along: (v, 2) m, places along the two directions of the pattern.
        triangles: (t, 3) indices.
    """

    position: Singles
    normal: Singles
    colour: Singles
    pattern: Singles
    along: Singles
    triangles: NDArray[np.int32]


def surfaces(
    boxes: Floats, owner: NDArray[np.int64], colour: Floats, pattern: Floats
) -> Surfaces:
    """Return the shaded faces of boxes.

    Args:
        boxes: (b, 8, 3) m.
        owner: (b,) row of the member that a box is of.
        colour: (n, 4) linear light and opacity of the members.
        pattern: (n,) of the members.
    """
    count = len(boxes)
    corners = boxes[:, _FACES]  # (b, 6, 4, 3)
    first, second = (
        corners[:, :, 1] - corners[:, :, 0],
        corners[:, :, 3] - corners[:, :, 0],
    )
    normal = np.cross(first, second)
    normal /= np.maximum(np.linalg.norm(normal, axis=-1, keepdims=True), 1e-12)
    local = _local(boxes)[:, _FACES]
    across = local[..., 1] + local[..., 2]
    along = np.stack([local[..., 0] + across, local[..., 0] - across], axis=-1)
    quads = np.arange(count * 6)[:, None, None] * 4 + _TRIANGLES
    each = np.repeat(owner, 24)
    return Surfaces(
        position=_flat(corners, 3),
        normal=_flat(np.repeat(normal[:, :, None], 4, axis=2), 3),
        colour=colour[each].astype(np.float32),
        pattern=pattern[each].astype(np.float32),
        along=_flat(along, 2),
        triangles=quads.reshape(-1, 3).astype(np.int32),
    )


def _flat(values: Floats, width: int) -> Singles:
    """Return values as (v, width) float32."""
    return np.ascontiguousarray(values.reshape(-1, width), dtype=np.float32)


def _local(boxes: Floats) -> Floats:
    """Return (b, 8, 3) m: corners in their own box's axes, x along the member."""
    axis = boxes[:, 4] - boxes[:, 0]
    axis = axis / np.linalg.norm(axis, axis=1, keepdims=True)
    depth = boxes[:, 3] - boxes[:, 0]
    depth = depth - axis * np.sum(depth * axis, axis=1, keepdims=True)
    depth = depth / np.linalg.norm(depth, axis=1, keepdims=True)
    axes = np.stack([axis, np.cross(depth, axis), depth], axis=2)  # (b, 3, 3)
    origin = boxes[:, :4].mean(axis=1, keepdims=True)
    return np.einsum("bij,bjk->bik", boxes - origin, axes)


def light(colour: Floats) -> Floats:
    """Return (n, 4) linear light and opacity of (n, 3) sRGB.

    The viewport's buffer turns linear light into sRGB by itself.
    """
    out = np.ones((len(colour), 4))
    out[:, :3] = palette.to_linear(colour)
    return out


def sheets(quads: Floats, colour: Floats, pattern: Floats) -> Surfaces:
    """Return flat pieces that are seen from both sides.

    Args:
        quads: (q, 4, 3) m, corners around each; the first edge runs along a member.
        colour: (q, 4) linear light and opacity.
        pattern: (q,) see palette.patterns.
    """
    first, second = quads[:, 1] - quads[:, 0], quads[:, 3] - quads[:, 0]
    normal = np.cross(first, second)
    normal /= np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-12)
    away = quads - quads[:, :1]
    units = [
        v / np.maximum(np.linalg.norm(v, axis=1, keepdims=True), 1e-12)
        for v in (first, second)
    ]
    x, y = (np.einsum("qij,qj->qi", away, unit) for unit in units)
    corners = np.arange(len(quads))[:, None, None] * 4 + _TRIANGLES
    return Surfaces(
        position=_flat(quads, 3),
        normal=_flat(np.repeat(normal[:, None], 4, axis=1), 3),
        colour=np.repeat(colour, 4, axis=0).astype(np.float32),
        pattern=np.repeat(pattern, 4).astype(np.float32),
        along=_flat(np.stack([x + y, x - y], axis=-1), 2),
        triangles=corners.reshape(-1, 3).astype(np.int32),
    )


def kept(
    boxes: Floats, owner: NDArray[np.int64], visible: NDArray[np.bool_]
) -> tuple[Floats, NDArray[np.int64]]:
    """Return the boxes of visible members alone, with their owners."""
    keep = visible[owner]
    return boxes[keep], owner[keep]


@dataclass(frozen=True, eq=False)
class PathLines:
    """A load path as lines and arrow heads in the roof's axes.

    Attributes:
        segments: (s, 2, 3) m.
        width: (s,) part of the widest line, 0 to 1.
        heads: (s, 3) m, where the arrow head of a segment lies.
        direction: (s, 3) unit, the way of the load.
    """

    segments: Floats
    width: Floats
    heads: Floats
    direction: Floats


GROUND_ARROW = 0.5  # m, drawn below a support
LIFT = 0.14  # m that lines lie above level members


def path_lines(
    starts: Floats,
    ends: Floats,
    force: Floats,
    is_ground: NDArray[np.bool_],
    largest: float,
) -> PathLines:
    """Return lines and arrow heads of a load path.

    Lines along level members lie a little above, so that the members stay in sight.
    Stretches shorter than 10 cm are left out; where the ground takes over, an arrow
    points down.

    Args:
        starts: (s, 3) m.
        ends: (s, 3) m.
        force: (s,) N.
        is_ground: (s,) whether the end is the ground's.
        largest: N, force of the widest line.
    """
    down = np.array([0.0, 0.0, -GROUND_ARROW])
    starts = np.concatenate([starts, ends[is_ground]])
    ends = np.concatenate([ends, ends[is_ground] + down])
    force = np.concatenate([force, force[is_ground]])
    length = np.linalg.norm(ends - starts, axis=1)
    keep = length > 0.10
    starts, ends, force, length = starts[keep], ends[keep], force[keep], length[keep]
    direction = (ends - starts) / length[:, None]
    lift = np.where(np.abs(direction[:, 2:]) < 0.1, [[0.0, 0.0, LIFT]], 0.0)
    starts, ends = starts + lift, ends + lift
    heads = starts + direction * (0.6 * length)[:, None]
    width = np.sqrt(force / (largest or 1.0))
    return PathLines(np.stack([starts, ends], axis=1), width, heads, direction)
