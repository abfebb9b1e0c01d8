"""Drawn outlines that tests of several stages start from; ft, corners in order."""

from __future__ import annotations

CORNERS = {
    "L": [(0, 0), (40, 0), (40, 44), (16, 44), (16, 24), (0, 24)],
    "narrow L": [(0, 0), (44, 0), (44, 28), (18, 28), (18, 46), (0, 46)],
    "T": [(0, 0), (48, 0), (48, 24), (34, 24), (34, 40), (14, 40), (14, 24), (0, 24)],
    "U": [(0, 0), (60, 0), (60, 40), (40, 40), (40, 20), (20, 20), (20, 40), (0, 40)],
    "Z": [(0, 0), (36, 0), (36, 16), (56, 16), (56, 40), (20, 40), (20, 24), (0, 24)],
    "cross": [
        (16, 0), (36, 0), (36, 16), (52, 16), (52, 38), (36, 38), (36, 54), (16, 54),
        (16, 38), (0, 38), (0, 16), (16, 16),
    ],
    "bay": [(0, 0), (40, 0), (40, 26), (26, 26), (23, 30), (17, 30), (14, 26), (0, 26)],
    "drawn": [(0, 3), (21, 0), (41, 6), (38, 29), (24, 33), (20, 24), (4, 26)],
}  # fmt: skip
GABLES = {
    "L": (2, 5), "narrow L": (1, 4), "T": (1, 4, 7), "U": (2, 6), "Z": (3, 7),
    "cross": (0, 3, 6, 9), "bay": (1, 7), "drawn": (),
}  # fmt: skip


_GAMBREL = {"upper_pitch": "6:12", "from_plate": "5 ft", "ties": True}
# Over a rectangle of 40 ft by 26 ft: what else is stated.
RECTANGLES = {
    "dutch gable": {
        "roof": {
            "form": "dutch_gable",
            "pitch": "6:12",
            "setback": "6 ft",
            "overhang": "16 in",
        },
        "hips": {"size": "2x12"},
    },
    "gambrel": {
        "roof": {
            "form": "gambrel",
            "pitch": "18:12",
            "overhang": "12 in",
            "gambrel": _GAMBREL,
        }
    },
    "shed": {"roof": {"form": "shed", "pitch": "4:12", "overhang": "16 in"}},
}


def rectangle(name: str, length: int = 40, width: int = 26, **parts) -> dict:
    """A brief over a rectangle whose sides are framed as those of an outline."""
    sides = {"length": f"{length} ft", "width": f"{width} ft"}
    return (
        {
            "name": name,
            "footprint": sides,
            "rafters": {"size": "2x10", "spacing": "24 in"},
            "ridge": {"size": "2x12"},
            "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
        }
        | RECTANGLES[name]
        | parts
    )


def outline(name: str = "L", gabled: bool = False, pitches=None, **parts) -> dict:
    """A brief over an outline by name, all eaves or with its gables."""
    corners = []
    for n, (x, y) in enumerate(CORNERS[name]):
        corner = {"at": [f"{x} ft", f"{y} ft"]}
        if gabled and n in GABLES[name]:
            corner["edge"] = "gable"
        elif pitches and n in pitches:
            corner["pitch"] = pitches[n]
        corners.append(corner)
    return {
        "name": f"{name}{' with gables' if gabled else ''}",
        "footprint": {"outline": corners},
        "roof": {"pitch": "6:12", "overhang": "16 in"},
        "rafters": {"size": "2x8", "spacing": "24 in"},
        "ridge": {"size": "2x10"},
        "hips": {"size": "2x10"},
        "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
    } | parts
