"""Which front eliminates which nodes, what it leaves to its parent, and the price.

Works on nodes and their numbers of freedoms only; `layout` turns a plan into places
in memory.
"""

from __future__ import annotations

import itertools

import numpy as np

from .frame import Ints
from .ordering import Graph

# Measured prices, in seconds, of a two-core machine; only their ratios matter here.
_CALLS = 45e-6  # of the Python calls that one group of fronts needs
_PER_FRONT = 4e-6
_PER_INVERSE_FLOP = 0.35e-9
_PER_PRODUCT_FLOP = 0.15e-9
_PER_ENTRY = 4e-9  # of carrying one entry to the parent front


class Plan:
    """Fronts of one order.

    Attributes:
        front: (n,) front of each node.
        width: (n,) freedoms of each node.
        own: nodes that each front eliminates.
        left: nodes that it leaves, those of its parent first.
        parent: (f,) front that takes what is left, -1 for none.
        p, q: (f,) freedoms eliminated and left.
        to_own: (f,) how many of those left the parent eliminates.
        groups: fronts of equal height and shape, in the order of elimination.
        cost: estimated seconds of one factorisation with eight solves.
    """

    def __init__(self, graph: Graph, front: Ints, width: Ints):
        self.front, self.width = front, width
        count = int(front.max()) + 1 if len(front) else 0
        by_front = np.argsort(front, kind="stable")
        cut = np.searchsorted(front[by_front], np.arange(count + 1))
        self.own = [by_front[a:b] for a, b in itertools.pairwise(cut)]
        self.left: list[Ints] = []
        self.parent = np.full(count, -1, np.int64)
        self._height = np.zeros(count, np.int64)
        self._eliminate(graph)
        self.p = np.bincount(front, weights=width, minlength=count).astype(np.int64)
        sizes = np.array([len(nodes) for nodes in self.left], np.int64)
        self.left_front = np.repeat(np.arange(count), sizes)
        self.left_node = np.concatenate([np.zeros(0, np.int64), *self.left])
        self.q = self._left_widths(np.ones(len(self.left_node), bool))
        self.to_own = self._left_widths(
            self.front[self.left_node] == self.parent[self.left_front]
        )
        self.groups = self._group()
        self.cost = self._price()

    def _eliminate(self, graph: Graph) -> None:
        """Find which nodes each front leaves behind, and its parent."""
        front = self.front
        later = front[graph.a] < front[graph.b]
        earlier = front[graph.a] > front[graph.b]
        low = np.concatenate([graph.a[later], graph.b[earlier]])
        high = np.concatenate([graph.b[later], graph.a[earlier]])
        order = np.argsort(front[low], kind="stable")
        cut = np.searchsorted(front[low][order], np.arange(len(self.own) + 1)).tolist()
        touched = high[order].tolist()
        of = front.tolist()
        waiting: list[set[int]] = [set() for _ in self.own]
        height = [0] * len(self.own)
        for k in range(len(self.own)):
            left = waiting[k]
            left.update(touched[cut[k] : cut[k + 1]])
            here = [node for node in left if of[node] != k]
            here.sort(key=of.__getitem__)
            self.left.append(np.array(here, np.int64))
            if here:
                parent = of[here[0]]
                self.parent[k] = parent
                height[parent] = max(height[parent], height[k] + 1)
                waiting[parent].update(here)
            waiting[k] = set()
        self._height = np.array(height, np.int64)

    def _left_widths(self, which: Ints) -> Ints:
        """Return (f,) freedoms of some of the nodes that each front leaves."""
        weight = self.width[self.left_node] * which
        total = np.bincount(self.left_front, weight, minlength=len(self.own))
        return total.astype(np.int64)

    def _group(self) -> list[Ints]:
        """Return fronts of equal height and shape, in the order of elimination."""
        if not len(self.own):
            return []
        shape = np.stack([self._height, self.p, self.q, self.to_own])
        order = np.lexsort(shape[::-1])
        change = (np.diff(shape[:, order], axis=1) != 0).any(axis=0)
        return np.split(order, np.flatnonzero(change) + 1)

    def _price(self) -> float:
        """Return estimated seconds of a factorisation and eight solves."""
        p, q = self.p.astype(float), self.q.astype(float)
        inverse = (2 * p**3).sum() * _PER_INVERSE_FLOP
        product = (2 * p * p * q + 2 * p * q * q + 64 * p * q).sum()
        carried = (q * q + 16 * q)[q > self.to_own].sum() * _PER_ENTRY
        calls = len(self.groups) * _CALLS + len(p) * _PER_FRONT
        return float(inverse + product * _PER_PRODUCT_FLOP + carried + calls)
