"""From the sweep's tracks to closed faces that share their nodes.

The sweep takes what is one meeting of many lines for a quick succession of meetings of
three. Here nodes that lie together become one, a node on another's side is let into it,
and sides of one plane that grew together become one face. Moves no corner of the
outline, so the faces' plan areas add up to the outline's.
"""

from __future__ import annotations

import numpy as np

from ..errors import FramingError
from .flush import Patch, closed_walks, fuse_flush
from .model import Floats
from .moving import Face
from .sweep import FaceId, Sweep

Cycle = list[int]


def weave(
    swept: Sweep,
    faces: list[list[Face]],
    outline: Floats,
    kept: list[int],
    touch: float,
) -> tuple[Floats, list[Patch]]:
    """Return the nodes (N, 3) m and the closed faces.

    Args:
        swept: what the sweep left, from the kept corners of the outline.
        faces: of every swept edge.
        outline: (n, 2) m, all its points; they become the first n nodes.
        kept: the points that the sweep started from.
        touch: nodes nearer than this are one, m.

    Raises:
        FramingError: the tracks do not close.
    """
    nodes = np.array(swept.nodes)
    xyz = np.vstack(
        [np.c_[outline, np.full(len(outline), nodes[0, 2])], nodes[len(kept) :]]
    )
    extra = np.arange(len(outline), len(xyz))
    renumber = np.concatenate([np.array(kept, dtype=np.int64), extra])
    sides: dict[FaceId, dict[int, int]] = {}
    for edge in range(len(faces)):
        _add_side(sides, (edge, 0), kept[edge], kept[(edge + 1) % len(kept)])
    for left, right, start, end in swept.arcs:
        low, high = int(renumber[start]), int(renumber[end])
        _add_side(sides, left, low, high)
        _add_side(sides, right, high, low)
    raw = [(key, cycle) for key in sorted(sides) for cycle in closed_walks(sides[key])]
    xyz, cycles = _joined(xyz, [cycle for _, cycle in raw], len(outline), touch)
    patches = [
        Patch((faces[edge][position],), tuple(part))
        for ((edge, position), _), cycle in zip(raw, cycles, strict=True)
        for part in _parts(cycle)
    ]
    patches = fuse_flush(patches, outline)
    return _without_idle_nodes(xyz, patches, len(outline), touch)


def _add_side(
    sides: dict[FaceId, dict[int, int]], face: FaceId, a: int, b: int
) -> None:
    """Add a side from node a to node b to a face; a face leaves each node once."""
    if a == b:
        return
    ways = sides.setdefault(face, {})
    if a in ways:
        raise FramingError(f"The roof over edge {face[0]} crosses itself.")
    ways[a] = b


def _joined(
    xyz: Floats, cycles: list[Cycle], fixed: int, touch: float
) -> tuple[Floats, list[Cycle]]:
    """Make nodes that lie together one, and let nodes into the sides they lie on."""
    near = np.linalg.norm(xyz[:, None] - xyz[None], axis=2) < touch
    near[:fixed, :fixed] = np.eye(fixed, dtype=bool)
    label = np.arange(len(xyz))
    for i, j in np.argwhere(np.triu(near, 1)):
        low, high = sorted((int(label[i]), int(label[j])))
        label[label == high] = low
    named = [_without_repeats([int(label[node]) for node in c]) for c in cycles]
    used = np.unique(np.concatenate([np.arange(fixed), *map(np.array, named)]))
    between = _nodes_on_sides(xyz, used.astype(np.int64), named, touch)
    return xyz, [
        [
            node
            for a, b in zip(cycle, cycle[1:] + cycle[:1], strict=True)
            for node in [a, *between.get((a, b), [])]
        ]
        for cycle in named
    ]


def _nodes_on_sides(
    xyz: Floats, used: np.ndarray, cycles: list[Cycle], touch: float
) -> dict[tuple[int, int], list[int]]:
    """Return, for every side that has some, the nodes within it in order."""
    pairs = {
        (a, b) for c in cycles for a, b in zip(c, c[1:] + c[:1], strict=True) if a != b
    }
    if not pairs:
        return {}
    sides = np.array(sorted(pairs))
    start = xyz[sides[:, 0]]
    along = xyz[sides[:, 1]] - start
    length = np.linalg.norm(along, axis=1)[:, None]
    along = along / length
    offset = xyz[used][None] - start[:, None]
    station = np.einsum("si,sni->sn", along, offset)
    rows, columns = np.nonzero((station > touch) & (station < length - touch))
    places = station[rows, columns]
    gap = offset[rows, columns] - places[:, None] * along[rows]
    on = np.linalg.norm(gap, axis=1) < touch
    rows, columns, places = rows[on], columns[on], places[on]
    found: dict[tuple[int, int], list[tuple[float, int]]] = {}
    for row, column, place in zip(rows, columns, places, strict=True):
        pair = (int(sides[row, 0]), int(sides[row, 1]))
        found.setdefault(pair, []).append((float(place), int(used[column])))
    return {pair: [node for _, node in sorted(at)] for pair, at in found.items()}


def _without_repeats(cycle: Cycle) -> Cycle:
    """Return a cycle without a node twice running."""
    return [node for i, node in enumerate(cycle) if node != cycle[i - 1]]


def _parts(cycle: Cycle) -> list[Cycle]:
    """Return the simple cycles of one that may touch itself; spurs fall away."""
    parts: list[Cycle] = []
    path: Cycle = []
    for node in cycle:
        if node in path:
            at = path.index(node)
            parts.append(path[at:])
            path = path[:at]
        path.append(node)
    parts.append(path)
    return [part for part in parts if len(part) > 2]


def _without_idle_nodes(
    xyz: Floats, patches: list[Patch], fixed: int, touch: float
) -> tuple[Floats, list[Patch]]:
    """Drop nodes where nothing meets, and number the rest; the outline's stay first."""
    neighbours: dict[int, set[int]] = {}
    for patch in patches:
        cycle = patch.cycle
        for a, b in zip(cycle, cycle[1:] + cycle[:1], strict=True):
            neighbours.setdefault(a, set()).add(b)
            neighbours.setdefault(b, set()).add(a)
    idle = {
        node
        for node, round_it in neighbours.items()
        if node >= fixed and len(round_it) == 2 and _is_between(xyz, node, round_it)
    }
    keep = [
        *range(fixed),
        *sorted(n for n in neighbours if n >= fixed and n not in idle),
    ]
    number = {node: i for i, node in enumerate(keep)}
    kept = [
        Patch(p.faces, tuple(number[n] for n in p.cycle if n not in idle))
        for p in patches
    ]
    return xyz[keep], [patch for patch in kept if len(patch.cycle) > 2]


def _is_between(xyz: Floats, node: int, ends: set[int]) -> bool:
    """Return whether a node lies straight between two others."""
    one, other = (xyz[end] - xyz[node] for end in ends)
    return bool(
        np.dot(one, other) < -(1 - 1e-9) * np.linalg.norm(one) * np.linalg.norm(other)
    )
