"""Snow as it lies: how deep, by what the solver puts on every stretch of a rafter."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...solver.ageing import drift_combinations, snow_pair
from ...solver.basis.asce7.snow import snow_unit_weight
from ...solver.loads.cases import CASES, DRIFTS, Case
from .pipeline import Outcome

Floats = NDArray[np.float64]

_FROM = {"S": "north", "N": "south", "E": "west", "W": "east"}


@dataclass(frozen=True)
class Snow:
    """A way that snow lies on a roof.

    Attributes:
        case: its load case.
        combination: of dead load and it.
        wind: where the wind comes from that drifted it, or "" where it lies evenly.
    """

    case: Case
    combination: str
    wind: str = ""


def ways_of_lying(outcome: Outcome) -> tuple[Snow, ...]:
    """Return how snow may lie on a roof: evenly, then drifted; none without snow."""
    combinations = outcome.solution.combinations
    pair = snow_pair(combinations)
    if pair is None:
        return ()
    drifts = drift_combinations(combinations)
    drifted = (Snow(DRIFTS[way], name, _FROM[way]) for way, name in drifts.items())
    return (Snow(Case.SNOW, pair[0]), *drifted)


def pressures(outcome: Outcome, key: str, snow: Snow) -> tuple[Floats, Floats]:
    """Return the snow on a member, stretch by stretch.

    Args:
        outcome: the solved roof.
        key: of a member.
        snow: how it lies.

    Returns:
        (s + 1,) m, ends of its stretches along its joint line, and (s,) Pa on plan;
        none where it carries no roof.
    """
    loads, points = outcome.solution.loads, outcome.solution.framing.points
    rows = [n for n, one in enumerate(loads.member) if one == key]
    rows = [n for n in rows if loads.plan_area[n] > 0]
    if not rows:
        return np.zeros(0), np.zeros(0)
    ends = points[loads.nodes[rows]]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    start, _ = outcome.solution.framing.ends(key)
    at = np.append(
        np.linalg.norm(ends[:, 0] - start, axis=1),
        np.linalg.norm(ends[-1, 1] - start),
    )
    weight = -loads.load[CASES.index(snow.case), rows, 2] * length
    return at, weight / loads.plan_area[rows]


def depths(outcome: Outcome, key: str, snow: Snow, station: Floats) -> Floats:
    """Return how deep snow lies along a member, m, plumb.

    Source: ASCE 7-16 7.7.1 for what a volume of snow weighs.

    Args:
        outcome: the solved roof.
        key: of a member.
        snow: how it lies.
        station: (p,) m along its joint line; past its ends as at them.
    """
    at, pressure = pressures(outcome, key, snow)
    lying = outcome.solution.loads.pressures.snow
    if not len(pressure) or lying is None:
        return np.zeros(len(station))
    row = np.searchsorted(at[1:-1], station, side="right")
    return pressure[row] / snow_unit_weight(lying.ground)
