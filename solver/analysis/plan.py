"""Which front eliminates which nodes, what it leaves to its parent, and the price.

Works on nodes and their numbers of freedoms only; `layout` turns a plan into places
in memory.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .frame import Ints
from .ordering import Graph

# Measured prices, in seconds, of a two-core machine; only their ratios matter here.
# One factorisation with four solves of eight columns is priced: contacts need several.
_CALLS = 150e-6  # of the Python calls that one group of fronts needs
_PER_FRONT = 5e-6
_PER_INVERSE_FLOP = 0.35e-9
_PER_PRODUCT_FLOP = 0.12e-9
_PER_ENTRY = 4e-9  # of carrying one entry to the parent front
_SOLVES = 4
_COLUMNS = 8


def work(p: Ints, q: Ints) -> NDArray[np.float64]:
    """Return estimated seconds of fronts that eliminate p and leave q freedoms."""
    p, q = p.astype(float), q.astype(float)
    columns = _SOLVES * _COLUMNS
    products = 2 * p * p * q + 2 * p * q * q + columns * (4 * p * q + 2 * p * p)
    carried = q * q + columns * q
    return (
        _PER_FRONT
        + 2 * p**3 * _PER_INVERSE_FLOP
        + products * _PER_PRODUCT_FLOP
        + carried * _PER_ENTRY
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
        self.cost = sum(
            _CALLS + len(b.members) * float(work(np.array(b.p), np.array(b.q)))
            for b in self.batches
        )

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

    def _batch(self) -> list[Batch]:
        """Return fronts of equal height, padded to one shape where that is cheaper.

        Fronts are taken in falling size; a new batch starts where the padding so far
        costs more than the calls of another batch.
        """
        out: list[Batch] = []
        own_work = work(self.p, self.q)
        order = np.lexsort((-self.p, -(self.p + self.q), self._height))
        members: list[int] = []
        p = q = 0
        waste = 0.0
        for k in order.tolist():
            wide, high = max(p, int(self.p[k])), max(q, int(self.q[k]))
            padded = float(work(np.array(wide), np.array(high)))
            before = float(work(np.array(p), np.array(q)))
            extra = padded - float(own_work[k]) + len(members) * (padded - before)
            same = bool(members) and self._height[members[0]] == self._height[k]
            if members and not (same and waste + extra <= _CALLS):
                out.append(Batch(np.array(members, np.int64), p, q))
                members, waste = [], 0.0
                wide, high, extra = int(self.p[k]), int(self.q[k]), 0.0
            members.append(k)
            p, q = wide, high
            waste += extra if len(members) > 1 else 0.0
        if members:
            out.append(Batch(np.array(members, np.int64), p, q))
        return out
