"""The plan of the elimination: everything that depends on topology alone.

A `Layout` is made once for a connectivity and used again for every change of loads,
sections, stiffness or geometry. It holds the fronts of a multifrontal elimination in
the order of their height in the elimination tree, so that fronts of equal shape and
height are one stacked array and go through NumPy in one call.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from . import element
from .frame import Bools, Frame, Ints
from .ordering import Graph, by_dissection, by_levels, make_graph

# Measured prices, in seconds, of a two-core machine; only their ratios matter here.
_CALLS = 60e-6  # of the Python calls that one group of fronts needs
_PER_FRONT = 4e-6
_PER_INVERSE_FLOP = 0.35e-9
_PER_PRODUCT_FLOP = 0.10e-9
_PER_ENTRY = 4e-9  # of carrying one entry to the parent front


@dataclass(frozen=True, eq=False)
class Group:
    """Fronts of one height and one shape, stored one after the other.

    Attributes:
        count: number of fronts.
        p: freedoms that each eliminates.
        n: freedoms of each, eliminated and left.
        entry: first entry of the first front in the matrix store.
        row: first row of the first front in the row store.
        slices: (first, last) runs of fronts whose parents are all different.
        to_row: (count, n - p) row in the row store that each left row is added to.
        to_entry: (count, (n - p)^2) likewise in the matrix store.
        from_row: (count, n - p) row where each left freedom is eliminated.
    """

    count: int
    p: int
    n: int
    entry: int
    row: int
    slices: tuple[tuple[int, int], ...]
    to_row: Ints
    to_entry: Ints
    from_row: Ints


@dataclass(frozen=True, eq=False)
class Layout:
    """The plan of one elimination; see `make_layout`.

    Attributes:
        key: arrays that must be equal for the layout to fit a frame.
        free: (n, 6) freedoms that are unknowns.
        dof: (n_free,) flat index (6 node + k) of each unknown.
        groups: fronts, in the order of elimination.
        n_entries, n_rows: sizes of the two stores.
        own_row: (n_free,) row of each unknown where it is eliminated.
        own_entry: (n_free,) entry of its diagonal there.
        source, target: assembly is ``bincount(target, pool[source])``.
        cost: estimated seconds of one factorisation with eight solves.
    """

    key: tuple[NDArray, ...]
    free: Bools
    dof: Ints
    groups: tuple[Group, ...]
    n_entries: int
    n_rows: int
    own_row: Ints
    own_entry: Ints
    source: Ints
    target: Ints
    cost: float

    def fits(self, key: tuple[NDArray, ...]) -> bool:
        """Return True where a frame with that key can use this layout."""
        return all(np.array_equal(a, b) for a, b in zip(self.key, key, strict=True))


def layout_key(frame: Frame, natural: Bools) -> tuple[NDArray, ...]:
    """Return the arrays that a layout depends on."""
    links = frame.links
    return (frame.ends, frame.axial_only, frame.release, links.i, links.j, natural)


def make_layout(frame: Frame, natural: Bools, free: Bools) -> Layout:
    """Plan the elimination of a frame, by the cheapest of several orders.

    Args:
        frame: a checked frame.
        natural: (n, 6) freedoms that are not held and that something resists; part
            of the layout's key.
        free: (n, 6) those of them that are to be unknowns.
    """
    live = np.flatnonzero(free.any(axis=1))
    number = np.full(frame.n_nodes, -1, np.int64)
    number[live] = np.arange(len(live))
    pairs = number[_pairs(frame)]
    graph = make_graph(len(live), pairs[(pairs >= 0).all(axis=1)])
    width = free[live].sum(axis=1)
    place = frame.xyz[live]
    orders = [by_levels(graph, place)]
    orders += [by_dissection(graph, place, leaf) for leaf in (3, 8)]
    plans = [_Plan(graph, front, width) for front in orders]
    best = min(plans, key=lambda plan: plan.cost)
    return _store(frame, natural, free, live, best)


def _pairs(frame: Frame) -> Ints:
    """Return (e, 2) pairs of nodes that an element or a link joins."""
    links = frame.links
    tied = np.stack([links.i, links.j], axis=1)[links.j >= 0]
    return np.concatenate([frame.ends, tied])


class _Plan:
    """Fronts of one order: what each eliminates, what it leaves, and the price."""

    def __init__(self, graph: Graph, front: Ints, width: Ints):
        self.front, self.width = front, width
        count = int(front.max()) + 1 if len(front) else 0
        by_front = np.argsort(front, kind="stable")
        cut = np.searchsorted(front[by_front], np.arange(count + 1))
        self.own = [by_front[cut[k] : cut[k + 1]] for k in range(count)]
        self.left: list[Ints] = []
        self.parent = np.full(count, -1, np.int64)
        self.height = np.zeros(count, np.int64)
        self._eliminate(graph)
        self.p = np.bincount(front, weights=width, minlength=count).astype(np.int64)
        left = [int(width[nodes].sum()) for nodes in self.left]
        self.n = self.p + np.array(left, np.int64)
        self.members = self._group()
        self.cost = self._price()

    def _eliminate(self, graph: Graph) -> None:
        """Find which nodes each front leaves behind, and its parent."""
        front = self.front
        later = front[graph.a] < front[graph.b]
        earlier = front[graph.a] > front[graph.b]
        low = np.concatenate([graph.a[later], graph.b[earlier]])
        high = np.concatenate([graph.b[later], graph.a[earlier]])
        order = np.argsort(front[low], kind="stable")
        low, high = low[order], high[order]
        cut = np.searchsorted(front[low], np.arange(len(self.own) + 1)).tolist()
        touched = high.tolist()
        of = front.tolist()
        waiting: list[set[int]] = [set() for _ in self.own]
        for k in range(len(self.own)):
            left = waiting[k]
            left.update(touched[cut[k] : cut[k + 1]])
            left -= set(self.own[k].tolist())
            ranked = sorted(left, key=of.__getitem__)
            self.left.append(np.array(ranked, np.int64))
            if ranked:
                parent = of[ranked[0]]
                self.parent[k] = parent
                self.height[parent] = max(self.height[parent], self.height[k] + 1)
                waiting[parent] |= left
            waiting[k] = set()

    def _group(self) -> list[Ints]:
        """Return fronts of equal height and shape, in the order of elimination."""
        if not len(self.own):
            return []
        shape = np.stack([self.height, self.p, self.n])
        order = np.lexsort(shape[::-1])
        change = (np.diff(shape[:, order], axis=1) != 0).any(axis=0)
        return np.split(order, np.flatnonzero(change) + 1)

    def _price(self) -> float:
        """Return estimated seconds of a factorisation and eight solves."""
        p, q = self.p.astype(float), (self.n - self.p).astype(float)
        inverse = (8 / 3 * p**3).sum() * _PER_INVERSE_FLOP
        product = (2 * p * p * q + 2 * p * q * q + 64 * p * q).sum()
        carried = (q * q + 16 * q).sum() * _PER_ENTRY
        calls = len(self.members) * _CALLS + len(p) * _PER_FRONT
        return float(inverse + product * _PER_PRODUCT_FLOP + carried + calls)


def _store(
    frame: Frame, natural: Bools, free: Bools, live: Ints, plan: _Plan
) -> Layout:
    """Lay the fronts of a plan out in the two stores and map the assembly."""
    order, groups = _place_groups(plan)
    entry_of, row_of = np.zeros(len(plan.own), int), np.zeros(len(plan.own), int)
    n_entries = n_rows = 0
    for members in order:
        n = int(plan.n[members[0]])
        step = np.arange(len(members))
        entry_of[members] = n_entries + step * n * n
        row_of[members] = n_rows + step * n
        n_entries += len(members) * n * n
        n_rows += len(members) * n
    local = _LocalOffsets(plan)
    done = tuple(
        _make_group(plan, members, slices, entry_of, row_of, local)
        for members, slices in zip(order, groups, strict=True)
    )
    own = local.find(plan.front, np.arange(len(live)))
    first_row = np.full((frame.n_nodes,), -1)
    first_row[live] = row_of[plan.front] + own
    rank = np.cumsum(free, axis=1) - 1
    own_row = (first_row[:, None] + rank)[free]
    diagonal = (own[:, None] + rank[live]) * (plan.n[plan.front] + 1)[:, None]
    own_entry = (entry_of[plan.front][:, None] + diagonal)[free[live]]
    source, target = _assembly_map(frame, free, live, plan, entry_of, local, rank)
    return Layout(
        key=tuple(a.copy() for a in layout_key(frame, natural)),
        free=free,
        dof=np.flatnonzero(free),
        groups=done,
        n_entries=n_entries,
        n_rows=n_rows,
        own_row=own_row,
        own_entry=own_entry,
        source=source,
        target=target,
        cost=plan.cost,
    )


def _place_groups(
    plan: _Plan,
) -> tuple[list[Ints], list[tuple[tuple[int, int], ...]]]:
    """Sort each group so that fronts with one parent fall into different runs."""
    order: list[Ints] = []
    runs: list[tuple[tuple[int, int], ...]] = []
    for members in plan.members:
        parent = plan.parent[members]
        by_parent = np.argsort(parent, kind="stable")
        ranked = parent[by_parent]
        first = np.searchsorted(ranked, ranked)
        turn = np.arange(len(members)) - first
        turn[ranked < 0] = 0
        again = np.argsort(turn, kind="stable")
        order.append(members[by_parent[again]])
        sizes = np.bincount(turn)
        stops = np.cumsum(sizes)
        runs.append(tuple(zip((stops - sizes).tolist(), stops.tolist(), strict=True)))
    return order, runs


class _LocalOffsets:
    """Where a node's freedoms start within a front, looked up for many at once."""

    def __init__(self, plan: _Plan):
        self.n = len(plan.front)
        lists = [np.concatenate(pair) for pair in zip(plan.own, plan.left, strict=True)]
        sizes = np.array([len(nodes) for nodes in lists], np.int64)
        nodes = np.concatenate(lists) if lists else np.zeros(0, np.int64)
        front = np.repeat(np.arange(len(lists)), sizes)
        width = plan.width[nodes]
        total = np.cumsum(width) - width
        starts = np.cumsum(plan.n) - plan.n
        key = front * self.n + nodes
        by_key = np.argsort(key)
        self.key = key[by_key]
        self.offset = (total - starts[front])[by_key]

    def find(self, front: Ints, node: Ints) -> Ints:
        """Return the first local freedom of each node within each front."""
        return self.offset[np.searchsorted(self.key, front * self.n + node)]


def _make_group(
    plan: _Plan,
    members: Ints,
    slices: tuple[tuple[int, int], ...],
    entry_of: Ints,
    row_of: Ints,
    local: _LocalOffsets,
) -> Group:
    """Return one group with the places in the parents that its fronts add to."""
    p, n = int(plan.p[members[0]]), int(plan.n[members[0]])
    count, q = len(members), n - p
    to_row = from_row = to_entry = np.zeros((count, 0), int)
    if q:
        left = [plan.left[k] for k in members]
        nodes = np.concatenate(left)
        of = np.repeat(np.arange(count), [len(part) for part in left])
        parent = plan.parent[members]
        first = local.find(parent[of], nodes)
        width = plan.width[nodes]
        step = np.arange(width.sum()) - np.repeat(np.cumsum(width) - width, width)
        inner = (np.repeat(first, width) + step).reshape(count, q)
        to_row = row_of[parent][:, None] + inner
        owner = plan.front[nodes]
        home = row_of[owner] + local.find(owner, nodes)
        from_row = (np.repeat(home, width) + step).reshape(count, q)
        stride = plan.n[parent][:, None, None]
        to_entry = inner[:, :, None] * stride + inner[:, None, :]
        to_entry = to_entry.reshape(count, q * q) + entry_of[parent][:, None]
    return Group(
        count=count,
        p=p,
        n=n,
        entry=int(entry_of[members[0]]),
        row=int(row_of[members[0]]),
        slices=slices,
        to_row=to_row,
        to_entry=to_entry,
        from_row=from_row,
    )


def _assembly_map(
    frame: Frame,
    free: Bools,
    live: Ints,
    plan: _Plan,
    entry_of: Ints,
    local: _LocalOffsets,
    rank: Ints,
) -> tuple[Ints, Ints]:
    """Return where each entry of the stiffness pool goes in the matrix store."""
    number = np.full(frame.n_nodes, -1, np.int64)
    number[live] = np.arange(len(live))
    m, k = frame.n_elements, len(frame.links)
    sources: list[Ints] = []
    targets: list[Ints] = []
    ends = np.concatenate([frame.ends, np.stack([frame.links.i, frame.links.j], 1)])
    which = np.arange(m + k)
    bends = np.concatenate([~frame.axial_only, np.zeros(k, bool)])
    for (r_end, r_turn, c_end, c_turn), (kind, flip) in _BLOCKS.items():
        use = which if not (r_turn or c_turn) else which[bends]
        r, c = ends[use, r_end], ends[use, c_end]
        use = use[(r >= 0) & (c >= 0)]
        r, c = ends[use, r_end], ends[use, c_end]
        a, b = number[r], number[c]
        keep = (a >= 0) & (b >= 0)
        keep[keep] &= plan.front[a[keep]] <= plan.front[b[keep]]
        use, r, c, a, b = use[keep], r[keep], c[keep], a[keep], b[keep]
        front = plan.front[a]
        row, col = local.find(front, a), local.find(front, b)
        base, stride = entry_of[front], plan.n[front]
        for i in range(3):
            for j in range(3):
                fi, fj = 3 * r_turn + i, 3 * c_turn + j
                live_pair = free[r, fi] & free[c, fj]
                entry = base + (row + rank[r, fi]) * stride + col + rank[c, fj]
                inner = 3 * j + i if flip else 3 * i + j
                source = np.where(
                    use < m, (kind * m + use) * 9, (_link_row(kind) * k + use - m) * 9
                ) + np.where(use < m, 0, 9 * m * 9)
                sources.append((source + inner)[live_pair])
                targets.append(entry[live_pair])
    source, target = np.concatenate(sources), np.concatenate(targets)
    order = np.argsort(target, kind="stable")
    return source[order], target[order]


def _link_row(kind: int) -> int:
    """Return the row of the link pool (TT, -TT) that stands for an element's row."""
    return 1 if kind == element.TT_NEG else 0


# (row end, row turns, column end, column turns) -> kind of block, transposed or not.
_BLOCKS: dict[tuple[int, int, int, int], tuple[int, bool]] = {
    (0, 0, 0, 0): (element.TT, False),
    (0, 0, 1, 0): (element.TT_NEG, False),
    (1, 0, 0, 0): (element.TT_NEG, False),
    (1, 0, 1, 0): (element.TT, False),
    (0, 0, 0, 1): (element.TI_NEG, False),
    (0, 0, 1, 1): (element.TJ_NEG, False),
    (1, 0, 0, 1): (element.TI, False),
    (1, 0, 1, 1): (element.TJ, False),
    (0, 1, 0, 0): (element.TI_NEG, True),
    (0, 1, 1, 0): (element.TI, True),
    (1, 1, 0, 0): (element.TJ_NEG, True),
    (1, 1, 1, 0): (element.TJ, True),
    (0, 1, 0, 1): (element.RII, False),
    (0, 1, 1, 1): (element.RIJ, False),
    (1, 1, 0, 1): (element.RIJ, True),
    (1, 1, 1, 1): (element.RJJ, False),
}
