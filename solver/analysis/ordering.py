"""Orders in which the nodes of a frame are eliminated.

An order is an array that gives each node its *front*: nodes of a front leave
together, fronts leave in increasing number. Two families are offered; `layout`
prices them and takes the cheapest. Nothing here knows of numbers, only of topology
and of where the nodes stand.

* levels: breadth-first levels along the building, from both ends inwards. A level
  touches only its two neighbours, so a long roof costs the same per metre whatever its
  length. Nodes that touch no other level leave first, in small groups that look alike.
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
    """Return fronts that leave from both ends of each component inwards.

    Nodes that touch no other level leave first, each group of them on its own.
    """
    n = graph.n
    part = components(n, graph.a, graph.b)
    level = _levels(graph, part, xyz)
    crossing = level[graph.a] != level[graph.b]
    outer = np.zeros(n, bool)
    outer[graph.a[crossing]] = True
    outer[graph.b[crossing]] = True
    inside = ~(outer[graph.a] | outer[graph.b])
    inner = components(n, graph.a[inside], graph.b[inside])
    last = np.zeros(n, np.int64)
    np.maximum.at(last, part, level)
    last = last[part]
    step = np.minimum(level, last - level)
    side = (2 * level > last).astype(np.int64)
    key = np.where(outer, ((n + step) * 2 + side) * n + part, inner)
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

    All parts of one depth are cut at once.

    Args:
        graph: the nodes and edges.
        xyz: (n, 3) m.
        leaf: parts of at most so many nodes are not cut again.
    """
    depth = np.zeros(graph.n, np.int64)
    part = np.zeros(graph.n, np.int64)
    whole = np.arange(graph.n)  # nodes that no separator has taken yet
    a, b = graph.a, graph.b
    here = 0
    while len(whole):
        label, count = np.unique(part[whole], return_inverse=True, return_counts=True)[
            1:
        ]
        cut = _Cut(graph.n, xyz, whole, label.reshape(-1), count, a, b)
        divided = (count > leaf) & np.isfinite(cut.price)
        stays = divided[cut.of[whole]] & ~cut.separator[whole]
        depth[whole] = here
        part[whole] = 3 * cut.of[whole] + np.where(
            divided[cut.of[whole]], cut.beyond[whole] + 2 * cut.separator[whole], 0
        ).clip(max=2)
        taken = whole[~stays]
        part[taken] += 3 * graph.n * (here + 1)
        whole = whole[stays]
        alive = np.zeros(graph.n, bool)
        alive[whole] = True
        keep = alive[a] & alive[b] & (part[a] == part[b])
        a, b = a[keep], b[keep]
        here += 1
    order = np.lexsort((part, -depth))
    change = (np.diff(part[order]) != 0) | (np.diff(depth[order]) != 0)
    front = np.zeros(graph.n, np.int64)
    front[order] = np.concatenate([[0], np.cumsum(change)])[: graph.n]
    return front


_FRACTIONS = (0.5, 0.42, 0.58)


class _Cut:
    """The cheapest of a few cuts across the coordinates, for every part at once.

    Attributes:
        of: (n,) part of each node.
        price: (parts,) of the best cut, infinite where there is none.
        beyond: (n,) True on the far side of it.
        separator: (n,) True for the nodes that part the sides.
    """

    def __init__(
        self, n: int, xyz: Floats, whole: Ints, label: Ints, count: Ints, a: Ints,
        b: Ints,
    ):  # fmt: skip
        self.of = np.zeros(n, np.int64)
        self.of[whole] = label
        self.beyond, self.separator = np.zeros(n, bool), np.zeros(n, bool)
        self.price = np.full(len(count), np.inf)
        self._whole, self._count, self._a, self._b = whole, count, a, b
        first = np.cumsum(count) - count
        spans: list[tuple[Floats, Floats, Floats]] = []
        for axis in range(3):
            value = xyz[whole, axis]
            ranked = value[np.lexsort((value, label))]
            spans.append((value, ranked, ranked[first + count - 1] - ranked[first]))
        longest = np.maximum.reduce([span for _, _, span in spans])
        for value, ranked, span in spans:
            fits = span > np.maximum(0.2 * longest, 1e-6)
            if not fits.any():
                continue
            for fraction in _FRACTIONS:
                at = ranked[first + (fraction * (count - 1)).astype(np.int64)]
                self._try(value > at[label] + 1e-6, fits)

    def _try(self, beyond_here: NDArray[np.bool_], fits: NDArray[np.bool_]) -> None:
        """Keep a cut for the parts where it is the best so far."""
        whole, of, parts = self._whole, self.of, len(self._count)
        beyond = np.zeros(len(of), bool)
        beyond[whole] = beyond_here
        a, b = self._a, self._b
        cross = beyond[a] != beyond[b]
        ends = np.concatenate([a[cross], b[cross]])
        touched = np.zeros(len(of), bool)
        touched[ends] = True
        near = np.bincount(of[whole], touched[whole] & ~beyond_here, minlength=parts)
        away = np.bincount(of[whole], touched[whole] & beyond_here, minlength=parts)
        far = np.bincount(of[whole], beyond_here, minlength=parts)
        uneven = np.maximum(far, self._count - far) / self._count
        price = np.minimum(near, away) * (1 + uneven) + uneven
        price = np.where(fits & (far > 0) & (far < self._count), price, np.inf)
        better = price < self.price
        self.price = np.where(better, price, self.price)
        nodes = whole[better[of[whole]]]
        self.beyond[nodes] = beyond[nodes]
        side = beyond[nodes] == (away < near)[of[nodes]]
        self.separator[nodes] = touched[nodes] & side
