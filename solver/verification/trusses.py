"""Triangulated trusses: statics beside the method of joints, and gusset plywood."""

from __future__ import annotations

import math

import numpy as np

from ..basis import panels
from ..trusses.pins import PinTruss, pin_forces
from ..units import FOOT, INCH, POUND
from .model import FORMULA, MEMORY, Record

SOURCE = "Statics of a king-post truss by the method of sections"


def _truss(run: float, rise: float, struts: bool) -> PinTruss:
    """Return a king-post truss, with struts to the middle of its rafters or without."""
    pins = {"S": (0.0, 0.0), "N": (2 * run, 0.0), "foot": (run, 0.0)}
    pins["peak"] = (run, rise)
    bars = {"tie S": ("S", "foot"), "tie N": ("foot", "N"), "king": ("foot", "peak")}
    for side, x in (("S", run / 2), ("N", 1.5 * run)):
        if not struts:
            bars[f"rafter {side}"] = (side, "peak")
            continue
        panel = f"panel {side}"
        pins[panel] = (x, rise / 2)
        bars[f"lower {side}"] = (side, panel)
        bars[f"upper {side}"] = (panel, "peak")
        bars[f"strut {side}"] = ("foot", panel)
    return PinTruss(pins=pins, bars=bars, seat="S", roller="N")


def king_post(out: Record) -> None:
    """Span 24 ft at 5:12: 860 lb at the peak and 360 lb hung at the foot."""
    run, rise, peak, hung = 12.0, 5.0, 860.0, 360.0
    force = pin_forces(
        _truss(run * FOOT, rise * FOOT, struts=False),
        {"peak": np.array([peak * POUND]), "foot": np.array([hung * POUND])},
    )
    tie = (peak + hung) / 2 * run / rise
    for bar, expected in (
        ("king", hung),
        ("tie S", tie),
        ("rafter S", -math.hypot(tie, (peak + hung) / 2)),
    ):
        out.check(
            "CV-560", SOURCE, FORMULA, f"king post alone, {bar}", expected,
            float(force[bar][0]) / POUND, rel=1e-9, unit="lb",
        )  # fmt: skip


def king_post_with_struts(out: Record) -> None:
    """The same with 430 lb at each of the three upper joints inside the plates."""
    run, rise, panel, hung = 12.0, 5.0, 430.0, 360.0
    loads = {"peak": panel, "panel S": panel, "panel N": panel, "foot": hung}
    force = pin_forces(
        _truss(run * FOOT, rise * FOOT, struts=True),
        {pin: np.array([load * POUND]) for pin, load in loads.items()},
    )
    lean = math.hypot(run / 2, rise / 2)
    strut = (
        -panel / 2 * lean / (rise / 2)
    )  # each half of a panel's load goes either way
    king = hung + panel
    tie = (1.5 * panel + hung / 2) * run / rise
    for bar, expected in (
        ("strut S", strut),
        ("king", king),
        ("tie S", tie),
        ("lower S", -tie * math.hypot(run, rise) / run),
        ("upper S", -(tie + strut * (run / 2) / lean) * math.hypot(run, rise) / run),
    ):
        out.check(
            "CV-561", SOURCE, FORMULA, f"king post and struts, {bar}", expected,
            float(force[bar][0]) / POUND, rel=1e-9, unit="lb",
        )  # fmt: skip


def gusset_plywood(out: Record) -> None:
    """Half-inch plywood across its face grain: 4 in and 16 in strips, and its shear."""
    panel = panels.panel_of(0.5 * INCH)
    assert panel is not None
    source = "APA Panel Design Specification, Tables 4A and 4B"
    for width, factor in ((4.0, 0.5), (16.0, 0.75)):  # C_s of the width
        held = 1250 / 12 * width * factor * 1.15
        found = panels.strip_width(held * POUND, panel.tension_across, 1.15) / INCH
        out.check(
            "CV-565", source, MEMORY, f"strip that holds {held:.0f} lb in snow", width,
            found, rel=1e-9, unit="in",
        )  # fmt: skip
    length = panels.shear_length(713 * POUND, panel.shear, 1.15) / INCH
    out.check(
        "CV-565", source, MEMORY, "line in shear that holds 713 lb in snow", 10.0,
        length, rel=1e-3, unit="in",
    )  # fmt: skip


GROUPS = (king_post, king_post_with_struts, gusset_plywood)
