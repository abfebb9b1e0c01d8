"""Who hands how much to whom, joint by joint, in one combination.

Receives the model and its solved forces; returns a graph of vertical hand-overs from
loads to ground. What enters a member leaves it: the imbalance is a result.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..framing.model import Framing
from ..idealise.model import Model

Floats = NDArray[np.float64]
_SMALL = 1e-9  # of the largest hand-over: less is arithmetic


@dataclass(frozen=True)
class HandOver:
    """A vertical force that one member hands to another, or to the ground.

    Attributes:
        giver: member key.
        taker: member key, or a support owner such as ``W-spine``.
        point: where, m.
        force: N, downward, at least 0.
    """

    giver: str
    taker: str
    point: tuple[float, float, float]
    force: float


class Flow:
    """The hand-overs of one combination, and what follows from them.

    Attributes:
        hand_overs: every joint's, in the order of nodes.
        own: member key to its own load in the combination, N downward.
        imbalance: largest difference between what enters and leaves a member, over
            the sum of loads.
        ground_imbalance: sum of reactions less sum of loads, over the sum of loads.
    """

    def __init__(
        self, framing: Framing, model: Model, result: FrameResult, factors: Floats,
        combination: int,
    ):  # fmt: skip
        self._framing, self._model = framing, model
        self._result, self._row = result, combination
        self.own = self._own_loads(factors)
        self.hand_overs = tuple(self._hand_overs())
        self.imbalance = self._imbalance()
        self.ground_imbalance = self._ground_imbalance()

    def _own_loads(self, factors: Floats) -> dict[str, float]:
        """Return the vertical load that acts on each member itself, N downward."""
        model = self._model
        frame, loads = model.frame, model.loads
        line = np.tensordot(factors, loads.element_load[:, :, 2], 1)
        span = frame.xyz[frame.ends[:, 1]] - frame.xyz[frame.ends[:, 0]]
        force = -line * np.linalg.norm(span, axis=1)
        total = np.bincount(
            frame.element_member, weights=force, minlength=len(model.members)
        )
        out = dict(zip(model.members, total.tolist(), strict=True))
        self._node_load = np.tensordot(factors, loads.node_load[:, :, 2], 1)
        for n, key in enumerate(model.members):
            first = int(np.searchsorted(frame.element_member, n))
            if frame.axial_only[first]:
                out[key] = 0.0  # its weight is put on its two joints
        return out

    def _pushes(self) -> list[tuple[int, str, float]]:
        """Return (joint, member, downward push on the joint) of every member end."""
        model, frame = self._model, self._model.frame
        force = self._result.end_force_global[self._row, :, :, 2]
        joint = self._joints
        sums: dict[tuple[int, str], float] = {}
        for element, (nodes, pair) in enumerate(zip(frame.ends, force, strict=True)):
            key = model.members[frame.element_member[element]]
            for node, value in zip(nodes, pair, strict=True):
                place = (int(joint[node]), key)
                sums[place] = sums.get(place, 0.0) + float(value)
        return [(node, key, value) for (node, key), value in sums.items()]

    @cached_property
    def _joints(self) -> NDArray[np.int64]:
        """Return the joint of each node: nodes in contact are one joint."""
        joint = self._model.place.copy()
        for n in self._model.contacts:
            contact = self._framing.contacts[n]
            low, high = sorted((joint[contact.upper_node], joint[contact.lower_node]))
            joint[joint == high] = low
        return joint

    def _ground(self) -> list[tuple[int, str, float]]:
        """Return (joint, owner, upward force) of every vertical ground row."""
        out = []
        for row in self._model.ground:
            if row.direction != 2:
                continue
            if row.link < 0:
                force = float(self._result.reaction[self._row, row.node, 2])
            else:
                force = float(self._result.link_force[self._row, row.link])
            out.append((int(self._joints[row.node]), row.owner, force))
        return out

    def _hand_overs(self) -> list[HandOver]:
        """Return what is handed over at every joint, split in proportion."""
        givers: dict[int, dict[str, float]] = {}
        takers: dict[int, dict[str, float]] = {}
        largest = 0.0
        for joint, key, down in self._pushes():
            side = givers if down > 0 else takers
            side.setdefault(joint, {})[key] = abs(down)
            largest = max(largest, abs(down))
        for joint, owner, up in self._ground():
            side = takers if up > 0 else givers
            entry = side.setdefault(joint, {})
            entry[owner] = entry.get(owner, 0.0) + abs(up)
            largest = max(largest, abs(up))
        out = []
        for joint in sorted(set(givers) & set(takers)):
            give, take = givers[joint], takers[joint]
            total = sum(take.values())
            if total <= _SMALL * largest:
                continue
            point = tuple(float(v) for v in self._framing.points[joint])
            for giver, down in give.items():
                for taker, up in take.items():
                    force = down * up / total
                    if force > _SMALL * largest:
                        out.append(HandOver(giver, taker, point, force))  # type: ignore[arg-type]
        return out

    def _imbalance(self) -> float:
        """Return the largest difference of a member's intake and output."""
        net = dict(self.own)
        for joint, key, down in self._pushes():
            del joint
            net[key] = net.get(key, 0.0) - down
        total = sum(abs(v) for v in self.own.values()) or 1.0
        return max((abs(v) for v in net.values()), default=0.0) / total

    def _ground_imbalance(self) -> float:
        """Return the difference of what the ground gives and what the loads are."""
        loads = sum(self.own.values()) - float(self._node_load.sum())
        given = sum(up for _, _, up in self._ground())
        return abs(given - loads) / (abs(loads) or 1.0)

    @cached_property
    def _index(self) -> Mapping[str, int]:
        """Return a number for every member and support owner."""
        names = list(self._model.members)
        names += [h.taker for h in self.hand_overs] + [h.giver for h in self.hand_overs]
        return {name: n for n, name in enumerate(dict.fromkeys(names))}

    @cached_property
    def _split(self) -> Floats:
        """Return (k, k): the part of each one's output that goes to each other."""
        count = len(self._index)
        matrix = np.zeros((count, count))
        for h in self.hand_overs:
            matrix[self._index[h.giver], self._index[h.taker]] += h.force
        total = matrix.sum(axis=1, keepdims=True)
        return np.divide(matrix, total, out=np.zeros_like(matrix), where=total > 0)

    def output(self, key: str) -> float:
        """Return all that a member hands on, N."""
        return sum(h.force for h in self.hand_overs if h.giver == key)

    def path_down(self, key: str, least: float = 0.01) -> list[HandOver]:
        """Return the way of what a member hands on, down to the ground.

        At every member it mixes with what else arrives and is followed in proportion.

        Args:
            key: of the member.
            least: hand-overs below this part of the output are left out.

        Returns:
            Hand-overs with the part of their force that comes from the member.
        """
        start = self.output(key)
        if key not in self._index or start <= 0:
            return []
        through = start * self._arrival[self._index[key]]
        out = []
        for h in self.hand_overs:
            giver = self._index[h.giver]
            total = self.output_of[giver]
            force = h.force * through[giver] / total if total > 0 else 0.0
            if force > least * start:
                out.append(HandOver(h.giver, h.taker, h.point, float(force)))
        return out

    @cached_property
    def output_of(self) -> Floats:
        """Return the whole output of each one of the index, N."""
        total = np.zeros(len(self._index))
        for h in self.hand_overs:
            total[self._index[h.giver]] += h.force
        return total

    def who_loads(self, key: str) -> list[tuple[str, float]]:
        """Return whose own load arrives at a member, N, the largest first.

        A member's own load is the roof, ceiling and weight that rest on it directly;
        the member itself is among them.
        """
        if key not in self._index:
            return []
        arrive = self._arrival[:, self._index[key]]
        found = [
            (name, float(load * arrive[self._index[name]]))
            for name, load in self.own.items()
        ]
        total = sum(v for _, v in found) or 1.0
        kept = [pair for pair in found if pair[1] > 1e-6 * total]
        return sorted(kept, key=lambda pair: -pair[1])

    @cached_property
    def _arrival(self) -> Floats:
        """Return (k, k): the part of what one hands on that passes through another.

        The sum over all ways, ``(I - S)^-1`` of the split S: found once, since every
        path and every story reads it.
        """
        return np.linalg.inv(np.eye(len(self._index)) - self._split)
