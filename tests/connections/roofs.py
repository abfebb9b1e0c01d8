"""Small roofs with few joints, as briefs."""

from __future__ import annotations

import copy

from loadfall.solver.brief import read_brief
from loadfall.solver.solve import solve

GABLE = {
    "schema_version": 1,
    "name": "A gable of three bays",
    "footprint": {"length": "6 ft", "width": "24 ft"},
    "roof": {"pitch": "4:12", "overhang": "0 in"},
    "rafters": {"size": "2x8", "spacing": "24 in"},
    "ridge": {"kind": "board", "size": "2x10"},
    "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
    "loads": {
        "roof_dead": "10 psf", "roof_dead_on": "plan", "roof_live": "0 psf",
        "snow": {"roof": "30 psf", "unbalanced": False},
        "ceiling_dead": "5 psf", "self_weight": False,
    },
}  # fmt: skip


def gable(**changes):
    """The gable with whole entries put in; dicts are merged one deep."""
    brief = copy.deepcopy(GABLE)
    for name, value in changes.items():
        if value is None:
            brief.pop(name)
        elif isinstance(value, dict):
            brief[name] = brief.get(name, {}) | value
        else:
            brief[name] = value
    return brief


def solved(**changes):
    return solve(read_brief(gable(**changes)))


def joint(solution, key):
    (found,) = [j for j in solution.joints if j.key == key]
    return found
