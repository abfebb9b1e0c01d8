"""Thrust at the plates by hand, the tie that holds it and its nails."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..basis.materials import reference_values
from ..basis.nds.nail_joints import adjusted_lateral_value, nails_needed
from ..basis.nds.nails import lateral_value, nail
from ..basis.sections import section
from ..brief.model import Brief
from ..framing.common_rafters import PLATE
from ..framing.model import Framing, Role
from .model import HandThrust
from .strength import bending_strength

Floats = NDArray[np.float64]


def hand_thrust(
    brief: Brief,
    framing: Framing,
    line_load: Floats,
    C_D: Floats,
    width: float,
    pitch: float,
) -> HandThrust:
    """Return the thrust of a rafter pair and what holds it.

    Statics of three hinges: the tie at height e takes ``w W^2 / (8 (h - e))`` and the
    rafter bends by ``w W x / 2 - w x^2 / 2`` at the tie, x from the plate, because the
    wall gives no push. With purlins braced to walls the thrust is less in part; the
    hand method leaves that to the frame analysis.

    Args:
        brief: the brief.
        framing: says which tie there is.
        line_load: (c,) N/m on plan of one rafter.
        C_D: (c,) load duration factors.
        width: m, from plate to plate.
        pitch: rise over run.
    """
    rise = width / 2 * pitch
    joists = _joist_tie_spacing(framing)
    ratio, spacing = 0.0, joists or brief.rafters.spacing
    if not joists and brief.rafter_ties is not None:
        ratio = brief.rafter_ties.height_ratio
        step = max(1, math.floor(brief.rafter_ties.spacing / spacing + 1e-6))
        spacing = step * spacing
    height = ratio * rise
    pair = line_load * width**2 / (8 * (rise - height))
    force = pair * spacing / brief.rafters.spacing
    place = ratio * width / 2
    moment = (
        line_load * place * (width - place) / 2 if ratio else np.zeros_like(line_load)
    )
    stock = brief.rafters
    made = section(stock.size, stock.plies)
    strength = bending_strength(
        stock.species, stock.grade, made, C_D, stock.spacing <= 0.6097
    )
    values = _nail_value(brief)
    each = np.array([adjusted_lateral_value(values, float(c)) for c in C_D])
    needed = max(
        nails_needed(float(f), float(z)) for f, z in zip(force, each, strict=True)
    )
    at_plate = line_load * width**2 / (8 * rise) / brief.rafters.spacing
    span = brief.checks.cross_wall_spacing or brief.footprint.length
    plate = section(PLATE.size, PLATE.plies)
    bent = at_plate * span**2 / 8
    plate_strength = bending_strength(PLATE.species, PLATE.grade, plate, C_D, False)
    return HandThrust(
        line_load=line_load,
        tie_height=height,
        tie_force=force,
        raised_tie_factor=rise / (rise - height),
        thrust=at_plate,
        rafter_moment_at_tie=moment,
        utilisation_at_tie=moment / (strength * made.section_modulus),
        nail=brief.heel_joint.nail,
        nail_value=each,
        nails_needed=needed,
        plate_span=span,
        plate_moment=bent,
        plate_utilisation=bent / (plate_strength * plate.section_modulus),
    )


def _joist_tie_spacing(framing: Framing) -> float:
    """Return how far apart joists tie rafter pairs, m, at the widest; 0 for no ties.

    A joist ties the pair that it lies beside. Where joists and rafters are spaced
    differently, one joist takes the thrust of all pairs up to halfway to the next; what
    joists between rafters take off the plate is left out.
    """
    if framing.plan is not None:
        tied = any(framing.plan.tied.values())
        joists = framing.of_role(Role.CEILING_JOIST) if tied else []
        stations = sorted({m.station for m in joists if m.station is not None})
        places = [framing.ends(m.key)[0] for m in joists if m.station in stations[:2]]
        return float(np.hypot(*(places[1] - places[0])[:2])) if len(places) > 1 else 0.0
    lines = {
        round(float(start[0]), 6)
        for start, end in (
            framing.ends(m.key) for m in framing.of_role(Role.CEILING_JOIST)
        )
        if abs(end[1] - start[1]) > abs(end[0] - start[0])
    }
    at = [x for x in framing.rafter_stations if round(float(x), 6) in lines]
    if not at:
        return 0.0
    first, last = framing.rafter_stations[0], framing.rafter_stations[-1]
    middles = [first, *((a + b) / 2 for a, b in pairwise(at)), last]
    return float(max(b - a for a, b in pairwise(middles)))


def _nail_value(brief: Brief) -> float:
    """Return Z of one heel nail through the thinner of tie and rafter, N."""
    tie = brief.ceiling_joists or brief.rafter_ties or brief.rafters
    pieces = []
    for stock in (tie, brief.rafters):
        made = section(stock.size)
        gravity = reference_values(stock.species, stock.grade, made).G
        pieces.append((made.breadth, gravity))
    (side, G_side), (main, G_main) = sorted(pieces)
    found = lateral_value(nail(brief.heel_joint.nail), side, main, G_side, G_main)
    return found.Z
