"""Rafters, hips, valleys and thrust over a drawn outline by hand.

Vertical load alone. A hip or valley is a sloping beam held at its two ends; every jack
that meets it brings half of its load. A hip's jacks grow on the way up, a valley's grow
shorter: the load is a triangle or a trapezoid along the line.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ..brief.model import Brief
from ..form import RoofLine, RoofPlane
from ..framing.model import Framing, Member, Role
from ..framing.outline.plan import OutlinePlan
from ..framing.outline.rafters import intervals
from ..framing.planes import along_of, to_plane
from ..framing.struts import is_hip_brace
from .hips import HandHip, HandHips, hand_brace
from .sloping_load import beam_under_sloping_load
from .strength import bending_strength

Floats = NDArray[np.float64]
_INSIDE = 1e-3  # part of a line's length from its ends, where its jacks are measured


def longest_rafters(framing: Framing, plan: OutlinePlan) -> dict[str, float]:
    """Return the longest rafter of each plane on plan, m, plate to ridge first.

    A plane without commons is told by its longest jack.
    """
    out: dict[str, float] = {}
    for name in plan.planes:
        runs = {Role.RAFTER: 0.0, Role.JACK_RAFTER: 0.0}
        for member in framing.of_role(*runs):
            if member.slope == name:
                points = framing.points[list(member.nodes)]
                foot = points[int(np.abs(points[:, 2]).argmin())]
                if member.nodes[0] in framing.by_node and points[0, 2] > 1e-6:
                    foot = points[0]
                run = float(np.hypot(*(points[-1] - foot)[:2]))
                up = plan.plane(name).polygon @ plan.plane(name).uphill
                run = min(run, float(np.ptp(up)))  # a tail past a high wall is none
                runs[member.role] = max(runs[member.role], run)
        longest = runs[Role.RAFTER] or runs[Role.JACK_RAFTER]
        if longest > 0:
            out[name] = longest
    return out


def jack_lengths(
    plan: OutlinePlan, line: RoofLine
) -> list[tuple[RoofPlane, float, float]]:
    """Return the jacks of both planes at the two ends of a hip or valley, m on plan.

    Args:
        plan: of the roof.
        line: a hip or valley.

    Returns:
        Plane, length at the lower end, length at the upper end, for each plane.
    """
    out = []
    way = line.end - line.start
    for n in line.planes:
        plane = plan.form.planes[n]
        polygon = to_plane(plane, plane.polygon)
        lengths = []
        for part in (_INSIDE, 1 - _INSIDE):
            place = line.start[:2] + way[:2] * part
            mark, up = to_plane(plane, place[None])[0]
            found = min(
                intervals(polygon, float(mark)),
                key=lambda i: min(abs(i.low - up), abs(i.high - up)),
            )
            lengths.append(found.high - found.low)
        grow = (lengths[1] - lengths[0]) / (1 - 2 * _INSIDE)
        low = lengths[0] - grow * _INSIDE
        out.append((plane, max(0.0, low), max(0.0, low + grow)))
    return out


def line_load(plan: OutlinePlan, line: RoofLine) -> tuple[float, float]:
    """Return the roof that a hip or valley carries at its ends, m2 per m of its run.

    Source: statics. A jack every e along the eave brings half its length times e;
    along the line that is half its length times the sine of the angle on plan between
    the line and the jacks.
    """
    way = (line.end - line.start)[:2] / line.run
    low = high = 0.0
    for plane, first, last in jack_lengths(plan, line):
        sine = abs(float(way @ along_of(plane)))
        low += first / 2 * sine
        high += last / 2 * sine
    return low, high


def outline_hips(
    brief: Brief, framing: Framing, roof: Floats, own: Mapping[str, Floats], C_D: Floats
) -> HandHips:
    """Return hips and valleys of a drawn outline by hand, and the braces under them.

    Source: statics of ``sloping_load``; NDS 2018 Table 4.3.1 for the strength with C_r
    of 1 and C_L of 1. A brace at the upper end takes what all lines bring that end
    there; commons lean on each other and add nothing.

    Args:
        brief: of the roof.
        framing: of the roof.
        roof: (c,) Pa on plan, of each combination.
        own: member key to (c,) N/m, its own weight along it.
        C_D: (c,) load duration factors.
    """
    plan = framing.plan
    assert plan is not None
    braces = [m for m in framing.of_role(Role.STRUT) if is_hip_brace(m)]
    hips: dict[str, HandHip] = {}
    taken: dict[str, Floats] = {}
    for key, number in plan.lines.items():
        member = framing.members.get(key)
        if member is None or member.role not in (Role.HIP_RAFTER, Role.VALLEY_RAFTER):
            continue
        line = plan.form.lines[number]
        under = _under(framing, line, [m for m in braces if m.group == key])
        hips[key] = _line(
            framing, key, line, line_load(plan, line), list(under), roof, own[key], C_D
        )
        for n, part in enumerate(under, start=1):
            taken[under[part].key] = hips[key].reactions[:, n]
    for brace in braces:
        ends = [k for k in hips if framing.members[k].nodes[-1] == brace.nodes[-1]]
        if brace.key not in taken and ends:
            taken[brace.key] = sum(
                (hips[k].reactions[:, -1] for k in ends), np.zeros(len(roof))
            )
    by_key = {m.key: m for m in braces}
    return HandHips(
        roof_load=roof,
        hips=hips,
        peaks={},
        braces={
            key: hand_brace(brief, framing, by_key[key], force, C_D)
            for key, force in sorted(taken.items())
        },
    )


def _under(
    framing: Framing, line: RoofLine, braces: list[Member]
) -> dict[float, Member]:
    """Return braces under a line between its ends, by their part of its run."""
    way = (line.end - line.start)[:2]
    parts = {
        float((framing.ends(m.key)[1] - line.start)[:2] @ way) / line.run**2: m
        for m in braces
    }
    return {at: parts[at] for at in sorted(parts) if _INSIDE < at < 1 - _INSIDE}


def _line(
    framing: Framing,
    key: str,
    line: RoofLine,
    width: tuple[float, float],
    held: list[float],
    roof: Floats,
    own: Floats,
    C_D: Floats,
) -> HandHip:
    """Return one hip or valley between its two ends, over its braces."""
    run, slant = line.run, line.length / line.run
    stops = np.array([0.0, *(at * run for at in held), run])
    beams = [
        beam_under_sloping_load(
            stops, q * width[0] + w * slant, q * (width[1] - width[0]) / run
        )
        for q, w in zip(roof, own, strict=True)
    ]
    member = framing.members[key]
    made = member.section
    strength = bending_strength(member.species, member.grade, made, C_D, False)
    moment = np.array([beam.largest_moment for beam in beams])
    jacks = roof * (width[0] + width[1]) / 2 * run
    return HandHip(
        key=key,
        plan_length=run,
        angle=math.atan2(line.rise, run),
        jack_load=jacks,
        total_load=jacks + own * slant * run,
        places=stops / run,
        reactions=np.array([beam.reactions for beam in beams]),
        moment=moment,
        moment_over_brace=np.array(
            [max(0.0, -float(beam.support_moments.min())) for beam in beams]
        ),
        brace_heights=float(line.start[2]) + stops[1:-1] / run * line.rise,
        utilisation=moment / (strength * made.section_modulus),
    )
