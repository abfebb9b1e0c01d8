"""Orders in which the nodes of a frame are eliminated.

An order is an array that gives each node its *front*: nodes of a front leave
together, fronts leave in increasing number. Three families are offered; `layout`
prices them and takes the cheapest. Nothing here knows of numbers, only of topology
and of where the nodes stand.

* levels: breadth-first levels along the building. A level touches only its two
  neighbours, so a long roof costs the same per metre whatever its length. Nodes that
  touch no other level leave first, in small groups that look alike.
* dissection: the frame is cut in two by a few nodes, and each half again. A wide roof,
  where a level is long, stays cheap.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .frame import Floats, Ints


@dataclass(frozen=True, eq=False)
class Graph:
    """Which nodes touch.

    Attributes:
        n: number of nodes.
        a, b: (e,) the two nodes of each edge, once, a < b.
        start: (n + 1,) where each node's neighbours start in ``neighbour``.
        neighbour: (2e,) neighbours.
    """

    n: int
    a: Ints
    b: Ints
    start: Ints
    neighbour: Ints


def make_graph(n: int, pairs: Ints) -> Graph:
    """Return the graph of n nodes with the given (e, 2) pairs, repeats allowed."""
    low, high = pairs.min(axis=1), pairs.max(axis=1)
    code = np.unique(low * n + high)
    a, b = code // max(n, 1), code % max(n, 1)
    tail, head = np.concatenate([a, b]), np.concatenate([b, a])
    order = np.argsort(tail, kind="stable")
    start = np.concatenate([[0], np.cumsum(np.bincount(tail, minlength=n))])
    return Graph(n, a, b, start, head[order])


def components(n: int, a: Ints, b: Ints) -> Ints:
    """Return the (n,) least node of each node's connected component."""
    label = np.arange(n)
    while True:
        low = np.minimum(label[a], label[b])
        new = label.copy()
        np.minimum.at(new, a, low)
        np.minimum.at(new, b, low)
        np.minimum.at(new, label[a], low)
        np.minimum.at(new, label[b], low)
        new = new[new]
        if np.array_equal(new, label):
            return label
        label = new


def by_levels(graph: Graph, xyz: Floats) -> Ints:
    """Return fronts of an elimination along the building, from both ends inwards."""
    n = graph.n
    part = components(n, graph.a, graph.b)
    level = _levels(graph, part, xyz)
    crossing = level[graph.a] != level[graph.b]
    outer = np.zeros(n, bool)
    outer[graph.a[crossing]] = True
    outer[graph.b[crossing]] = True
    inside = ~(outer[graph.a] | outer[graph.b])
    group = components(n, graph.a[inside], graph.b[inside])
    depth = np.zeros(n, np.int64)
    np.maximum.at(depth, part, level)
    inward = np.minimum(level, depth[part] - level)
    side = (2 * level > depth[part]).astype(np.int64)
    key = np.where(outer, ((n + inward) * 2 + side) * n + part, group)
    return np.unique(key, return_inverse=True)[1].reshape(-1).astype(np.int64)


def _levels(graph: Graph, part: Ints, xyz: Floats) -> Ints:
    """Return breadth-first levels of each component from its end along its length."""
    n = graph.n
    if n == 0:
        return np.zeros(0, np.int64)
    extent = np.ptp(xyz, axis=0)
    along = xyz[:, int(np.argmax(extent))]
    first = np.full(n, np.inf)
    np.minimum.at(first, part, along)
    level = np.full(n, -1, np.int64)
    here = np.flatnonzero(
        along <= first[part] + 1e-6 * max(float(extent.max()), 1e-300)
    )
    level[here] = 0
    step = 0
    while len(here):
        near = _neighbours(graph, here)
        here = np.unique(near[level[near] < 0])
        step += 1
        level[here] = step
    return _pull_in(graph, level)


def _pull_in(graph: Graph, level: Ints) -> Ints:
    """Return levels where a node joined only to the level before has joined it."""
    far = np.full(graph.n, -1, np.int64)
    np.maximum.at(far, graph.a, level[graph.b])
    np.maximum.at(far, graph.b, level[graph.a])
    return np.where((far >= 0) & (far == level - 1), level - 1, level)


def _neighbours(graph: Graph, nodes: Ints) -> Ints:
    """Return all neighbours of some nodes, repeats included."""
    count = graph.start[nodes + 1] - graph.start[nodes]
    skip = np.repeat(graph.start[nodes] - np.cumsum(count) + count, count)
    return graph.neighbour[skip + np.arange(count.sum())]


def by_dissection(graph: Graph, xyz: Floats, leaf: int) -> Ints:
    """Return fronts of a nested dissection by cuts across the coordinates.

    Args:
        graph: the nodes and edges.
        xyz: (n, 3) m.
        leaf: parts of at most so many nodes are not cut again.
    """
    front = np.full(graph.n, -1, np.int64)
    side = np.zeros(graph.n, np.int8)
    pending: list[tuple[Ints, Ints, bool]] = [
        (np.arange(graph.n), np.arange(len(graph.a)), True)
    ]
    fronts: list[Ints] = []
    while pending:
        nodes, edges, divisible = pending.pop()
        cut = None
        if divisible and len(nodes) > leaf:
            cut = _best_cut(graph, xyz, nodes, edges, side)
        if cut is None:
            fronts.append(nodes)
            continue
        separator, parts = cut
        if len(separator):
            fronts.append(separator)
        pending.extend((part, inner, True) for part, inner in parts)
    for number, nodes in enumerate(reversed(fronts)):
        front[nodes] = number
    return front


_CUTS = (0.5, 0.4, 0.6, 0.45, 0.55)


def _best_cut(
    graph: Graph, xyz: Floats, nodes: Ints, edges: Ints, side: NDArray[np.int8]
) -> tuple[Ints, list[tuple[Ints, Ints]]] | None:
    """Return the separator of the cheapest cut and the two parts it leaves."""
    a, b = graph.a[edges], graph.b[edges]
    place = xyz[nodes]
    extent = np.ptp(place, axis=0)
    best: tuple[float, Ints, NDArray[np.bool_]] | None = None
    for axis in np.flatnonzero(extent > 0.2 * extent.max()):
        value = place[:, axis]
        ranked = np.sort(value)
        for fraction in _CUTS:
            beyond = value > ranked[int(fraction * (len(nodes) - 1))] + 1e-6
            count = int(beyond.sum())
            if count in (0, len(nodes)):
                continue
            side[nodes] = beyond
            cross = side[a] != side[b]
            ca, cb = a[cross], b[cross]
            near = np.unique(np.where(side[ca] == 0, ca, cb))
            away = np.unique(np.where(side[ca] == 0, cb, ca))
            separator = near if len(near) <= len(away) else away
            uneven = max(count, len(nodes) - count) / len(nodes)
            price = len(separator) * (1 + uneven) + uneven
            if best is None or price < best[0]:
                best = (price, separator, beyond)
    if best is None:
        return None
    _, separator, beyond = best
    side[nodes] = beyond
    side[separator] = 2
    mark, ma, mb = side[nodes], side[a], side[b]
    parts = [
        (nodes[mark == k], edges[(ma == k) & (mb == k)])
        for k in (0, 1)
        if (mark == k).any()
    ]
    return separator, parts
