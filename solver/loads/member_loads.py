"""What each load case puts on each stretch of each member.

Receives the framing; adds line loads in N per m of member length, global axes. A
stretch is the part of a member between two neighbouring joints.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..basis.flitch import mass_per_length
from ..basis.materials import reference_values
from ..brief.model import Brief, JoistDirection, Surface
from ..framing.model import Framing, Member, Role
from ..framing.outline.plan import way_of
from ..units import GRAVITY
from .cases import CASES, CEILING, ROOF_AT_HIP, ROOF_NORTH, ROOF_SOUTH, ROOFS, Case
from .outline_strips import outline_areas
from .roof_strips import StretchArea, stretch_areas
from .surface import RoofPressures, roof_pressures

Row = tuple[str, int, int, str, float, StretchArea | None]
Floats = NDArray[np.float64]


_SLOPING = (
    Role.RAFTER,
    Role.JACK_RAFTER,
    Role.HIP_RAFTER,
    Role.VALLEY_RAFTER,
)


@dataclass(frozen=True, eq=False, kw_only=True)
class Stretches:
    """What each stretch of each member carries, whatever its weight.

    Attributes:
        member, nodes, surface: as in `MemberLoads`.
        areas: (s,) of roofs of more planes than a gable's two, else None.
        width: (s,) m, tributary width on the surface.
        length, plan: (s,) m, of the stretch and on plan.
        across: (s,) m, y of its middle.
        roof: (s,) True where it carries roof.
        on_plan, on_slope: (s,) m2 of roof on plan and on the slope.
        lift: (s, 3) m2, slope area times the normal of its plane.
        own: (s,) N/m, its own weight.
        edges: where snow drifts end, by which the areas were cut.
    """

    member: tuple[str, ...]
    nodes: NDArray[np.int64]
    surface: NDArray[np.str_]
    areas: tuple[StretchArea | None, ...]
    width: Floats
    length: Floats
    plan: Floats
    across: Floats
    roof: NDArray[np.bool_]
    on_plan: Floats
    on_slope: Floats
    lift: Floats
    own: Floats
    edges: tuple[float | None, ...]

    def on(self, surface: str) -> NDArray[np.bool_]:
        """Return (s,) True where a stretch carries a surface."""
        return self.surface == surface


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
        stretches: what the loads are on.
    """

    member: tuple[str, ...]
    nodes: NDArray[np.int64]
    load: Floats
    surface: tuple[str, ...]
    width: Floats
    plan_area: Floats
    pressures: RoofPressures
    stretches: Stretches


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


def member_loads(
    brief: Brief, framing: Framing, before: MemberLoads | None = None
) -> MemberLoads:
    """Return the line loads on all counted members.

    Args:
        brief: what is stated.
        framing: of the brief.
        before: loads on the same framing of a brief that differs by its loads alone;
            the stretches serve again.
    """
    pressures = roof_pressures(brief, framing.form)
    if before is not None and before.stretches.edges == pressures.drift_edges:
        return _loads_on(brief, pressures, before.stretches)
    widths = _widths(brief, framing)
    areas = _areas(framing, pressures)
    rows: list[Row] = []
    for key, member in framing.members.items():
        if not member.counted:
            continue
        surface, width = "", 0.0
        if framing.form is not None and member.role in _SLOPING:
            surface = _roof_surface(framing, member)
        elif member.role is Role.RAFTER and member.station is not None:
            surface = ROOF_SOUTH if member.slope == "S" else ROOF_NORTH
            width = float(widths[Role.RAFTER][member.station])
        elif member.role is Role.CEILING_JOIST and member.station is not None:
            surface = CEILING
            if framing.plan is not None:
                width = framing.plan.widths[key]
            else:
                width = float(widths[Role.CEILING_JOIST][member.station])
        for n, (a, b) in enumerate(pairwise(member.nodes)):
            area = areas.get((key, n)) if areas else None
            on = "" if areas and area is None and surface in ROOFS else surface
            rows.append((key, a, b, on, width, area))
    stretches = _stretches(framing, rows, pressures.drift_edges)
    return _loads_on(brief, pressures, stretches)


def _areas(
    framing: Framing, pressures: RoofPressures
) -> dict[tuple[str, int], StretchArea]:
    """Return the roof on every stretch of a roof of more planes than a gable's two."""
    if framing.form is None:
        return {}
    cut = stretch_areas if framing.plan is None else outline_areas
    return cut(framing, pressures.drift_edges)


def _roof_surface(framing: Framing, member: Member) -> str:
    """Return the surface that a sloping member carries: the way its plane falls."""
    if not member.slope:
        return ROOF_AT_HIP
    if framing.plan is None:
        return f"roof {member.slope}"
    return f"roof {way_of(-framing.plan.plane(member.slope).uphill)}"


def _widths(brief: Brief, framing: Framing) -> dict[Role, Floats]:
    """Return the tributary widths of rafters and ceiling joists by station."""
    rake, size = brief.roof.rake_overhang, brief.footprint
    if framing.plan is not None:  # they go by planes and by parts of the plan
        return {}
    rafters = tributary_widths(framing.rafter_stations, -rake, size.length + rake)
    marks = framing.joist_stations
    joists = np.zeros(0)
    if len(marks):
        assert brief.ceiling_joists is not None
        if brief.ceiling_joists.direction is JoistDirection.ACROSS:
            joists = tributary_widths(marks, 0.0, size.length)
            if framing.form is not None:
                joists = _hip_joist_widths(framing, marks, size.length)
        else:  # the outer walls take the strip beside them
            padded = np.concatenate([[0.0], marks, [size.width]])
            joists = (padded[2:] - padded[:-2]) / 2
    return {Role.RAFTER: rafters, Role.CEILING_JOIST: joists}


def _hip_joist_widths(framing: Framing, marks: Floats, length: float) -> Floats:
    """Return the widths of joists between the end walls, which take half a bay.

    No joist stands where the end rafters pass through.
    """
    standing = sorted(
        {
            m.station
            for m in framing.of_role(Role.CEILING_JOIST)
            if m.station is not None
        }
    )
    widths = np.zeros(len(marks))
    padded = np.concatenate([[0.0], marks[standing], [length]])
    widths[standing] = (padded[2:] - padded[:-2]) / 2
    return widths


def _stretches(
    framing: Framing, rows: list[Row], edges: tuple[float | None, ...]
) -> Stretches:
    """Return the rows as arrays, with their lengths, areas and weights."""
    member, first, second, on, wide, areas = (
        zip(*rows, strict=True) if rows else ((),) * 6
    )
    nodes = np.array([first, second], dtype=np.int64).T.reshape(-1, 2)
    surface = np.array(on, dtype=np.str_)
    ends = framing.points[nodes]
    span = ends[:, 1] - ends[:, 0]
    length, plan = np.linalg.norm(span, axis=1), np.hypot(span[:, 0], span[:, 1])
    roof = np.isin(surface, ROOFS)
    on_plan, on_slope, lift = _roof_areas(framing, rows, roof, plan, length)
    width = np.array(wide, dtype=float)
    return Stretches(
        member=member,
        nodes=nodes,
        surface=surface,
        areas=areas,
        width=np.where(roof, on_plan / np.where(roof, plan, 1.0), width),
        length=length,
        plan=plan,
        across=ends.mean(axis=1)[:, 1],
        roof=roof,
        on_plan=on_plan,
        on_slope=on_slope,
        lift=lift,
        own=_self_weight(framing, member),
        edges=edges,
    )


def _loads_on(brief: Brief, pressures: RoofPressures, on: Stretches) -> MemberLoads:
    """Return the loads of all stretches, vectorised over them."""
    load, loads = np.zeros((len(CASES), len(on.member), 3)), brief.loads
    dead = CASES.index(Case.DEAD)
    on_dead = on.on_plan if loads.roof_dead_on is Surface.PLAN else on.on_slope
    load[dead, :, 2] -= loads.roof_dead * on_dead / on.length
    load[CASES.index(Case.WIND)] += loads.wind_uplift * on.lift / on.length[:, None]
    for name in ROOFS:
        here = np.flatnonzero(on.on(name))
        per_length = on.on_plan[here] / on.length[here]
        for case in (Case.ROOF_LIVE, Case.SNOW, Case.SNOW_SOUTH, Case.SNOW_NORTH):
            at = pressures.on_plan(case, name, on.across[here])
            load[CASES.index(case), here, 2] -= at * per_length
    for case, weight in pressures.drifts_on(on.areas).items():
        load[CASES.index(case), :, 2] -= weight / on.length
    ceiling = on.on(CEILING)
    load[dead, ceiling, 2] -= loads.ceiling_dead * on.width[ceiling]
    attic = CASES.index(Case.ATTIC_LIVE)
    load[attic, ceiling, 2] -= loads.attic_live * on.width[ceiling]
    if loads.self_weight:
        load[dead, :, 2] -= on.own
    return MemberLoads(
        member=on.member,
        nodes=on.nodes,
        load=load,
        surface=tuple(on.surface.tolist()),
        width=on.width,
        plan_area=np.where(
            on.roof, on.on_plan, np.where(on.on(""), 0, on.plan * on.width)
        ),
        pressures=pressures,
        stretches=on,
    )


def _roof_areas(
    framing: Framing,
    rows: list[Row],
    roof: NDArray[np.bool_],
    plan: Floats,
    length: Floats,
) -> tuple[Floats, Floats, Floats]:
    """Return the roof on every stretch: plan area, slope area, area times normal.

    Args:
        framing: of the roof.
        rows: the stretches.
        roof: (s,) True where a stretch carries roof.
        plan: (s,) m, their lengths on plan.
        length: (s,) m, their lengths.
    """
    width = np.array([row[4] for row in rows])
    on_plan, on_slope = (np.where(roof, width * part, 0.0) for part in (plan, length))
    ups = np.array([framing.members[row[0]].up for row in rows]).reshape(-1, 3)
    lift = on_slope[:, None] * ups
    for n, row in enumerate(rows):
        area = row[5]
        if area is not None:
            on_plan[n], on_slope[n], lift[n] = area.plan, area.slope, area.lift
    return on_plan, on_slope, lift


def _self_weight(framing: Framing, keys: Sequence[str]) -> Floats:
    """Return the weight of each stretch, N per m of member length."""
    weight: dict[str, float] = {}
    for key in dict.fromkeys(keys):
        member = framing.members[key]
        values = reference_values(member.species, member.grade, member.section)
        weight[key] = mass_per_length(values.density, member.section) * GRAVITY
    return np.array([weight[key] for key in keys], dtype=float)
