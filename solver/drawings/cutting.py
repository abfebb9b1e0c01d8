"""Where the sections are taken."""

from __future__ import annotations

import numpy as np

from ..framing.model import Role
from ..report.cut import worst_cut
from ..solve import Solution
from .ink import Floats


def cuts(solution: Solution) -> tuple[tuple[str, str, Floats, Floats], ...]:
    """Return letter, words, place and direction of every section."""
    about = worst_cut(solution).about
    foot, top = solution.framing.ends(about)
    way = top[:2] - foot[:2]
    if np.hypot(*way) < 0.15:
        way = rafter_way(solution, foot)
    way = way / np.hypot(*way)
    across = np.array([-way[1], way[0]])
    middle = solution.framing.points.mean(axis=0)
    return (("A", f"through {about}", foot, way), ("B", "lengthwise", middle, across))


def rafter_way(solution: Solution, place: Floats) -> Floats:
    """Return the direction in plan of the rafter nearest to a place."""
    best, way = np.inf, np.array([0.0, 1.0])
    for rafter in solution.framing.of_role(Role.RAFTER, Role.JACK_RAFTER):
        start, end = solution.framing.ends(rafter.key)
        away = float(np.hypot(*((start + end) / 2 - place)[:2]))
        if away < best:
            best, way = away, (end - start)[:2]
    return way
