"""A small stick roof as a bare frame, for the analysis tests and the bench.

One station is a rafter pair on one line of joists over a middle wall; a purlin on each
slope stands on struts at every third station, by turns on the joist and on the wall.
Loads are invented.
"""

import numpy as np
from loadfall.solver.analysis import Links, LoadSet

from .frames import make_frame

SPACING, HALF, RISE = 0.4064, 3.6576, 1.8288
POINTS = {  # y, z
    "plate S": (0, 0), "purlin S": (0.5, 0.5), "ridge": (1, 1), "purlin N": (1.5, 0.5),
    "plate N": (2, 0), "joist S": (0.5, 0), "wall": (1, 0), "joist N": (1.5, 0),
}  # fmt: skip
NAMES = list(POINTS)
CASES = ("D", "L", "S", "S south", "W")
FACTORS = np.array(
    [
        [1, 0, 0, 0, 0], [1, 1, 0, 0, 0], [1, 0, 1, 0, 0], [1, 0, 0, 1, 0],
        [1, 0.75, 0.75, 0, 0], [0.6, 0, 0, 0, 1], [1, 0, 0, 0.5, 0.45],
    ],
    float,
)  # fmt: skip


def roof_frame(stations, one_sided, wall_links=True):
    """Return (frame, loads, factors) of a roof with that many stations."""
    n, per = stations, len(NAMES)
    shape = np.array([POINTS[name] for name in NAMES]) * [HALF, RISE]
    xyz = np.zeros((n, per, 3))
    xyz[..., 0] = np.arange(n)[:, None] * SPACING
    xyz[..., 1:] = shape
    base = np.arange(n) * per
    at = {name: base + k for k, name in enumerate(NAMES)}
    ends, kinds, release = [], [], {}

    def add(i, j, kind, hinge_i=False, hinge_j=False):
        for a, b in zip(i, j, strict=True):
            hinges = [4, 5] * hinge_i + [10, 11] * hinge_j
            if hinges:
                release[len(ends)] = hinges
            ends.append((a, b))
            kinds.append(kind)

    for side in ("S", "N"):
        add(at[f"plate {side}"], at[f"purlin {side}"], f"rafter {side}", hinge_i=True)
        add(at[f"purlin {side}"], at["ridge"], f"rafter {side}", hinge_j=True)
        line = at[f"purlin {side}"]
        add(line[:-1], line[1:], "purlin")
        foot = np.where(np.arange(n) % 2, at["wall"], at[f"joist {side}"])
        add(line[1::3], foot[1::3], "strut")
    add(at["plate S"], at["joist S"], "joist", hinge_i=True)
    add(at["joist S"], at["wall"], "joist")
    add(at["wall"], at["joist N"], "joist")
    add(at["joist N"], at["plate N"], "joist", hinge_j=True)
    add(at["ridge"][:-1], at["ridge"][1:], "ridge")
    fixed = {}
    for s in range(n):
        fixed[at["plate S"][s]] = (0, 1, 2, 3, 4, 5)
        fixed[at["plate N"][s]] = (0, 2, 3, 4, 5)
        for name in ("purlin S", "ridge", "purlin N", "joist S", "joist N"):
            fixed[at[name][s]] = (0,)
        fixed[at["wall"][s]] = (0,) if wall_links else (0, 2)
    kinds = np.array(kinds)
    struts = kinds == "strut"
    wall = at["wall"] if wall_links else np.zeros(0, int)
    k = len(wall)
    links = Links(wall, [-1] * k, [[0, 0, 1.0]] * k, [2e7] * k, [int(one_sided)] * k)
    if not k:
        links = Links.none()
    frame = make_frame(
        xyz.reshape(-1, 3), ends, fixed, links, axial_only=struts,
        one_sided=struts.astype(int) * int(one_sided), release=release,
        b=np.where(np.char.startswith(kinds, "ridge"), 0.038, 0.0381),
    )  # fmt: skip
    return frame, _loads(frame, kinds), FACTORS


def _loads(frame, kinds):
    """Invented loads in N per m of member."""
    q = np.zeros((len(CASES), frame.n_elements, 3))
    rafter = np.char.startswith(kinds, "rafter")
    south = kinds == "rafter S"
    q[0, :, 2] = -20.0
    q[0, rafter, 2] = -200.0
    q[0, kinds == "joist", 2] = -100.0
    q[1, kinds == "joist", 2] = -390.0
    q[2, rafter, 2] = -430.0
    q[3, south, 2] = -700.0
    q[3, kinds == "rafter N", 2] = -150.0
    lift = np.array([0.0, -0.447, 0.894]) * 1100.0
    q[4, south] = lift
    q[4, kinds == "rafter N"] = lift * [1, -1, 1] * 1.4
    return LoadSet(CASES, q, np.zeros((len(CASES), frame.n_nodes, 6)))
