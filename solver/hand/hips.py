"""Hips by hand: sloping beams under the triangle of load that their jacks bring.

Vertical load alone: half of every jack of both planes, hips held at corner, braces and
ridge end, jacks simply supported from plate to hip. What the hips' push against each
other could carry is not counted on; the frame analysis says what it does.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..brief.hips import hip_inset
from ..brief.model import Brief
from ..framing.hip_layout import CORNERS
from ..framing.hips import hip_key
from ..framing.model import Framing, Member, Role
from ..framing.struts import is_held_at_mid, is_hip_brace, strut_group
from .sloping_load import beam_under_sloping_load
from .strength import bending_strength, strut_capacity

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False, kw_only=True)
class HandHip:
    """A hip by hand, per combination.

    Attributes:
        key: member key.
        plan_length: m, corner to ridge end.
        angle: rad from level.
        jack_load: (c,) N, from the jacks of both planes.
        total_load: (c,) N, with its own weight.
        places: (k,) supports from the corner, as parts of the plan length.
        reactions: (c, k) N, corner, braces, ridge end.
        moment: (c,) N m, largest of either sign.
        moment_over_brace: (c,) N m, hogging, 0 without a brace.
        brace_heights: (k-2,) m, hip line above the ceiling.
        utilisation: (c,) bending.
    """

    key: str
    plan_length: float
    angle: float
    jack_load: Floats
    total_load: Floats
    places: Floats
    reactions: Floats
    moment: Floats
    moment_over_brace: Floats
    brace_heights: Floats
    utilisation: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class HandPeak:
    """What comes together at a ridge end by hand.

    Attributes:
        hips: keys of the hips that meet there.
        end_common: (c,) N, from the king common of the hip end.
        load: (c,) N, of two hips and the king common; side commons lean on each other
            over their tie and add nothing.
        brace: key of the post that takes it, or None.
    """

    hips: tuple[str, ...]
    end_common: Floats
    load: Floats
    brace: str | None


@dataclass(frozen=True, eq=False, kw_only=True)
class HandHipBrace:
    """A brace under a hip or a ridge end by hand.

    Attributes:
        vertical, axial: (c,) N.
        capacity: (c,) N.
        utilisation: (c,) axial over capacity.
        slenderness: le/d.
    """

    vertical: Floats
    axial: Floats
    capacity: Floats
    utilisation: Floats
    slenderness: float


@dataclass(frozen=True, eq=False, kw_only=True)
class HandHips:
    """All hips of a roof by hand; empty over a gable.

    Attributes:
        roof_load: (c,) Pa on plan.
        hips, peaks, braces: by key; peaks by ``W`` and ``E``.
    """

    roof_load: Floats
    hips: Mapping[str, HandHip]
    peaks: Mapping[str, HandPeak]
    braces: Mapping[str, HandHipBrace]


def hand_hips(
    brief: Brief, framing: Framing, roof: Floats, own: Mapping[str, Floats], C_D: Floats
) -> HandHips:
    """Return the hips of a roof by hand.

    Source: statics of ``sloping_load``; NDS 2018 Table 4.3.1 for the strength with C_r
    of 1 and C_L of 1.

    Args:
        brief: of the roof.
        framing: of the roof.
        roof: (c,) Pa on plan, of each combination.
        own: member key to (c,) N/m, its own weight along it.
        C_D: (c,) load duration factors.
    """
    if framing.form is None:
        return HandHips(roof_load=roof, hips={}, peaks={}, braces={})
    braces = {m.key: m for m in framing.of_role(Role.STRUT) if is_hip_brace(m)}
    hips, taken = {}, {}
    for corner in CORNERS:
        key = hip_key(corner)
        if key in framing.members:
            under = [m for m in braces.values() if m.group == key and not _at_ridge(m)]
            hips[key] = _hip(brief, framing, key, under, roof, own[key], C_D)
            for n, brace in enumerate(under, start=1):
                taken[brace.key] = hips[key].reactions[:, n]
    peaks = _peaks(brief, hips, braces, roof)
    taken |= {p.brace: p.load for p in peaks.values() if p.brace is not None}
    return HandHips(
        roof_load=roof,
        hips=hips,
        peaks=peaks,
        braces={
            key: hand_brace(brief, framing, braces[key], force, C_D)
            for key, force in sorted(taken.items())
        },
    )


def _at_ridge(brace: Member) -> bool:
    """Return whether a brace stands under a ridge end."""
    return brace.key.split("-")[1] in ("W", "E")


def _hip(
    brief: Brief,
    framing: Framing,
    key: str,
    under: list[Member],
    roof: Floats,
    own: Floats,
    C_D: Floats,
) -> HandHip:
    """Return one hip with the braces that stand under it."""
    inset, half = hip_inset(brief), brief.footprint.width / 2
    rise, run = half * brief.roof.pitch, math.hypot(inset, half)
    slant = math.hypot(rise, run) / run
    ends = framing.ends(key)
    tops = sorted(
        float(np.hypot(*(framing.ends(m.key)[1] - ends[1])[:2])) for m in under
    )
    stops = np.array([0.0, *sorted(run - t for t in tops), run])
    jacks = roof * inset * half / 2
    beams = [
        beam_under_sloping_load(stops, weight * slant, 2 * load / run**2)
        for load, weight in zip(jacks, own, strict=True)
    ]
    member = framing.members[key]
    made = member.section
    strength = bending_strength(member.species, member.grade, made, C_D, False)
    moment = np.array([beam.largest_moment for beam in beams])
    return HandHip(
        key=key,
        plan_length=run,
        angle=math.atan2(rise, run),
        jack_load=jacks,
        total_load=jacks + own * slant * run,
        places=stops / run,
        reactions=np.array([beam.reactions for beam in beams]),
        moment=moment,
        moment_over_brace=np.array(
            [max(0.0, -float(beam.support_moments.min())) for beam in beams]
        ),
        brace_heights=stops[1:-1] / run * rise,
        utilisation=moment / (strength * made.section_modulus),
    )


def _peaks(
    brief: Brief,
    hips: Mapping[str, HandHip],
    braces: Mapping[str, Member],
    roof: Floats,
) -> dict[str, HandPeak]:
    """Return both ridge ends."""
    common = roof * brief.rafters.spacing * hip_inset(brief) / 2
    out = {}
    for end in "WE":
        keys = tuple(key for key in hips if key.endswith(end))
        post = next((k for k in braces if k.startswith(f"HB-{end}-")), None)
        out[end] = HandPeak(
            hips=keys,
            end_common=common,
            load=common + sum(hips[key].reactions[:, -1] for key in keys),
            brace=post,
        )
    return out


def hand_brace(
    brief: Brief, framing: Framing, brace: Member, force: Floats, C_D: Floats
) -> HandHipBrace:
    """Return one brace under the load that it takes."""
    foot, top = framing.ends(brace.key)
    length, height = framing.length(brace.key), float(top[2] - foot[2])
    group = strut_group(brief, brace)
    capacity, slenderness, _ = strut_capacity(
        brace.species, brace.grade, brace.section, length, C_D,
        is_held_at_mid(brief, brace), group.stiffener,
    )  # fmt: skip
    axial = force * length / height
    return HandHipBrace(
        vertical=force,
        axial=axial,
        capacity=capacity,
        utilisation=axial / capacity,
        slenderness=slenderness,
    )
