"""Beam coefficients of handbooks, through the frame engine.

Beams of one section over rigid supports; spans, loads and stiffness are round numbers,
since the coefficients hold for any.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from ..analysis import Frame, FrameResult, Links, LoadSet, solve
from .model import FORMULA, MEMORY, SEEN, Record

W, E, INERTIA = 1000.0, 11e9, 1e-5  # N/m, Pa, m4
LINDEBURG = "Lindeburg, Civil Engineering Reference Manual, two equal spans"
SPANS = "Table of continuous beam formulas"
HANDBOOK = "Handbook coefficients of equal spans"
WOOD_HANDBOOK = "Wood Handbook FPL-GTR-190, Table 9-1"


def beam(
    spans: Sequence[float],
    loaded: Sequence[bool] | None = None,
    parts: int = 20,
    clamped: bool = False,
    point: Mapping[float, float] | None = None,
) -> FrameResult:
    """Return a solved level beam under unit uniform loads and point loads.

    Args:
        spans: (k,) m.
        loaded: (k,) spans under ``W``; all where None.
        parts: elements of each span; forces are exact with 1, sags want more stations.
        clamped: one end built in and no other support.
        point: N, downward, by place along the beam, m; places of element ends.
    """
    edges = np.concatenate([[0.0], np.cumsum(spans)])
    x = np.interp(np.arange(parts * len(spans) + 1) / parts, range(len(edges)), edges)
    n, m = len(x), len(x) - 1
    fixed = np.zeros((n, 6), bool)
    fixed[::parts, 1:3] = True
    fixed[0, [0, 3]] = True
    if clamped:
        fixed[0], fixed[-1] = True, False
    frame = Frame(
        xyz=np.stack([x, 0 * x, 0 * x], axis=1), fixed=fixed,
        ends=np.stack([np.arange(m), np.arange(1, n)], axis=1),
        up=np.tile([0.0, 0.0, 1.0], (m, 1)), A=np.full(m, 0.01),
        I_strong=np.full(m, INERTIA), I_weak=np.full(m, INERTIA),
        J=np.full(m, INERTIA), E=np.full(m, E), G=np.full(m, E / 16),
        release=np.zeros((m, 12), bool), axial_only=np.zeros(m, bool),
        one_sided=np.zeros(m, np.int8), links=Links.none(),
        element_member=np.zeros(m, np.int64),
    )  # fmt: skip
    element, node = np.zeros((1, m, 3)), np.zeros((1, n, 6))
    on = np.ones(len(spans), bool) if loaded is None else np.array(loaded)
    element[0, :, 2] = -W * np.repeat(on, parts) * (point is None)
    for place, force in (point or {}).items():
        node[0, int(np.argmin(np.abs(x - place))), 2] = -force
    return solve(frame, LoadSet(("all",), element, node), np.ones((1, 1)))


def _reactions(result: FrameResult) -> list[float]:
    """Return the reactions from the left, N."""
    return result.reaction[0, result.frame.fixed[:, 2], 2].tolist()


def _peaks(result: FrameResult) -> tuple[float, float]:
    """Return the largest sagging and hogging moments, exact, N m."""
    inner = result.peak_moments()[1].max()
    ends = result.stations(2).M_strong
    return float(max(inner, ends.max())), float(ends.min())


def _sag(result: FrameResult) -> float:
    """Return the largest sag at the stations, m."""
    return float(-result.stations(9).displacement[..., 2].min())


def equal_spans(out: Record) -> None:
    """Two, three and four equal spans, all loaded."""
    L = 3.0
    for spans, source, provenance, reactions, sagging, hogging, rel in (
        (2, LINDEBURG, SEEN, (0.375, 1.25, 0.375), 0.0703, -0.125, 1e-3),
        (3, SPANS, SEEN, (0.4, 1.1, 1.1, 0.4), 0.080, -0.100, 1e-3),
        (4, HANDBOOK, MEMORY, (0.393, 1.143, 0.929, 1.143, 0.393), 0.0772, -0.1071,
         1.5e-3),
        (5, HANDBOOK, MEMORY, (0.395, 1.132, 0.974, 0.974, 1.132, 0.395), 0.0779,
         -0.1053, 1.5e-3),
    ):  # fmt: skip
        result = beam([L] * spans, parts=1)
        record = {2: "CV-551", 3: "CV-552"}.get(spans, "CV-554")
        found = _reactions(result)
        for n, (printed, ours) in enumerate(zip(reactions, found, strict=True)):
            out.check(
                record, source, provenance, f"{spans} spans, reaction {n + 1}",
                printed, ours / (W * L), rel=rel, unit="wL",
            )  # fmt: skip
        for what, printed, ours in zip(
            ("sagging", "hogging"), (sagging, hogging), _peaks(result), strict=True
        ):
            out.check(
                record, source, provenance, f"{spans} spans, largest {what} moment",
                printed, ours / (W * L**2), rel=rel, unit="wL2",
            )  # fmt: skip


def sags_of_equal_spans(out: Record) -> None:
    """Two and three equal spans."""
    L = 3.0
    for spans, source, printed, rel in (
        (2, LINDEBURG, 0.00541, 2e-3),
        (3, SPANS, 0.0069, 4e-3),
    ):
        out.check(
            "CV-551" if spans == 2 else "CV-552", source, SEEN,
            f"{spans} spans, largest sag", printed,
            _sag(beam([L] * spans)) * E * INERTIA / (W * L**4), rel=rel, unit="wL4/EI",
        )  # fmt: skip


def shape_of_one_span(out: Record) -> None:
    """The line of a simple beam at a quarter: w x (l3 - 2 l x2 + x3) / 24 EI."""
    L = 3.0
    result = beam([L], parts=1)
    line = -result.stations(5).displacement[0, 0, :, 2]
    out.check(
        "CV-557", "AWC Design Aid 6, Beam Formulas, figure 1", FORMULA,
        "simple beam, sag at a quarter", 57 / 6144,
        float(line[1]) * E * INERTIA / (W * L**4), rel=1e-6, unit="wL4/EI",
    )  # fmt: skip


def spans_partly_loaded(out: Record) -> None:
    """Three spans with two at one side loaded; two unequal spans."""
    L = 2.5
    found = _reactions(beam([L] * 3, [True, True, False], parts=1))
    for n, (printed, ours) in enumerate(
        zip((0.383, 1.200, 0.450, -0.0333), found, strict=True)
    ):
        out.check(
            "CV-553", SPANS, SEEN, f"3 spans, 2 loaded, reaction {n + 1}", printed,
            ours / (W * L), rel=1e-2, unit="wL",
        )  # fmt: skip
    a, b = 2.0, 3.2
    out.check(
        "CV-555", SPANS, FORMULA, "unequal spans 2.0 and 3.2, middle moment",
        -(a**3 + b**3) / (8 * (a + b)), _peaks(beam([a, b], parts=1))[1] / W, rel=1e-6,
        unit="w",
    )  # fmt: skip


def bending_constants(out: Record) -> None:
    """Simple beams and cantilevers: sag k_b P L^3/EI and moment k_m P L."""
    L, P = 4.0, W * 4.0
    end, half, quarter = {L: P}, {L / 2: P}, {L / 4: P / 2, 3 * L / 4: P / 2}
    cases = (
        ("uniform", beam([L], parts=1), 5 / 384, 1 / 8),
        ("load at the centre", beam([L], parts=2, point=half), 1 / 48, 1 / 4),
        ("loads at the quarters", beam([L], parts=4, point=quarter), 11 / 768, 1 / 8),
        ("cantilever, uniform", beam([L], parts=1, clamped=True), 1 / 8, 1 / 2),
        ("cantilever, load at the end", beam([L], parts=1, clamped=True, point=end),
         1 / 3, 1.0),
    )  # fmt: skip
    for name, result, bending, moment in cases:
        for what, printed, ours in (
            ("k_b", bending, _sag(result) * E * INERTIA / (P * L**3)),
            ("k_m", moment, max(map(abs, _peaks(result))) / (P * L)),
        ):
            out.check(
                "CV-556", WOOD_HANDBOOK, SEEN, f"{what}, {name}", printed, ours,
                rel=1e-6,
            )  # fmt: skip


GROUPS = (
    equal_spans,
    sags_of_equal_spans,
    shape_of_one_span,
    spans_partly_loaded,
    bending_constants,
)
