"""Hip roofs that tests of several stages start from."""

from __future__ import annotations

HIP = {
    "name": "Hip",
    "footprint": {"length": "44 ft", "width": "28 ft"},
    "roof": {"form": "hip", "pitch": "6:12", "overhang": "16 in"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ridge": {"kind": "board", "size": "2x8"},
    "hips": {"size": "2x8"},
    "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
    "walls": [
        {"name": "spine", "start": ["0 ft", "14 ft"], "end": ["44 ft", "14 ft"]},
        {"name": "west room", "start": ["7 ft", "0 ft"], "end": ["7 ft", "28 ft"]},
        {"name": "east room", "start": ["37 ft", "0 ft"], "end": ["37 ft", "28 ft"]},
    ],
}


def under_hips(part: float = 0.5) -> list[dict]:
    """Braces under all four hips, on the two cross walls."""
    return [
        {
            "hip": f"{side}_{end}",
            "at": part,
            "foot": {"on": "wall", "name": f"{end} room"},
        }
        for side in ("south", "north")
        for end in ("west", "east")
    ]


POSTS = [{"at": 1.0, "foot": {"on": "wall", "name": "spine"}}]
RING = [
    {"name": side[0].upper(), "slope": side, "size": "2x8", "height": "4 ft"}
    for side in ("south", "north", "west", "east")
]
RING_STRUTS = [
    {"purlin": purlin["name"], "spacing": "4 ft",
     "foot": {"on": "nearest_wall", "otherwise": "ceiling_joist"}}
    for purlin in RING
]  # fmt: skip
HIPS = {
    "plain": {},
    "braced": {"hip_braces": under_hips()},
    "posts": {"hip_braces": POSTS},
    "stubs": {
        "hips": {"size": "2x10", "plies": 2, "stub_joists": True},
        "ceiling_joists": {"size": "2x6", "spacing": "24 in"},
    },
    "steep ends": {
        "roof": {"form": "hip", "pitch": "6:12", "end_pitch": "9:12",
                 "overhang": "0 in"},
        "hip_braces": POSTS,
    },
    "odd spacing": {
        "footprint": {"length": "41 ft 5 in", "width": "26 ft 7 in"},
        "rafters": {"size": "2x8", "spacing": "19.2 in"},
        "ceiling_joists": {"size": "2x6", "spacing": "16 in"},
        "walls": [],
    },
    "ring": {"purlins": RING, "struts": RING_STRUTS, "hip_braces": POSTS},
    "purlins": {
        "purlins": [
            {"name": "S", "slope": "south", "size": "2x6", "from_plate": "7 ft"},
            {"name": "N", "slope": "north", "size": "2x6", "from_plate": "7 ft"},
        ],
        "struts": [
            {"purlin": "S", "foot": {"on": "ceiling_joist"}},
            {"purlin": "N", "foot": {"on": "ceiling_joist"}},
        ],
        "hip_braces": [*POSTS, *under_hips()],
        "collar_ties": {"height_ratio": 0.6},
        "loads": {"snow": {"ground": "30 psf"}, "attic_live": "10 psf"},
    },
}  # fmt: skip


def hip(name: str = "plain", **parts) -> dict:
    """A hip roof by name, with whole parts put in."""
    return HIP | HIPS[name] | parts
