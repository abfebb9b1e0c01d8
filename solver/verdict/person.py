"""A person anywhere on a joist or rafter: the worst place by influence lines.

Receives the dead load's forces; adds what a unit force at every point of a member does
to that member. The adjoint solve for the moment over each inner joint gives all of its
stations. Where the person lets a strut go slack or lifts a joint, the lines of that
state are drawn instead, until place and state agree.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..analysis import (
    Force,
    FrameResult,
    LiftOffError,
    LoadSet,
    UnstableFrameError,
    influence,
    station_displacement,
    station_force,
)
from ..analysis import solve as solve_frame
from ..basis.arrays import Floats
from ..basis.asce7.concentrated import PERSON, PERSON_DURATION
from ..basis.protocol import Check
from ..checks.places import Places, worst_of_member
from ..checks.results import CheckResult, CheckRows
from ..framing.model import Framing, Role
from ..idealise.model import Model

Ints = NDArray[np.int64]
_ROLES = (
    Role.RAFTER,
    Role.JACK_RAFTER,
    Role.HIP_RAFTER,
    Role.VALLEY_RAFTER,
    Role.CEILING_JOIST,
    Role.STUB_JOIST,
)
_GRID = np.linspace(0.0, 1.0, 9)
_AT_ONCE = 4_000_000  # numbers held at once
_ROUNDS = 4
_DOWN = np.array([0.0, 0.0, -1.0])


@dataclass(frozen=True, eq=False, kw_only=True)
class PersonRows:
    """The person on every joist and rafter, arrays (k,).

    Attributes:
        member: row of the member in the analysis.
        bending: utilisation in bending, dead load and person together.
        shear: likewise in shear.
        station: m from the member's start, where the moment is largest.
        stands: m, where the person stands for it.
        moment_dead, moment_person: N m there.
        shear_station, shear_stands: m, likewise for shear.
        shear_dead, shear_person: N there.
        bending_capacity, shear_capacity: Pa.
    """

    member: Ints
    bending: Floats
    shear: Floats
    station: Floats
    stands: Floats
    moment_dead: Floats
    moment_person: Floats
    shear_station: Floats
    shear_stands: Floats
    shear_dead: Floats
    shear_person: Floats
    bending_capacity: Floats
    shear_capacity: Floats

    @property
    def utilisation(self) -> Floats:
        """(k,) the larger of bending and shear."""
        return np.maximum(self.bending, self.shear)

    def place_of(self, row: int) -> float:
        """Return where the person bends a member most, m from its start."""
        return float(self.stands[int(np.searchsorted(self.member, row))])


def person_rows(
    framing: Framing, model: Model, frame: FrameResult, result: CheckResult, dead: int
) -> PersonRows | None:
    """Return the person's check of all joists and rafters, None where there are none.

    The load is on one member, so the factor for repetitive members is left off; no
    part of it near a support is left out of the shear.

    Source: ASCE 7-16 Table 4.3-1 for the load; NDS 2018 2.3.2, 3.3 and 3.4.2.

    Args:
        framing: of the roof.
        model: of the roof.
        frame: its forces.
        result: the checks of the same members.
        dead: row of the dead load alone.
    """
    rows = [
        n for n, key in enumerate(model.members) if framing.members[key].role in _ROLES
    ]
    if not rows:
        return None
    run = _Run(model, frame, result, dead)
    lines = run.lines(frame, [(row, dead) for row in rows])
    found = run.worst(lines)
    # What stands on nothing but its ends is the same in every state of contact.
    moved = {
        r: found.place_of(r) for r in rows if run.bounds[r + 1] - run.bounds[r] > 1
    }
    state = {row: run.state(frame, dead) for row in moved}
    for _ in range(_ROUNDS):
        changed = run.again(moved, state, lines)
        if not changed:
            break
        found = run.worst(lines)
        moved = {row: found.place_of(row) for row in changed}
    return found


def person_check(result: CheckResult, rows: PersonRows, dead: int) -> CheckRows:
    """Return the person as a check of the members, in the row of the dead load."""
    k, shape = len(rows.member), (len(result.duration), 2 * len(rows.member))
    area = result.table.area[rows.member]
    modulus = result.table.section_modulus[rows.member]
    f_dead = np.concatenate([rows.moment_dead / modulus, 1.5 * rows.shear_dead / area])
    f_person = np.concatenate(
        [rows.moment_person / modulus, 1.5 * rows.shear_person / area]
    )
    demand = np.zeros(shape)
    demand[dead] = np.abs(f_dead + f_person)
    capacity = np.concatenate([rows.bending_capacity, rows.shear_capacity])
    places = Places(
        member=np.concatenate([rows.member, rows.member]),
        station=np.concatenate([rows.station, rows.shear_station]),
        demand=demand,
        capacity=np.broadcast_to(capacity, shape),
        unit="Pa",
        inputs=(
            ("P", "N", "weight of the person", np.full(2 * k, PERSON)),
            ("a", "m", "where the person stands, from the start of the member",
             np.concatenate([rows.stands, rows.shear_stands])),
            ("f, dead", "Pa", "bending or shear stress of the dead load at x", f_dead),
            ("f, person", "Pa", "stress of the person at x", f_person),
            ("C_D", "", "construction load, seven days",
             np.full(2 * k, PERSON_DURATION)),
        ),
    )  # fmt: skip
    return worst_of_member(result, Check.PERSON, places)


class _Run:
    """The person on the members of one solved roof."""

    def __init__(
        self, model: Model, frame: FrameResult, result: CheckResult, dead: int
    ):
        self.frame, self.result, self.dead = frame, result, dead
        of = model.frame.element_member
        self.bounds = np.searchsorted(of, np.arange(len(model.members) + 1))
        table = replace(result.table, repetitive=np.ones_like(result.table.repetitive))
        self.strengths = result.basis.strengths(table, np.array([PERSON_DURATION]))
        factors = frame.factors[dead]
        self.element_load = np.tensordot(factors, model.loads.element_load, 1)
        self.node_load = np.tensordot(factors, model.loads.node_load, 1)
        stations = frame.stations(len(_GRID))
        self.M, self.V = stations.M_strong[dead], stations.V_strong[dead]

    def state(self, frame: FrameResult, combination: int) -> bytes:
        """Return what acts in a combination, to compare with another."""
        acts = frame.element_active[combination], frame.link_active[combination]
        return np.concatenate(acts).tobytes()

    def lines(
        self, frame: FrameResult, wanted: list[tuple[int, int]]
    ) -> dict[int, tuple[Floats, Floats]]:
        """Return what decides the moments of members, each in its own combination.

        Args:
            frame: solved.
            wanted: (row of the member, combination whose contact state is kept).

        Returns:
            Row to (E + 1,) N m, dead moment over each joint, and (E + 1, points) m,
            what a unit load down at each point adds to it.
        """
        joints: dict[int, list[tuple[int, int]]] = {}
        out = {}
        for row, combination in wanted:
            first, last = int(self.bounds[row]), int(self.bounds[row + 1])
            size = last - first + 1
            out[row] = np.zeros(size), np.zeros((size, (size - 1) * len(_GRID)))
            joints.setdefault(combination, []).extend(
                (row, element) for element in range(first + 1, last)
            )
        step = max(1, _AT_ONCE // (3 * len(_GRID) * frame.frame.n_elements))
        for combination, listed in joints.items():
            for low in range(0, len(listed), step):
                some = listed[low : low + step]
                moments = influence(
                    frame,
                    combination,
                    [
                        station_force(frame, combination, Force.M_STRONG, e, 0.0)
                        for _, e in some
                    ],
                )
                dead = moments.value(self.element_load, self.node_load)
                points = moments.points(_GRID)
                for n, (row, element) in enumerate(some):
                    first, last = int(self.bounds[row]), int(self.bounds[row + 1])
                    over, line = out[row]
                    over[element - first] = dead[n]
                    line[element - first] = -points[n, first:last, :, 2].reshape(-1)
        return out

    def worst(self, lines: dict[int, tuple[Floats, Floats]]) -> PersonRows:
        """Return the worst place on every member."""
        alike: dict[int, list[int]] = {}
        for row in lines:
            alike.setdefault(int(self.bounds[row + 1] - self.bounds[row]), []).append(
                row
            )
        parts = [self._alike(np.array(rows), lines) for rows in alike.values()]
        joined = {
            name: np.concatenate([getattr(part, name) for part in parts])
            for name in vars(parts[0])
        }
        order = np.argsort(joined["member"])
        return PersonRows(**{name: values[order] for name, values in joined.items()})

    def again(
        self,
        moved: dict[int, float],
        state: dict[int, bytes],
        lines: dict[int, tuple[Floats, Floats]],
    ) -> list[int]:
        """Solve with the person in place; redraw the lines of what changed its state.

        Args:
            moved: row of a member to where the person stands on it, m.
            state: row to the state its lines are of; brought up to date.
            lines: of all members; brought up to date.

        Returns:
            Rows whose lines were drawn anew.
        """
        changed = []
        frame, rows = self.frame, list(moved)
        step = max(1, _AT_ONCE // (6 * frame.frame.n_nodes + 30 * len(self.V)))
        for low in range(0, len(rows), step):
            some = rows[low : low + step]
            solved, some = self._solved(some, moved)
            fresh = []
            for n, row in enumerate(some):
                assert solved is not None
                now = self.state(solved, n)
                if now != state[row]:
                    state[row] = now
                    fresh.append((row, n))
            if solved is not None:
                lines |= self.lines(solved, fresh)
            changed += [row for row, _ in fresh]
        return changed

    def _solved(
        self, rows: list[int], moved: dict[int, float]
    ) -> tuple[FrameResult | None, list[int]]:
        """Return dead load with a person on each member in turn, and which members.

        A person who would lift a loose piece right off leaves no state to draw lines
        of: that member keeps the lines that it has.
        """
        point = {row: self._on(row, moved[row]) for row in rows}
        while rows:
            many = len(rows), *self.element_load.shape
            loads = LoadSet(
                tuple(str(row) for row in rows),
                np.broadcast_to(self.element_load, many),
                self.node_load + np.stack([point[row] for row in rows]),
            )
            try:
                return self._solve(loads), rows
            except (UnstableFrameError, LiftOffError):
                rows = [row for row in rows if self._stands(point[row])]
        return None, rows

    def _solve(self, loads: LoadSet) -> FrameResult:
        """Solve load cases one by one, each its own combination."""
        one = np.eye(len(loads.names))
        return solve_frame(self.frame.frame, loads, one, layout=self.frame.layout)

    def _stands(self, point: Floats) -> bool:
        """Return whether the roof has a state with a person in one place."""
        loads = LoadSet(("P",), self.element_load[None], (self.node_load + point)[None])
        try:
            self._solve(loads)
        except (UnstableFrameError, LiftOffError):
            return False
        return True

    def _on(self, row: int, place: float) -> Floats:
        """Return the joint loads that move a roof as the person on a member does."""
        first, last = int(self.bounds[row]), int(self.bounds[row + 1])
        length = self.frame.system.elements.L[first:last]
        start = np.cumsum(length) - length
        element = int(np.searchsorted(start, place, side="right")) - 1
        x = float(np.clip(place - start[element], 0.0, length[element]))
        moved = station_displacement(self.frame, self.dead, first + element, x, _DOWN)
        return PERSON * moved.work

    def _alike(self, rows: Ints, lines: dict[int, tuple[Floats, Floats]]) -> PersonRows:
        """Return the person on members of one number of elements."""
        first = self.bounds[rows]
        count = int(self.bounds[rows[0] + 1] - first[0])
        n, K = len(rows), len(_GRID)
        element = first[:, None] + np.arange(count)
        e = self.frame.system.elements
        length, push = e.L[element], PERSON * np.abs(e.z[element, 2])
        joint = np.stack([lines[row][0] for row in rows.tolist()])
        over = PERSON * np.stack([lines[row][1] for row in rows.tolist()])
        point = np.tile(_GRID, count)  # fraction of its own element
        own = np.repeat(np.arange(count), K)[None, :] == np.arange(count)[:, None]
        start = np.cumsum(length, axis=1) - length
        place = (start[:, :, None] + length[:, :, None] * _GRID).reshape(n, -1)
        # The dead load of a stretch bends it, between its joints, the same always.
        shape = self.M[element]
        solved = np.stack([shape[:, :, 0], shape[:, :, -1]], axis=2)
        less = [joint[:, end : count + end] - solved[:, :, end] for end in (0, 1)]
        M = (shape + _between(*less)).reshape(n, -1)
        turned = (less[1] - less[0]) / length
        ends = self.V[element][:, :, [0, -1]]
        V = (ends + turned[:, :, None]).reshape(n, -1)
        low, high = np.minimum(_GRID[:, None], point), np.maximum(_GRID[:, None], point)
        inside = (low * (1 - high)) * own[:, None, :]  # (count, K, points)
        moment = (
            over[:, :-1, None, :] * (1 - _GRID)[:, None]
            + over[:, 1:, None, :] * _GRID[:, None]
            + (push * length)[:, :, None, None] * inside
        ).reshape(n, count * K, -1)
        turn = (over[:, 1:] - over[:, :-1]) / length[:, :, None]
        near = turn + push[:, :, None] * (1 - point) * own
        far = turn - push[:, :, None] * point * own
        shear = np.stack([near, far], axis=2).reshape(n, 2 * count, -1)
        table, s = self.result.table, self.strengths
        S, area = table.section_modulus[rows], table.area[rows]
        sag, hog = s.bending_sag[0][rows], s.bending_hog[0][rows]
        total = M[:, :, None] + moment
        strength = np.where(total > 0, sag[:, None, None], hog[:, None, None])
        use = np.abs(total) / (strength * S[:, None, None])
        at, stands, every = *_peak(use), np.arange(n)
        v_at, v_stands = _peak(np.abs(V[:, :, None] + shear))
        v_dead, v_person = V[every, v_at], shear[every, v_at, v_stands]
        edge = np.stack([start, start + length], axis=2).reshape(n, -1)
        Fv = s.shear[0][rows]
        return PersonRows(
            member=rows,
            bending=use[every, at, stands],
            shear=1.5 * np.abs(v_dead + v_person) / area / Fv,
            station=place[every, at],
            stands=place[every, stands],
            moment_dead=M[every, at],
            moment_person=moment[every, at, stands],
            shear_station=edge[every, v_at],
            shear_stands=place[every, v_stands],
            shear_dead=v_dead,
            shear_person=v_person,
            bending_capacity=strength[every, at, stands],
            shear_capacity=Fv,
        )


def _between(at_i: Floats, at_j: Floats) -> Floats:
    """Return (n, count, K): values at both ends of elements, drawn straight."""
    return at_i[:, :, None] * (1 - _GRID) + at_j[:, :, None] * _GRID


def _peak(values: Floats) -> tuple[Ints, Ints]:
    """Return station and place (n,) of the largest of (n, stations, places)."""
    return np.divmod(values.reshape(len(values), -1).argmax(axis=1), values.shape[2])
