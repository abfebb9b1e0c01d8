"""Invented briefs that bring every role, verdict and unit onto the page."""

from __future__ import annotations

import copy
import json
from functools import cache

from loadfall.solver.brief import example_text, read_brief
from loadfall.solver.solve import Solution, solve

from ..hips import hip
from ..trusses.houses import WORKED

COTTAGE: dict = json.loads(example_text())

# The spine wall was opened in the middle: joists and braces over the gap.
OPENED: dict = {
    "name": "Bungalow whose spine wall was opened",
    "footprint": {"length": "44 ft", "width": "30 ft"},
    "roof": {"pitch": "5:12", "overhang": "16 in"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ceiling_joists": {"size": "2x6", "spacing": "24 in", "plies_under_struts": 2},
    "walls": [
        {
            "name": "spine",
            "start": ["0 ft", "15 ft"],
            "end": ["44 ft", "15 ft"],
            "openings": [{"start": "14 ft", "end": "30 ft"}],
        },
        {
            "name": "closet",
            "start": ["10 ft", "6 ft"],
            "end": ["10 ft", "12 ft"],
            "bearing": False,
        },
    ],
    "beams": [
        {
            "name": "living",
            "size": "1.75x11.875",
            "species": "LVL",
            "grade": "2.0E",
            "plies": 2,
            "start": ["14 ft", "15 ft"],
            "end": ["30 ft", "15 ft"],
        }
    ],
    "purlins": [
        {"name": "S", "slope": "south", "size": "2x6", "from_plate": "8 ft"},
        {"name": "N", "slope": "north", "size": "2x4", "from_plate": "8 ft"},
    ],
    "struts": [
        {"purlin": "S", "spacing": "4 ft", "foot": {"on": "ceiling_joist"}},
        {"purlin": "N", "spacing": "4 ft", "foot": {"on": "wall", "name": "spine"}},
    ],
    "collar_ties": {"height_ratio": 0.66},
    "heel_joint": {"nail": "16d common", "count": 4},
    "loads": {"snow": {"ground": "30 psf"}, "attic_live": "10 psf"},
}

# A carrying ridge on posts, joists along the ridge, metric, wind, odd user text.
RIDGE_BEAM: dict = {
    "name": 'Barn <b>"A&B"</b>',
    "units": "metric",
    "footprint": {"length": "9.6 m", "width": "6 m"},
    "roof": {"pitch": "35 deg", "overhang": "300 mm"},
    "rafters": {"size": "2x8", "spacing": "600 mm"},
    "ridge": {
        "kind": "beam",
        "size": "1.75x14",
        "species": "LVL",
        "grade": "2.0E",
        "plies": 3,
        "posts": ["4.8 m"],
    },
    "ceiling_joists": {"size": "2x6", "spacing": "600 mm", "direction": "along"},
    "walls": [
        {"name": "a<i>", "start": ["3 m", "0 m"], "end": ["3 m", "6 m"]},
        {"name": "b&c", "start": ["6 m", "0 m"], "end": ["6 m", "6 m"]},
    ],
    "loads": {
        "roof_dead": "0.6 kPa",
        "snow": {"ground": "2.0 kPa"},
        "wind_uplift": "1.1 kPa",
    },
}

# No ceiling joists: low rafter ties on every third pair hold some rafters only.
UNTIED: dict = {
    "name": "Hall with rafter ties at one end",
    "footprint": {"length": "24 ft", "width": "20 ft"},
    "roof": {"pitch": "8:12"},
    "rafters": {"size": "2x8", "spacing": "24 in"},
    "rafter_ties": {"height_ratio": 0.33, "spacing": "4 ft", "size": "2x6"},
    "overrides": [
        {"member": "RT-06", "removed": True},
        {"member": "RT-08", "removed": True},
        {"member": "RT-99", "plies": 2},
    ],
}

# Braces that lean to a middle wall: flat, long and slender; one group on a post.
LEANING: dict = {
    "name": "Long flat braces",
    "footprint": {"length": "32 ft", "width": "28 ft"},
    "roof": {"pitch": "6:12"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
    "walls": [{"name": "mid", "start": ["0 ft", "14 ft"], "end": ["32 ft", "14 ft"]}],
    "beams": [
        {
            "name": "attic",
            "size": "4x10",
            "species": "Douglas Fir-Larch",
            "grade": "No.2",
            "start": ["8 ft", "7 ft"],
            "end": ["24 ft", "7 ft"],
            "carries_joists": False,
        }
    ],
    "posts": [
        {"name": "A", "at": ["8 ft", "7 ft"]},
        {"name": "B", "at": ["24 ft", "7 ft"], "foot": "girder"},
    ],
    "purlins": [
        {"name": "S", "slope": "south", "size": "2x6", "from_plate": "7 ft"},
        {"name": "N", "slope": "north", "size": "2x6", "from_plate": "6 ft"},
    ],
    "struts": [
        {
            "purlin": "S",
            "spacing": "4 ft",
            "start": "8 ft",
            "end": "24 ft",
            "foot": {"on": "beam", "name": "attic"},
        },
        {"purlin": "N", "spacing": "4 ft", "foot": {"on": "wall", "name": "mid"}},
    ],
}

# A steel plate between the planks of a flush beam that struts stand on.
PLATED: dict = {
    "name": "Room with a plated beam",
    "footprint": {"length": "12 ft", "width": "24 ft"},
    "roof": {"pitch": "5:12"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ceiling_joists": {"size": "2x6", "spacing": "24 in"},
    "walls": [{"name": "mid", "start": ["0 ft", "12 ft"], "end": ["12 ft", "12 ft"]}],
    "beams": [
        {
            "name": "plated",
            "start": ["0 ft", "6 ft"],
            "end": ["12 ft", "6 ft"],
            "size": "2x8+1/4x7",
            "plies": 2,
            "place": "flush",
        }
    ],
    "purlins": [{"name": "S", "slope": "south", "size": "2x6", "from_plate": "6 ft"}],
    "struts": [
        {"purlin": "S", "spacing": "4 ft", "foot": {"on": "beam", "name": "plated"}}
    ],
}

ALL: dict[str, dict] = {
    "cottage": COTTAGE,
    "opened": OPENED,
    "ridge beam": RIDGE_BEAM,
    "untied": UNTIED,
    "leaning": LEANING,
    "hip": hip(
        "purlins",
        hips={"size": "2x10", "stub_joists": True},
    ),
    "trusses": WORKED | {"trusses": [{"name": "all"}]},
    "plated": PLATED,
}


def changed(brief: dict, **fields: object) -> dict:
    """A brief with some of its top fields replaced."""
    return {**copy.deepcopy(brief), **fields}


@cache
def solved(name: str) -> Solution:
    """One of the briefs above, solved once for all tests."""
    return solve(read_brief(ALL[name]))


@cache
def solved_metric(name: str) -> Solution:
    """The same in metric units."""
    return solve(read_brief(changed(ALL[name], units="metric")))
