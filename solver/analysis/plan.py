"""Which front eliminates which nodes, what it leaves to its parent, and the price.

Works on nodes and their numbers of freedoms only; `layout` turns a plan into places
in memory.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

from .frame import Ints
from .ordering import Graph

# Measured prices, in seconds, of a two-core machine; only their ratios matter here.
# One factorisation with four solves of eight columns is priced: contacts need several.
_CALLS = 80e-6  # of the Python calls that one group of fronts needs
_PER_FRONT = 10e-6
_PER_INVERSE_FLOP = 0.2e-9
_PER_PRODUCT_FLOP = 0.13e-9
_PER_COLUMN_FLOP = 0.25e-9  # of substituting
_PER_ENTRY = 6e-9  # of carrying one entry to the parent front
_COLUMNS = 4 * 8


def work(p: int, q: int) -> float:
    """Return estimated seconds of a front that eliminates p and leaves q freedoms."""
    return (
        _PER_FRONT
        + 2 * p**3 * _PER_INVERSE_FLOP
        + 2 * p * q * (p + q) * _PER_PRODUCT_FLOP
        + _COLUMNS * (4 * p * q + 2 * p * p) * _PER_COLUMN_FLOP
        + (q * q + _COLUMNS * q) * _PER_ENTRY
    )


@dataclass(frozen=True, eq=False)
class Batch:
    """Fronts of one height that are stored as if all had one shape.

    Attributes:
        members: (count,) fronts.
        p, q: the largest number eliminated and left; smaller fronts are padded.
    """

    members: Ints
    p: int
    q: int


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
        batches: fronts that go together, in the order of elimination.
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
        self.batches = self._batch()
        self.cost = sum(_CALLS + len(b.members) * work(b.p, b.q) for b in self.batches)

    def _eliminate(self, graph: Graph) -> None:
        """Find which nodes each front leaves behind, and its parent."""
        front = self.front
        later = front[graph.a] < front[graph.b]
        earlier = front[graph.a] > front[graph.b]
        low = np.concatenate([graph.a[later], graph.b[earlier]])
        high = np.concatenate([graph.b[later], graph.a[earlier]])
        order = np.argsort(front[low], kind="stable")
        cut = np.searchsorted(front[low][order], np.arange(len(self.own) + 1)).tolist()
        touched: list[int] = high[order].tolist()
        of: list[int] = front.tolist()
        waiting: list[set[int]] = [set() for _ in self.own]
        height: list[int] = [0] * len(self.own)
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

    def _batch(self) -> list[Batch]:
        """Return fronts of equal height, padded to one shape where that is cheaper.

        Fronts are taken in falling size; a new batch starts where the padding so far
        costs more than the calls of another batch.
        """
        order = np.lexsort((-self.p, -(self.p + self.q), self._height))
        height = [int(v) for v in self._height]
        ps = [int(v) for v in self.p]
        qs = [int(v) for v in self.q]
        out: list[Batch] = []
        members: list[int] = []
        p = q = 0
        each = waste = 0.0
        for k in map(int, order):
            wide, high = max(p, ps[k]), max(q, qs[k])
            padded = each if (wide, high) == (p, q) else work(wide, high)
            extra = padded - work(ps[k], qs[k]) + len(members) * (padded - each)
            fits = bool(members) and height[members[0]] == height[k]
            if fits and waste + extra <= _CALLS:
                waste += extra
            else:
                if members:
                    out.append(Batch(np.array(members, np.int64), p, q))
                members, waste = [], 0.0
                wide, high = ps[k], qs[k]
                padded = work(wide, high)
            members.append(k)
            p, q, each = wide, high, padded
        if members:
            out.append(Batch(np.array(members, np.int64), p, q))
        return out
