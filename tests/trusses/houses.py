"""The worked case H-08: a 24 ft gable at 5:12 turned into trusses 24 in apart.

Roof 10 psf on the slope and snow 25 psf on plan, ceiling 5 psf and storage 10 psf, all
of them inside the stated loads; its numbers were worked out apart from this program.
"""

from __future__ import annotations

import numpy as np
from loadfall.solver.brief import read_brief
from loadfall.solver.loads.cases import CASES, Case
from loadfall.solver.solve import Solution, solve
from loadfall.solver.trusses import HandTruss, hand_trusses

WORKED = {
    "name": "Trusses of 24 ft",
    "footprint": {"length": "12 ft", "width": "24 ft"},
    "roof": {"pitch": "5:12", "overhang": "0 in"},
    "rafters": {"size": "2x6", "spacing": "24 in", "seat_depth": "0 in"},
    "ceiling_joists": {"size": "2x6", "spacing": "24 in"},
    "loads": {
        "roof_dead": "10 psf", "roof_live": "0 psf",
        "snow": {"roof": "25 psf", "unbalanced": False},
        "ceiling_dead": "5 psf", "attic_live": "10 psf", "self_weight": False,
    },
}  # fmt: skip
MIDDLE = 3


def solved(webs: str, **fields) -> Solution:
    """The worked house with one kind of webs on every pair."""
    trusses = [{"name": "all", "webs": webs, "spacing": "24 in"} | fields]
    return solve(read_brief(WORKED | {"trusses": trusses}))


def by_hand(roof: Solution) -> HandTruss:
    """Its middle truss by the method of joints under D + S + L, all of them in full."""
    counted = (Case.DEAD, Case.SNOW, Case.ATTIC_LIVE)
    every = np.array([[float(case in counted) for case in CASES]])
    found = hand_trusses(roof.brief, roof.framing, roof.loads, every, np.array([1.15]))
    return next(t for t in found if t.station == MIDDLE)
