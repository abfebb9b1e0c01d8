"""What each load case puts on each stretch of each member.

Receives the framing; adds line loads in N per m of member length, global axes. A
stretch is the part of a member between two neighbouring joints.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.materials import reference_values
from ..brief.model import Brief, JoistDirection, Surface
from ..framing.model import Framing, Role
from ..units import GRAVITY
from .cases import CASES, CEILING, ROOF_NORTH, ROOF_SOUTH, Case
from .surface import RoofPressures, roof_pressures

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False, kw_only=True)
class MemberLoads:
    """Line loads of every case, one row per stretch of a member.

    Attributes:
        member: (s,) key of the member of each stretch.
        nodes: (s, 2) its two joints.
        load: (ncase, s, 3) N/m, global, in the order of ``CASES``.
        surface: (s,) surface that the stretch carries, or "".
        width: (s,) m, tributary width on that surface.
        plan_area: (s,) m2 on plan, 0 where it carries no surface.
        pressures: of the roof.
    """

    member: tuple[str, ...]
    nodes: NDArray[np.int64]
    load: Floats
    surface: tuple[str, ...]
    width: Floats
    plan_area: Floats
    pressures: RoofPressures


def tributary_widths(marks: Floats, low: float, high: float) -> Floats:
    """Return the width that each of a row of members carries, m.

    Args:
        marks: (k,) sorted places of the members.
        low: edge of the surface; what lies before the first member goes to it.
        high: its other edge, likewise.

    Returns:
        (k,) widths that add to ``high - low``.
    """
    middles = (marks[1:] + marks[:-1]) / 2
    return np.diff(np.concatenate([[low], middles, [high]]))


def member_loads(brief: Brief, framing: Framing) -> MemberLoads:
    """Return the line loads on all counted members."""
    pressures = roof_pressures(brief)
    widths = _widths(brief, framing)
    rows: list[tuple[str, int, int, str, float]] = []
    for key, member in framing.members.items():
        if not member.counted:
            continue
        surface, width = "", 0.0
        if member.role is Role.RAFTER and member.station is not None:
            surface = ROOF_SOUTH if member.slope == "S" else ROOF_NORTH
            width = float(widths[Role.RAFTER][member.station])
        elif member.role is Role.CEILING_JOIST and member.station is not None:
            surface = CEILING
            width = float(widths[Role.CEILING_JOIST][member.station])
        for a, b in zip(member.nodes[:-1], member.nodes[1:], strict=True):
            rows.append((key, a, b, surface, width))
    return _assemble(brief, framing, pressures, rows)


def _widths(brief: Brief, framing: Framing) -> dict[Role, Floats]:
    """Return the tributary widths of rafters and ceiling joists by station."""
    rake, size = brief.roof.rake_overhang, brief.footprint
    rafters = tributary_widths(framing.rafter_stations, -rake, size.length + rake)
    marks = framing.joist_stations
    joists = np.zeros(0)
    if len(marks):
        assert brief.ceiling_joists is not None
        if brief.ceiling_joists.direction is JoistDirection.ACROSS:
            joists = tributary_widths(marks, 0.0, size.length)
        else:  # the outer walls take the strip beside them
            padded = np.concatenate([[0.0], marks, [size.width]])
            joists = (padded[2:] - padded[:-2]) / 2
    return {Role.RAFTER: rafters, Role.CEILING_JOIST: joists}


def _assemble(
    brief: Brief,
    framing: Framing,
    pressures: RoofPressures,
    rows: list[tuple[str, int, int, str, float]],
) -> MemberLoads:
    """Return the loads of all stretches, vectorised over them."""
    keys = [row[0] for row in rows]
    nodes = np.array([row[1:3] for row in rows], dtype=np.int64).reshape(-1, 2)
    surface = np.array([row[3] for row in rows])
    width = np.array([row[4] for row in rows])
    span = framing.points[nodes[:, 1]] - framing.points[nodes[:, 0]]
    length = np.linalg.norm(span, axis=1)
    plan = np.hypot(span[:, 0], span[:, 1])
    middle = framing.points[nodes].mean(axis=1)
    load = np.zeros((len(CASES), len(rows), 3))
    flat = plan / length
    dead = CASES.index(Case.DEAD)
    loads = brief.loads
    slope_share = flat if loads.roof_dead_on is Surface.PLAN else np.ones_like(flat)
    for name in (ROOF_SOUTH, ROOF_NORTH):
        on = surface == name
        load[dead, on, 2] -= (loads.roof_dead * width * slope_share)[on]
        for case in (Case.ROOF_LIVE, Case.SNOW, Case.SNOW_SOUTH, Case.SNOW_NORTH):
            at = pressures.on_plan(case, name, middle[on, 1])
            load[CASES.index(case), on, 2] -= at * (width * flat)[on]
        ups = np.array([framing.members[k].up for k in keys])[on]
        wind = loads.wind_uplift * width[on]
        load[CASES.index(Case.WIND), on] += wind[:, None] * ups
    on = surface == CEILING
    load[dead, on, 2] -= loads.ceiling_dead * width[on]
    load[CASES.index(Case.ATTIC_LIVE), on, 2] -= loads.attic_live * width[on]
    if loads.self_weight:
        load[dead, :, 2] -= _self_weight(framing, keys)
    return MemberLoads(
        member=tuple(keys),
        nodes=nodes,
        load=load,
        surface=tuple(surface.tolist()),
        width=width,
        plan_area=np.where(surface == "", 0.0, plan * width),
        pressures=pressures,
    )


def _self_weight(framing: Framing, keys: list[str]) -> Floats:
    """Return the weight of each stretch, N per m of member length."""
    weight: dict[tuple[str, str, object], float] = {}
    out = np.empty(len(keys))
    for n, key in enumerate(keys):
        member = framing.members[key]
        kind = (member.species, member.grade, member.section)
        if kind not in weight:
            values = reference_values(member.species, member.grade, member.section)
            weight[kind] = values.density * member.section.area * GRAVITY
        out[n] = weight[kind]
    return out
