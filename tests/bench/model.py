"""The roof that the bench measures, as a bare frame of any size.

One station is a pair of rafters over one line of ceiling joists, 16 in apart: rafters
continuous over a purlin at mid-slope and pinned at plate and ridge, joists continuous
over a middle wall, struts every 4 ft by turns on a joist and on the wall; ridge,
purlins and strongbacks run through. A wide roof is several gables side by side, the
hard case for a band. About 4.1 members a station; six freedoms a node. Loads are
invented.
"""

import itertools

import numpy as np
from loadfall.solver.analysis import Frame, LoadSet
from loadfall.solver.units import FOOT, INCH, PSF

STATIONS = {"S": (37, 1), "M": (122, 1), "L": (488, 1), "XL": (2440, 1),
            "Mw": (30, 4), "Lw": (122, 4), "XLw": (305, 8)}  # fmt: skip
CASES = ("D", "L", "Lr", "S", "S south", "S north", "W1", "W2")
FACTORS = np.array(
    [
        [1, 1, 0, 0, 0, 0, 0, 0], [1, 0, 1, 0, 0, 0, 0, 0], [1, 0, 0, 1, 0, 0, 0, 0],
        [1, 0, 0, 0, 1, 0, 0, 0], [1, 0, 0, 0, 0, 1, 0, 0],
        [1, 0.75, 0, 0.75, 0, 0, 0, 0], [1, 0.75, 0, 0.75, 0, 0, 0, 0.45],
        [0.6, 0, 0, 0, 0, 0, 0.6, 0],
    ]
)  # fmt: skip
_SIZES = {
    "rafter": (1.5, 5.5), "joist": (1.5, 7.25), "ridge": (1.5, 7.25),
    "purlin": (1.5, 5.5), "strongback": (1.5, 5.5), "strut": (1.5, 3.5),
}  # fmt: skip
_E, _SPACING, _WIDTH, _PITCH = 11.0e9, 16 * INCH, 24 * FOOT, 0.5
_SLOTS = [("purlin S", 0.25, 0.5), ("ridge", 0.5, 1.0), ("purlin N", 0.75, 0.5),
          ("joist S", 0.25, 0.0), ("wall", 0.5, 0.0), ("joist N", 0.75, 0.0),
          ("plate N", 1.0, 0.0)]  # fmt: skip


class _Pieces:
    """Collects elements of one kind at a time."""

    def __init__(self):
        self.ends, self.kind, self.hinge_i, self.hinge_j = [], [], [], []
        self.members = 0

    def add(self, kind, i, j, hinge_i=False, hinge_j=False):
        self.ends.append(np.stack([i, j], axis=1))
        for store, value in (
            (self.kind, kind), (self.hinge_i, hinge_i), (self.hinge_j, hinge_j),
        ):  # fmt: skip
            store.append(np.full(len(i), value))


def bench_roof(size, one_sided=False):
    """Return (frame, loads, factors, number of members) of a named size."""
    n, bays = STATIONS[size]
    per = 1 + len(_SLOTS) * bays
    xyz, at = _nodes(n, bays, per)
    pieces = _Pieces()
    for bay in range(bays):
        lines = {name: at[bay, name] for name, _, _ in _SLOTS}
        lines["plate S"] = at[bay - 1, "plate N"] if bay else at["plate S"]
        _one_bay(pieces, lines, n)
    frame = _frame(xyz, _fixed(n, bays, per, at), pieces, one_sided)
    kind = np.concatenate(pieces.kind)
    return frame, _loads(frame, kind), FACTORS, pieces.members


def _nodes(n, bays, per):
    """Coordinates, and the nodes of each named line."""
    xyz = np.zeros((n, per, 3))
    xyz[..., 0] = np.arange(n)[:, None] * _SPACING
    base = np.arange(n) * per
    at = {"plate S": base}
    rise = _PITCH * _WIDTH / 2
    for bay in range(bays):
        for k, (name, y, z) in enumerate(_SLOTS, start=1 + bay * len(_SLOTS)):
            xyz[:, k, 1:] = (bay + y) * _WIDTH, z * rise
            at[bay, name] = base + k
    return xyz.reshape(-1, 3), at


def _one_bay(pieces, at, n):
    """Members of one gable."""
    for side in ("S", "N"):
        pieces.add("rafter", at[f"plate {side}"], at[f"purlin {side}"], hinge_i=True)
        pieces.add("rafter", at[f"purlin {side}"], at["ridge"], hinge_j=True)
    line = ["plate S", "joist S", "wall", "joist N", "plate N"]
    for k, (a, b) in enumerate(itertools.pairwise(line)):
        pieces.add("joist", at[a], at[b], hinge_i=k == 0, hinge_j=k == 3)
    for name in ("ridge", "purlin S", "purlin N", "joist S", "joist N"):
        kind = {"p": "purlin", "r": "ridge", "j": "strongback"}[name[0]]
        pieces.add(kind, at[name][:-1], at[name][1:])
    struts = np.arange(1, n, 3)
    for side in ("S", "N"):
        turns = np.arange(len(struts)) % 2 == 0
        foot = np.where(turns, at[f"joist {side}"][struts], at["wall"][struts])
        pieces.add("strut", at[f"purlin {side}"][struts], foot)
    lengths = -(-(n - 1) // 12)  # a stick is 16 ft
    pieces.members += 3 * n + 5 * lengths + 2 * len(struts)


def _fixed(n, bays, per, at):
    """Plates and wall hold the roof; sheathing holds the lines every 24 ft."""
    fixed = np.zeros((n * per, 6), bool)
    fixed[at["plate S"]] = True
    braced = np.arange(0, n, 18)
    for bay in range(bays):
        plate = at[bay, "plate N"]
        fixed[plate] = True
        fixed[plate, 1] = False  # the joists tie the thrust
        fixed[at[bay, "wall"]] |= np.array([1, 0, 1, 0, 0, 0], bool)
        for name in ("purlin S", "ridge", "purlin N"):
            fixed[at[bay, name][braced], 0] = True
        fixed[at[bay, "ridge"][[0, -1]], 3] = True
    return fixed


def _frame(xyz, fixed, pieces, one_sided):
    """The collected elements as a Frame."""
    ends, kind = np.concatenate(pieces.ends), np.concatenate(pieces.kind)
    m = len(ends)
    names = list(_SIZES)
    b, d = (np.array([_SIZES[k] for k in names]) * INCH)[
        [names.index(k) for k in kind.tolist()]
    ].T
    release = np.zeros((m, 12), bool)
    release[:, 4:6] = np.concatenate(pieces.hinge_i)[:, None]
    release[:, 10:12] = np.concatenate(pieces.hinge_j)[:, None]
    struts = kind == "strut"
    return Frame(
        xyz=xyz, fixed=fixed, ends=ends,
        up=np.where(struts[:, None], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]),
        A=b * d, I_strong=b * d**3 / 12, I_weak=d * b**3 / 12, J=0.25 * d * b**3,
        E=np.full(m, _E), G=np.full(m, _E / 16), release=release, axial_only=struts,
        one_sided=struts.astype(int) * int(one_sided),
    )  # fmt: skip


def _loads(frame, kind):
    """Eight cases in N per m of member."""
    q = np.zeros((len(CASES), len(kind), 3))
    along = frame.xyz[frame.ends[:, 1]] - frame.xyz[frame.ends[:, 0]]
    length = np.linalg.norm(along, axis=1)
    rafter, joist = kind == "rafter", kind == "joist"
    south = rafter & (along[:, 1] > 0)
    north = rafter & ~south
    plan = np.abs(along[:, 1]) / length
    strip = PSF * _SPACING
    q[0, rafter, 2], q[0, joist, 2] = -10 * strip, -5 * strip
    q[1, joist, 2] = -20 * strip
    for case, s, n in ((2, 20, 20), (3, 25, 25), (4, 37.5, 7.5), (5, 7.5, 37.5)):
        q[case, south, 2] = -s * strip * plan[south]
        q[case, north, 2] = -n * strip * plan[north]
    outward = np.stack([0 * length, -along[:, 2], np.abs(along[:, 1])], axis=1)
    outward[north, 1] = along[north, 2]
    outward /= length[:, None]
    for case, s, n in ((6, 14, 22), (7, 22, 14)):
        q[case, south] = s * strip * outward[south]
        q[case, north] = n * strip * outward[north]
    return LoadSet(CASES, q, np.zeros((len(CASES), frame.n_nodes, 6)))
