"""Ways that load takes down a roof, as lines that a body can follow.

Receives the hand-overs of a solved roof; returns polylines in m. A body goes from
member to member by turns that keep the true proportions; at a member over its limit
only what it can carry goes on and the rest stays.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...solver.trace.flow import Flow, HandOver
from ...solver.trace.wording import combination_words, owner_word
from .drawing import centre_line
from .pipeline import Outcome

Floats = NDArray[np.float64]
_MOST_TURNS = 40


@dataclass(frozen=True, eq=False)
class Way:
    """The way of one body.

    Attributes:
        points: (p, 3) m, from where it begins to where it ends.
        stops_at: key of the member over its limit on which it stays, or "".
        ends_on: support owner that it reaches, or "".
    """

    points: Floats
    stops_at: str
    ends_on: str


@dataclass(frozen=True, eq=False)
class Run:
    """Bodies on their way.

    Attributes:
        ways: one for each body.
        each: N that a body stands for.
        combination: of loads, in the solver's short name.
    """

    ways: tuple[Way, ...]
    each: float
    combination: str


class _Turns:
    """Shares things out in fixed proportions, one at a time, nobody far ahead."""

    def __init__(self) -> None:
        self._owed: dict[object, dict[object, float]] = defaultdict(
            lambda: defaultdict(float)
        )

    def next(self, at: object, parts: dict[object, float]) -> object:
        """Return who is due at a place, given the part of each; they add to one."""
        owed = self._owed[at]
        for name, part in parts.items():
            owed[name] += part
        due = max(parts, key=lambda name: owed[name])
        owed[due] -= 1.0
        return due


def run_of(
    outcome: Outcome,
    starts: Iterable[tuple[str, float]],
    bodies: int,
    combination: str | None = None,
) -> Run | None:
    """Return bodies that go down from members in proportion to their load.

    Args:
        outcome: the solved roof.
        starts: member key and the N that set off on it; both must be above 0.
        bodies: how many set off altogether, about.
        combination: its name; left out, that of the worst member.

    Returns:
        None where nothing is handed on.
    """
    solution = outcome.solution
    flow = solution.flow(combination)
    starts = [(key, force) for key, force in starts if force > 0]
    total = sum(force for _, force in starts)
    if flow is None or not starts or total <= 0:
        return None
    each = total / bodies
    walker = _Walker(outcome, flow)
    turns = _Turns()
    parts = {key: force / total for key, force in starts}
    ways = [walker.way(str(turns.next("start", parts)), n) for n in range(bodies)]
    found = tuple(way for way in ways if way is not None)
    if not found:
        return None
    return Run(found, each, combination or solution.main_combination)


def load_words(outcome: Outcome, combination: str) -> str:
    """Return a combination of loads in words."""
    return combination_words(outcome.solution.combinations, combination)


def own_loads(outcome: Outcome, combination: str | None = None) -> dict[str, float]:
    """Return the load that rests directly on each member, N; those with none left out.

    Args:
        outcome: the solved roof.
        combination: its name; left out, that of the worst member.
    """
    flow = outcome.solution.flow(combination)
    if flow is None:
        return {}
    return {key: load for key, load in flow.own.items() if load > 0}


def grounds(
    outcome: Outcome, combination: str | None = None
) -> list[tuple[str, float, Floats]]:
    """Return what each support takes: in words, N downward, and where, (3,) m.

    Args:
        outcome: the solved roof.
        combination: its name; left out, that of the worst member.

    Returns:
        The largest first.
    """
    flow = outcome.solution.flow(combination)
    if flow is None:
        return []
    members = outcome.solution.members
    force: dict[str, float] = defaultdict(float)
    place: dict[str, Floats] = defaultdict(lambda: np.zeros(3))
    for one in flow.hand_overs:
        if one.taker not in members:
            force[one.taker] += one.force
            place[one.taker] = place[one.taker] + one.force * np.array(one.point)
    found = [(owner_word(k), f, place[k] / f) for k, f in force.items() if f > 0]
    return sorted(found, key=lambda item: -item[1])


class _Walker:
    """Walks bodies down one roof, each member's hand-overs taken in turn."""

    def __init__(self, outcome: Outcome, flow: Flow) -> None:
        self._outcome = outcome
        self._turns = _Turns()
        self._out: dict[str, list[HandOver]] = defaultdict(list)
        for one in flow.hand_overs:
            self._out[one.giver].append(one)

    def way(self, key: str, number: int) -> Way | None:
        """Return the way of one body that sets off on a member."""
        members = self._outcome.solution.members
        points = [self._begin(key, number)]
        at = key
        for _ in range(_MOST_TURNS):
            use = members[at].utilisation or 0.0
            if use > 1 and self._stays(at, 1 / use):
                return Way(np.array(points), at, "")
            leaving = self._out.get(at)
            if not leaving:
                return None
            one = self._next(at, leaving)
            points.append(self._place(at, np.array(one.point)))
            if one.taker not in members:
                points.append(points[-1] + np.array([0.0, 0.0, -0.9]))
                return Way(np.array(points), "", one.taker)
            points.append(self._place(one.taker, np.array(one.point)))
            at = one.taker
        return None

    def _begin(self, key: str, number: int) -> Floats:
        """Return where a body sets off: spread along the member, above it."""
        start, end = centre_line(self._outcome.solids[key])
        part = (0.5 + number * 0.6180339887) % 1.0
        return start + (0.08 + 0.84 * part) * (end - start)

    def _stays(self, key: str, goes_on: float) -> bool:
        """Return whether a body is one of those that a member cannot carry."""
        parts: dict[object, float] = {"stays": 1 - goes_on, "goes": goes_on}
        return self._turns.next(("limit", key), parts) == "stays"

    def _next(self, key: str, leaving: list[HandOver]) -> HandOver:
        """Return the hand-over that is due."""
        total = sum(one.force for one in leaving)
        parts: dict[object, float] = {
            n: one.force / total for n, one in enumerate(leaving)
        }
        return leaving[int(self._turns.next(("way", key), parts))]  # type: ignore[call-overload]

    def _place(self, key: str, point: Floats) -> Floats:
        """Return the place in a drawn piece of a point on its joint line."""
        start, end = centre_line(self._outcome.solids[key])
        axis = end - start
        part = float((point - start) @ axis / (axis @ axis))
        return start + min(max(part, 0.0), 1.0) * axis
