"""A long beam on springs beside Hetenyi's beam on elastic foundation."""

from __future__ import annotations

import math

import numpy as np

from ..analysis import Frame, Links, LoadSet, solve
from ..analysis.frame import GROUND, PUSH_ONLY
from .model import FORMULA, Record

SOURCE = "Hetenyi, Beams on Elastic Foundation (1946), long beam, one load"
E, INERTIA, BED = 11e9, 1e-5, 2.0e6  # Pa, m4, N/m per m
P = 5e3


def _bedded(spacing: float, half: float) -> tuple[float, float, float]:
    """Return moment under the load, sag there and the largest push of one spring.

    Args:
        spacing: m, between springs that stand for joists.
        half: m, of the beam on either side of the load.
    """
    count = round(half / spacing)
    x = spacing * np.arange(-count, count + 1)
    n = len(x)
    fixed = np.zeros((n, 6), bool)
    fixed[:, 1] = True
    fixed[0, [0, 3]] = True
    links = Links(
        np.arange(n), np.full(n, GROUND), np.tile([0.0, 0.0, 1.0], (n, 1)),
        np.full(n, BED * spacing), np.full(n, PUSH_ONLY, dtype=np.int8),
    )  # fmt: skip
    frame = Frame(
        xyz=np.stack([x, 0 * x, 0 * x], axis=1), fixed=fixed,
        ends=np.stack([np.arange(n - 1), np.arange(1, n)], axis=1),
        up=np.tile([0.0, 0.0, 1.0], (n - 1, 1)), A=np.full(n - 1, 0.01),
        I_strong=np.full(n - 1, INERTIA), I_weak=np.full(n - 1, INERTIA),
        J=np.full(n - 1, INERTIA), E=np.full(n - 1, E), G=np.full(n - 1, E / 16),
        release=np.zeros((n - 1, 12), bool), axial_only=np.zeros(n - 1, bool),
        one_sided=np.zeros(n - 1, np.int8), links=links,
        element_member=np.zeros(n - 1, np.int64),
    )  # fmt: skip
    element, node = np.zeros((1, n - 1, 3)), np.zeros((1, n, 6))
    # The bed holds down as far as its own weight reaches: half a newton to a metre of
    # sag keeps every spring pressed without changing what the load does.
    weight = 0.06 * P / half
    element[0, :, 2] = -weight
    node[0, count, 2] = -P
    loaded = solve(frame, LoadSet(("all",), element, node), np.ones((1, 1)))
    bare = solve(
        frame, LoadSet(("all",), element, np.zeros_like(node)), np.ones((1, 1))
    )
    moment = loaded.stations(3).M_strong - bare.stations(3).M_strong
    push = loaded.link_force - bare.link_force
    sag = push[0, count] / (BED * spacing)
    return float(moment.max()), float(sag), float(push.max())


def long_beam_on_a_bed(out: Record) -> None:
    """Moment P/(4 b), sag P b/(2 k) and push P b s/2 of a joist, b^4 = k/(4 E I)."""
    b = (BED / (4 * E * INERTIA)) ** 0.25
    half = 3.0 * math.pi / b
    spacing = half / 400
    moment, sag, push = _bedded(spacing, half)
    for what, expected, ours, unit in (
        ("moment under the load", P / (4 * b), moment, "N m"),
        ("sag under the load", P * b / (2 * BED), sag, "m"),
        ("share of one support", b * spacing / 2, push / P, ""),
    ):
        out.check(
            "CV-562", SOURCE, FORMULA, what, expected, ours, rel=0.01, unit=unit
        )  # fmt: skip


def joists_far_apart(out: Record) -> None:
    """The same with springs 0.6 / b apart, as joists are under a spreader."""
    b = (BED / (4 * E * INERTIA)) ** 0.25
    half = 3.0 * math.pi / b
    spacing = half / 16
    _, sag, push = _bedded(spacing, half)
    out.check(
        "CV-563", SOURCE, FORMULA, "share of the joist under the load",
        b * spacing / 2, push / P, rel=0.04,
    )  # fmt: skip
    out.check(
        "CV-563", SOURCE, FORMULA, "sag under the load", P * b / (2 * BED), sag,
        rel=0.04, unit="m",
    )  # fmt: skip


GROUPS = (long_beam_on_a_bed, joists_far_apart)
