"""A few plain houses that tests start from, and small changes of them."""

from __future__ import annotations

import copy

from loadfall.solver.brief import read_brief
from loadfall.solver.solve import Solution, solve

COTTAGE = {
    "name": "Cottage",
    "footprint": {"length": "32 ft", "width": "26 ft"},
    "roof": {"pitch": "6:12", "overhang": "16 in"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ridge": {"kind": "board", "size": "2x8"},
    "ceiling_joists": {"size": "2x6", "spacing": "24 in"},
    "walls": [{"name": "spine", "start": ["0 ft", "13 ft"], "end": ["32 ft", "13 ft"]}],
    "purlins": [
        {"name": "S", "slope": "south", "size": "2x6", "from_plate": "6 ft 6 in"},
        {"name": "N", "slope": "north", "size": "2x6", "from_plate": "6 ft 6 in"},
    ],
    "struts": [
        {"purlin": "S", "spacing": "4 ft", "foot": {"on": "ceiling_joist"}},
        {"purlin": "N", "spacing": "4 ft", "foot": {"on": "ceiling_joist"}},
    ],
    "loads": {"attic_live": "10 psf"},
}

# 44 ft by 30 ft at 5:12; the spine wall was opened over 16 ft and a header put in.
# Struts go to the wall where it stands near and to joists elsewhere.
BUNGALOW = {
    "name": "Bungalow",
    "footprint": {"length": "44 ft", "width": "30 ft"},
    "roof": {"pitch": "5:12", "overhang": "16 in"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ridge": {"kind": "board", "size": "2x8"},
    "ceiling_joists": {"size": "2x6", "spacing": "24 in"},
    "walls": [
        {
            "name": "spine", "start": ["0 ft", "15 ft"], "end": ["44 ft", "15 ft"],
            "openings": [{"start": "14 ft", "end": "30 ft"}],
        }
    ],
    "beams": [
        {
            "name": "living", "start": ["14 ft", "15 ft"], "end": ["30 ft", "15 ft"],
            "size": "1.75x11.875", "species": "LVL", "grade": "2.0E-2600Fb", "plies": 2,
        }
    ],
    "purlins": [
        {"name": "S", "slope": "south", "size": "2x6", "from_plate": "8 ft"},
        {"name": "N", "slope": "north", "size": "2x6", "from_plate": "10 ft 9 in"},
    ],
    "struts": [
        {"purlin": "S", "spacing": "4 ft", "foot": {"on": "ceiling_joist"}},
        {
            "purlin": "N", "spacing": "4 ft", "end": "14 ft",
            "foot": {"on": "wall", "name": "spine"},
        },
        {
            "purlin": "N", "spacing": "4 ft", "start": "16 ft", "end": "30 ft",
            "foot": {"on": "ceiling_joist"},
        },
        {
            "purlin": "N", "spacing": "4 ft", "start": "32 ft",
            "foot": {"on": "wall", "name": "spine"},
        },
    ],
    "loads": {
        "roof_dead": "10 psf", "roof_live": "20 psf", "ceiling_dead": "5 psf",
        "attic_live": "10 psf",
    },
}  # fmt: skip


def changed(house: dict, **parts) -> dict:
    """A house with whole parts put in; None takes one out, a dict is merged in."""
    house = copy.deepcopy(house)
    for name, value in parts.items():
        if value is None:
            house.pop(name, None)
        elif isinstance(value, dict) and isinstance(house.get(name), dict):
            house[name] = house[name] | value
        else:
            house[name] = copy.deepcopy(value)
    return house


def solved(house: dict, **parts) -> Solution:
    """The solution of a house with changes."""
    return solve(read_brief(changed(house, **parts)))
