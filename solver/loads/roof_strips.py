"""What each rafter of a hip roof carries of its plane, exactly.

Every plane, with its overhang, is cut midway between neighbouring rafters; each strip
goes to its rafter, and the strip beside a corner to the hip. Nothing is counted twice
and nothing is left, so that the areas add to the area of the planes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..form import RoofForm, RoofPlane
from ..framing.hip_layout import planes_by_side
from ..framing.model import Framing, Member, Role
from ..framing.planes import area_of, clipped, to_plane

Floats = NDArray[np.float64]
_CARRIERS = (Role.RAFTER, Role.JACK_RAFTER)


@dataclass
class StretchArea:
    """The roof on one stretch of a member.

    Attributes:
        plan: m2 on plan.
        slope: m2 on the slope.
        lift: (3,) m2, the slope areas times the normals of their planes.
        planes: by plane of the form, m2 on plan.
        drifted: by plane of the form, m2 on plan of it where snow drifts.
    """

    plan: float
    slope: float
    lift: Floats
    planes: dict[int, float] = field(default_factory=dict[int, float])
    drifted: dict[int, float] = field(default_factory=dict[int, float])


def stretch_areas(
    framing: Framing, drift_edges: Sequence[float | None] = ()
) -> dict[tuple[str, int], StretchArea]:
    """Return (member, number of its stretch) to the roof that it carries.

    Args:
        framing: of the roof.
        drift_edges: by plane of the form, m on plan up from its eave to where drifted
            snow begins; None where the whole plane is free of it, or all drifted.
    """
    assert framing.form is not None
    out: dict[tuple[str, int], StretchArea] = {}
    for side, number in planes_by_side(framing.form).items():
        plane = framing.form.planes[number]
        polygon = to_plane(plane, plane.overhang3)
        rafters = [m for m in framing.of_role(*_CARRIERS) if m.slope == side]
        hips = _hips_of(framing, framing.form, number)
        row = sorted(
            [(_places(framing, plane, m, Role.RAFTER), m) for m in rafters]
            + [(_places(framing, plane, m, Role.HIP_RAFTER), m) for m in hips],
            key=lambda pair: pair[0][1],
        )
        marks = [place for (_, place, _), _ in row]
        edges = [-np.inf, *((a + b) / 2 for a, b in pairwise(marks)), np.inf]
        for (low, high), ((axis, _, cuts), member) in zip(
            pairwise(edges), row, strict=True
        ):
            strip = clipped(polygon, 0, low, high)
            for n, area in enumerate(_shares(strip, axis, cuts)):
                put(out, (member.key, n), number, plane, area)
            edge = drift_edges[number] if drift_edges else None
            if edge is None:
                continue
            upper = clipped(strip, 1, edge, np.inf)
            for n, area in enumerate(_shares(upper, axis, cuts)):
                if area > 0:
                    drifted = out[member.key, n].drifted
                    drifted[number] = drifted.get(number, 0.0) + area
    return out


def _hips_of(framing: Framing, form: RoofForm, plane: int) -> list[Member]:
    """Return the hips that bound a plane."""
    lines = [line for line in form.hips if plane in line.planes]
    return [
        hip
        for hip in framing.of_role(Role.HIP_RAFTER)
        for line in lines
        if np.linalg.norm(framing.ends(hip.key)[1] - line.end) < 1e-6
        and np.abs(np.cross(line.end - line.start, _way(framing, hip))).max() < 1e-6
    ]


def _way(framing: Framing, member: Member) -> Floats:
    """Return the way from a member's start to its end, m."""
    start, end = framing.ends(member.key)
    return end - start


def _places(
    framing: Framing, plane: RoofPlane, member: Member, kind: Role
) -> tuple[int, float, Floats]:
    """Return the axis that a member's joints cut its strip along, its mark, the cuts.

    A rafter's strip is cut up-slope; a hip's, along the eave, where its corner is its
    mark.
    """
    points = to_plane(plane, framing.points[list(member.nodes)])
    if kind is Role.HIP_RAFTER:
        corner = plane.polygon[
            np.abs(to_plane(plane, plane.polygon) - points[-1]).sum(axis=1) > 1e-6
        ]
        ends = to_plane(plane, corner)
        mark = float(ends[np.abs(ends[:, 1]) < 1e-6][:, 0].min())
        if points[-1, 0] < points[0, 0]:
            mark = float(ends[np.abs(ends[:, 1]) < 1e-6][:, 0].max())
        return 0, mark, points[:, 0]
    return 1, float(points[0, 0]), points[:, 1]


def _shares(strip: Floats, axis: int, cuts: Floats) -> list[float]:
    """Return the areas of a strip on a member's stretches; the outer ones take all."""
    if len(strip) < 3:
        return [0.0] * (len(cuts) - 1)
    turn = 1.0 if cuts[-1] >= cuts[0] else -1.0
    strip = strip * (np.array([turn, 1.0]) if axis == 0 else np.array([1.0, turn]))
    bounds = [-np.inf, *(turn * cuts[1:-1]), np.inf]
    return [area_of(clipped(strip, axis, a, b)) for a, b in pairwise(bounds)]


def put(
    out: dict[tuple[str, int], StretchArea],
    place: tuple[str, int],
    number: int,
    plane: RoofPlane,
    area: float,
) -> None:
    """Add an area of a plane to a stretch."""
    if area <= 0:
        return
    slope = area * float(np.hypot(1.0, plane.pitch))
    known = out.setdefault(place, StretchArea(0.0, 0.0, np.zeros(3)))
    known.plan += area
    known.slope += slope
    known.lift = known.lift + slope * plane.normal
    known.planes[number] = known.planes.get(number, 0.0) + area
