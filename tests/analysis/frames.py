"""Small frames that the analysis tests share; SI units, Z up."""

from __future__ import annotations

import itertools

import numpy as np
from loadfall.solver.analysis import Frame, Links, LoadSet, solve

E, G = 11.0e9, 0.7e9
B, D = 0.0381, 0.1397


def make_frame(xyz, ends, fixed=None, links=None, **fields):
    """A frame of equal timbers; any field may be given, as one value or one each."""
    xyz, ends = np.array(xyz, float), np.array(ends)
    n, m = len(xyz), len(ends)
    held = np.zeros((n, 6), bool)
    for node, freedoms in (fixed or {}).items():
        held[node, list(freedoms)] = True
    x = xyz[ends[:, 1]] - xyz[ends[:, 0]]
    upright = np.hypot(x[:, 0], x[:, 1]) < 1e-9 * np.abs(x[:, 2])
    up = np.where(upright[:, None], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0])
    b, d = fields.pop("b", B), fields.pop("d", D)
    values = {
        "A": b * d, "I_strong": b * d**3 / 12, "I_weak": d * b**3 / 12,
        "J": 0.2 * d * b**3, "E": E, "G": G, "axial_only": False, "one_sided": 0,
    }  # fmt: skip
    one_each = {k: np.broadcast_to(fields.get(k, v), m) for k, v in values.items()}
    release = np.zeros((m, 12), bool)
    for element, freedoms in fields.get("release", {}).items():
        release[element, list(freedoms)] = True
    return Frame(
        xyz=xyz, fixed=held, ends=ends, up=fields.get("up", up), release=release,
        links=links or Links.none(), element_member=fields.get("element_member", ()),
        **one_each,
    )  # fmt: skip


def solve_one(frame, q=None, p=None, **options):
    """Solve one case: q uniform N/m (m, 3) or {element: (3,)}, p {node: (6,)} N."""
    element = np.zeros((1, frame.n_elements, 3))
    node = np.zeros((1, frame.n_nodes, 6))
    if isinstance(q, dict):
        for e, value in q.items():
            element[0, e] = value
    elif q is not None:
        element[0] = q
    for k, value in (p or {}).items():
        node[0, k] = value
    loads = LoadSet(("case",), element, node)
    return solve(frame, loads, np.ones((1, 1)), ("case",), **options)


def line(points, fixed, parts=1, **fields):
    """A continuous member through points (k, 3), each bay in equal parts."""
    points = np.array(points, float)
    step = np.linspace(0, 1, parts + 1)[:-1, None]
    xyz = [a + (b - a) * step for a, b in itertools.pairwise(points)]
    xyz = np.concatenate([*xyz, points[-1:]])
    ends = np.stack([np.arange(len(xyz) - 1), np.arange(1, len(xyz))], axis=1)
    held = {parts * k: freedoms for k, freedoms in fixed.items()}
    member = np.zeros(len(ends), int)
    return make_frame(xyz, ends, held, element_member=member, **fields)


def continuous(spans, parts=1, **fields):
    """A level beam along X over simple supports."""
    x = np.concatenate([[0.0], np.cumsum(spans)])
    points = np.stack([x, 0 * x, 0 * x], axis=1)
    fixed = dict.fromkeys(range(len(x)), (1, 2))
    fixed[0] = (0, 1, 2, 3)
    return line(points, fixed, parts, **fields)
