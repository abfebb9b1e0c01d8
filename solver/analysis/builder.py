"""Makes the layout of an elimination: places in memory, and where each entry goes.

Receives a frame's topology and freedoms; knows nothing of stiffness values.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from . import element
from .frame import Bools, Frame, Ints
from .layout import Block, Group, Layout, Run, layout_key
from .ordering import by_dissection, by_levels, make_graph
from .plan import Batch, Plan

_LEAF = 8  # nodes of a part that is not cut again; measured
_SMALL = 48  # unknowns of a front; below, no other order pays for looking for it


def make_layout(frame: Frame, natural: Bools, free: Bools) -> Layout:
    """Plan the elimination of a frame, by the cheaper of two orders.

    Where dissection leaves small fronts alone, as on most roofs, it is taken.

    Args:
        frame: a checked frame.
        natural: (n, 6) freedoms that are not held and that something resists; part
            of the layout's key.
        free: (n, 6) those of them that are to be unknowns.
    """
    live = np.flatnonzero(free.any(axis=1))
    number = np.full(frame.n_nodes, -1, np.int64)
    number[live] = np.arange(len(live))
    links = frame.links
    tied = np.stack([links.i, links.j], axis=1)[links.j >= 0]
    pairs = number[np.concatenate([frame.ends, tied])]
    graph = make_graph(len(live), pairs[(pairs >= 0).all(axis=1)])
    width, place = free[live].sum(axis=1), frame.xyz[live]
    plan = Plan(graph, by_dissection(graph, place, _LEAF), width)
    if (plan.p + plan.q).max(initial=0) > _SMALL:
        levels = Plan(graph, by_levels(graph, place), width)
        plan = min(plan, levels, key=lambda p: p.cost)
    return _Builder(frame, free, number, plan).layout(layout_key(frame, natural))


class _Builder:
    """Lays the fronts of a plan out in the stores and maps the assembly."""

    def __init__(self, frame: Frame, free: Bools, number: Ints, plan: Plan):
        self.frame, self.free, self.number, self.plan = frame, free, number, plan
        fronts = len(plan.own)
        self.pivot_at = np.zeros(fronts, np.int64)
        self.coupling_at = np.zeros(fronts, np.int64)
        self.rest_at = np.full(fronts, -1, np.int64)
        self.row_at = np.zeros(fronts, np.int64)
        self.left_at = np.full(fronts, -1, np.int64)
        self.wide = np.zeros(fronts, np.int64)  # p and q with the padding
        self.high = np.zeros(fronts, np.int64)
        self.batches = [_in_turns(plan, batch) for batch in plan.batches]
        self.n_entries = self.n_rows = 0
        self._place()
        self._offsets()

    def _place(self) -> None:
        """Give every front its places in the matrix store and the row store."""
        plan = self.plan
        deep = np.zeros(len(plan.own), bool)  # children add to what it leaves
        deep[plan.parent[plan.q > plan.to_own]] = True
        padding: list[Ints] = [np.zeros(0, np.int64)]
        for batch, _ in self.batches:
            members, p, q = batch.members, batch.p, batch.q
            self.wide[members], self.high[members] = p, q
            self._take(self.pivot_at, members, p * p)
            self._take(self.coupling_at, members, p * q)
            if q and deep[members].any():
                self._take(self.rest_at, members, q * q)
            self.row_at[members] = self.n_rows + p * np.arange(len(members))
            self.n_rows += p * len(members)
            pad = np.arange(p) >= plan.p[members][:, None]
            diagonal = self.pivot_at[members][:, None] + np.arange(p) * (p + 1)
            padding.append(diagonal[pad])
        for batch, _ in self.batches:
            members, q = batch.members, batch.q
            if self.rest_at[members[0]] >= 0:
                self.left_at[members] = self.n_rows + q * np.arange(len(members))
                self.n_rows += q * len(members)
        self.padding = np.concatenate(padding)
        self.nowhere, self.no_row = self.n_entries, self.n_rows
        self.n_entries += 1
        self.n_rows += 1

    def _take(self, at: Ints, members: Ints, size: int) -> None:
        """Give some fronts consecutive places of one size in the matrix store."""
        at[members] = self.n_entries + size * np.arange(len(members))
        self.n_entries += size * len(members)

    def _offsets(self) -> None:
        """Note where each node's freedoms start within each front that has it."""
        plan, n = self.plan, len(self.plan.front)
        own = np.concatenate([np.zeros(0, np.int64), *plan.own])
        width = plan.width[own]
        start = np.cumsum(plan.p) - plan.p
        self.own_offset = np.zeros(n, np.int64)
        self.own_offset[own] = np.cumsum(width) - width - start[plan.front[own]]
        width = plan.width[plan.left_node]
        start = np.cumsum(plan.q) - plan.q
        offset = np.cumsum(width) - width - start[plan.left_front]
        key = plan.left_front * n + plan.left_node
        by_key = np.argsort(key)
        self._left_key, self._left_offset = key[by_key], offset[by_key]

    def _in_left(self, front: Ints, node: Ints) -> Ints:
        """Return the first freedom of nodes among those that fronts leave."""
        key = front * len(self.plan.front) + node
        return self._left_offset[np.searchsorted(self._left_key, key)]

    def layout(self, key: tuple[NDArray[np.generic], ...]) -> Layout:
        """Return the finished layout."""
        self._left_freedoms()
        groups = tuple(self._group(batch, turn) for batch, turn in self.batches)
        plan, free = self.plan, self.free
        live = np.flatnonzero(self.number >= 0)
        rank = np.cumsum(free, axis=1) - 1
        place = self.own_offset[:, None] + rank[live]
        row = (self.row_at[plan.front][:, None] + place)[free[live]]
        step = (self.wide[plan.front] + 1)[:, None]
        diagonal = (self.pivot_at[plan.front][:, None] + place * step)[free[live]]
        source, target = self._assembly(rank)
        dof = np.flatnonzero(free)
        unknown = np.full(free.size, -1)
        unknown[dof] = np.arange(len(dof))
        return Layout(
            key=tuple(a.copy() for a in key),
            free=free,
            dof=dof,
            unknown=unknown,
            groups=groups,
            n_entries=self.n_entries,
            n_rows=self.n_rows,
            row=row,
            diagonal=diagonal,
            padding=self.padding,
            source=source,
            target=target,
            cost=plan.cost,
        )

    def _left_freedoms(self) -> None:
        """List, for each freedom that a front leaves, its home and its parent's place.

        ``inner`` counts within the parent: own freedoms from 0, left ones from p.
        """
        plan = self.plan
        node, front = plan.left_node, plan.left_front
        width, owner, parent = plan.width[node], plan.front[node], plan.parent[front]
        place = self.own_offset[node].copy()
        beyond = owner != parent
        place[beyond] = self.wide[parent[beyond]] + self._in_left(
            parent[beyond], node[beyond]
        )
        before = np.repeat(np.cumsum(width) - width, width)
        step: Ints = np.arange(len(before)) - before
        home = self.row_at[owner] + self.own_offset[node]
        self._inner: Ints = np.repeat(place, width) + step
        self._home: Ints = np.repeat(home, width) + step
        self._first = np.cumsum(plan.q) - plan.q

    def _group(self, batch: Batch, turn: Ints) -> Group:
        """Return one group with its runs."""
        plan, members = self.plan, batch.members
        p, q, count, first = batch.p, batch.q, len(members), int(members[0])
        deep = self.rest_at[first] >= 0
        real = np.arange(q) < plan.q[members][:, None]
        at = (self._first[members][:, None] + np.arange(q))[real]
        inner = np.full((count, q), -1)
        inner[real] = self._inner[at]
        from_rows = np.full((count, q), self.no_row)
        from_rows[real] = self._home[at]
        runs: list[Run] = []
        if q:
            stops = np.flatnonzero(np.diff(turn)) + 1
            edges = [0, *stops.tolist(), count]
            runs = [self._run(members, a, b, inner) for a, b in pairwise(edges)]
        return Group(
            count=count,
            p=p,
            q=q,
            pivots=_stretch(self.pivot_at[first], count * p * p),
            couplings=_stretch(self.coupling_at[first], count * p * q),
            rests=_stretch(self.rest_at[first], count * q * q) if deep else None,
            rows=_stretch(self.row_at[first], count * p),
            left_rows=_stretch(self.left_at[first], count * q) if deep else None,
            runs=tuple(runs),
            from_rows=from_rows,
        )

    def _run(self, members: Ints, first: int, last: int, inner: Ints) -> Run:
        """Return how some fronts of a group add to their parents."""
        parent, inner = self.plan.parent[members[first:last]], inner[first:last]
        wide, high = self.wide[parent][:, None], self.high[parent][:, None]
        pivots, couplings = self.pivot_at[parent][:, None], self.coupling_at[parent]
        rows = np.where(
            inner < wide,
            self.row_at[parent][:, None] + inner,
            self.left_at[parent][:, None] + inner - wide,
        )
        rows[inner < 0] = self.no_row
        block = None
        low, p = int(inner[0, 0]), int(wide[0, 0])
        row: Ints = low + np.arange(inner.shape[1])
        together = low >= 0 and bool((inner == row).all() and (inner < wide).all())
        if together and (wide == p).all() and (np.diff(pivots[:, 0]) == p * p).all():
            block = Block(
                entries=_stretch(pivots[0, 0], len(parent) * p * p),
                rows=_stretch(self.row_at[parent[0]], len(parent) * p),
                within=_stretch(low, inner.shape[1]),
                p=p,
            )
        i, j = inner[:, :, None], inner[:, None, :]
        wide, high = wide[:, :, None], high[:, :, None]
        entries = np.where(
            j < wide,
            np.where(i < wide, pivots[:, :, None] + i * wide + j, self.nowhere),
            np.where(
                i < wide,
                couplings[:, None, None] + i * high + j - wide,
                self.rest_at[parent][:, None, None] + (i - wide) * high + j - wide,
            ),
        )
        entries[np.broadcast_to((i < 0) | (j < 0), entries.shape)] = self.nowhere
        return Run(first=first, last=last, block=block, entries=entries, rows=rows)

    def _assembly(self, rank: Ints) -> tuple[Ints, Ints]:
        """Return where each entry of the stiffness pool goes in the matrix store."""
        frame = self.frame
        m, k = frame.n_elements, len(frame.links)
        link_ends = np.stack([frame.links.i, frame.links.j], axis=1)
        ends = np.concatenate([frame.ends, link_ends])
        bends = np.concatenate([~frame.axial_only, np.zeros(k, bool)])
        every, bending = np.arange(m + k), np.flatnonzero(bends)
        sources: list[Ints] = []
        targets: list[Ints] = []
        for (r_end, r_turn, c_end, c_turn), (kind, flip) in _BLOCKS.items():
            use = bending if r_turn or c_turn else every
            first = np.where(
                use < m, (kind * m + use) * 9, 81 * m + (kind * k + use - m) * 9
            )
            r, c = ends[use, r_end], ends[use, c_end]
            inner = np.arange(9).reshape(3, 3)
            inner = inner.T if flip else inner
            picked, target = self._targets(r, c, 3 * r_turn, 3 * c_turn, rank)
            source = first[:, None, None] + inner
            sources.append(source[picked])
            targets.append(target[picked])
        return np.concatenate(sources), np.concatenate(targets)

    def _targets(
        self, r: Ints, c: Ints, r_first: int, c_first: int, rank: Ints
    ) -> tuple[Bools, Ints]:
        """Return which entries of 3x3 blocks of node pairs are kept, and where."""
        plan, free, at = self.plan, self.free, np.arange(3)
        a, b = self.number[r], self.number[c]
        keep = (r >= 0) & (c >= 0) & (a >= 0) & (b >= 0)
        if not keep.any():
            return np.zeros((len(r), 3, 3), bool), np.zeros((len(r), 3, 3), np.int64)
        keep[keep] = plan.front[a[keep]] <= plan.front[b[keep]]
        a, b, r, c = (np.where(keep, v, 0) for v in (a, b, r, c))
        front = plan.front[a]
        same = front == plan.front[b]
        out = keep & ~same
        col = self.own_offset[b].copy()
        col[out] = self._in_left(front[out], b[out])
        base = np.where(same, self.pivot_at[front], self.coupling_at[front])
        stride = np.where(same, self.wide[front], self.high[front])
        row = self.own_offset[a][:, None] + rank[r][:, r_first + at]
        col = col[:, None] + rank[c][:, c_first + at]
        target = (base[:, None] + row * stride[:, None])[:, :, None] + col[:, None, :]
        picked = free[r][:, r_first + at, None] & free[c][:, None, c_first + at]
        return picked & keep[:, None, None], target


def _stretch(first: int, size: int) -> slice:
    """Return so many places from the first."""
    return slice(int(first), int(first) + size)


def _in_turns(plan: Plan, batch: Batch) -> tuple[Batch, Ints]:
    """Sort a batch by turns: within a turn no two fronts have one parent."""
    parent = plan.parent[batch.members]
    by_parent = np.argsort(parent, kind="stable")
    ranked = parent[by_parent]
    turn = np.arange(len(parent)) - np.searchsorted(ranked, ranked)
    turn[ranked < 0] = 0
    again = np.argsort(turn, kind="stable")
    return replace(batch, members=batch.members[by_parent[again]]), turn[again]


# (row end, row turns, column end, column turns) -> kind of block, transposed or not.
# The link pool holds the first two kinds.
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
