"""Every truss by hand: pins, loads by plain tributary, chord bending added apart."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..basis.nds.adjustment import may_be_repetitive
from ..basis.nds.design import NDS
from ..brief.model import Brief
from ..checks.inputs import MemberRow, member_table
from ..checks.members import check_members
from ..framing.model import Framing, Member, Role
from ..framing.trusses import KING, web_key, web_truss
from ..loads.member_loads import MemberLoads
from .pins import PinTruss, pin_forces

Floats = NDArray[np.float64]
SIDES = ("S", "N")
_TOP = ("top", "lower", "upper")


@dataclass(frozen=True, eq=False, kw_only=True)
class HandTruss:
    """One truss by the method of joints.

    Attributes:
        station: of its rafter pair.
        truss: pins and bars; bars are named after chord or web, such as ``S lower``.
        joint_loads: pin to (c,) N.
        forces: bar to (c,) N, tension positive.
        top_load, bottom_load: (c,) N/m on plan, of one chord.
        top_moment, bottom_moment: (c,) N m, w l^2 / 8 of the longest panel.
        use: ``top``, ``bottom``, ``king`` and ``strut`` to (c,) utilisation by the
            worst of the checks of forces; absent where there is no such piece.
        slenderness: largest l_e / d of the webs.
    """

    station: int
    truss: PinTruss
    joint_loads: dict[str, Floats]
    forces: dict[str, Floats]
    top_load: Floats
    bottom_load: Floats
    top_moment: Floats
    bottom_moment: Floats
    use: dict[str, Floats]
    slenderness: float


def hand_trusses(
    brief: Brief,
    framing: Framing,
    loads: MemberLoads,
    factors: Floats,
    C_D: Floats,
) -> tuple[HandTruss, ...]:
    """Return every whole truss by hand, in order along the ridge.

    Source: statics; NDS 2018 3.9 for the chords, 3.7 for the webs. Chord bending is
    that of a simple span of the longest panel.

    Args:
        brief: of the roof.
        framing: of it.
        loads: of it.
        factors: (c, ncase) load combinations.
        C_D: (c,) their load duration factors.
    """
    found = []
    for web in framing.of_role(Role.WEB):
        if web.slope is None and web.station is not None:
            rafters = [f"R-{s}-{web.station:02d}" for s in SIDES]
            if all(key in framing.members for key in rafters):
                found.append(_one(brief, framing, loads, factors, C_D, web))
    return tuple(found)


def _one(
    brief: Brief,
    framing: Framing,
    loads: MemberLoads,
    factors: Floats,
    C_D: Floats,
    king: Member,
) -> HandTruss:
    """Return one truss by hand."""
    station = king.station
    assert station is not None
    truss = _pins(brief, framing, king)
    rafters = [f"R-{side}-{station:02d}" for side in SIDES]
    joist = _chord(framing, king)
    south, north = (_line_load(framing, loads, factors, key) for key in rafters)
    bottom = _line_load(framing, loads, factors, joist.key)
    down = _joint_loads(truss, {"S": south, "N": north}, bottom)
    forces = pin_forces(truss, down)
    panels = [_plan(truss, bar) for bar in truss.bars if bar.split()[-1] in _TOP]
    w_top = np.maximum(np.abs(south), np.abs(north))
    moment = w_top * max(panels) ** 2 / 8
    hung = bottom * _plan(truss, "bottom S") ** 2 / 8
    members = framing.members[rafters[0]], joist, king
    pieces = _uses(brief, truss, forces, (moment, hung), members, C_D)
    return HandTruss(
        station=station,
        truss=truss,
        joint_loads=down,
        forces=forces,
        top_load=w_top,
        bottom_load=bottom,
        top_moment=moment,
        bottom_moment=hung,
        use=pieces[0],
        slenderness=pieces[1],
    )


def _pins(brief: Brief, framing: Framing, king: Member) -> PinTruss:
    """Return pins and bars of the truss of a king post, across the house and up."""
    width, pitch = brief.footprint.width, brief.roof.pitch
    middle = width / 2
    pins = {
        "S": (0.0, 0.0),
        "N": (width, 0.0),
        "foot": (middle, 0.0),
        "peak": (middle, pitch * middle),
    }
    bars = {
        "bottom S": ("S", "foot"),
        "bottom N": ("foot", "N"),
        KING: ("foot", "peak"),
    }
    for side in SIDES:
        strut = framing.members.get(web_key(king.station or 0, side))
        if strut is None:
            bars[f"{side} top"] = (side, "peak")
            continue
        _, y, z = framing.points[strut.nodes[-1]]
        pins[f"{side} panel"] = (float(y), float(z))
        bars[f"{side} lower"] = (side, f"{side} panel")
        bars[f"{side} upper"] = (f"{side} panel", "peak")
        bars[f"{side} strut"] = ("foot", f"{side} panel")
    return PinTruss(pins=pins, bars=bars, seat="S", roller="N")


def _chord(framing: Framing, king: Member) -> Member:
    """Return the joist that a king post stands on."""
    return next(
        framing.members[key]
        for key in framing.by_node[king.nodes[0]]
        if framing.members[key].role is Role.CEILING_JOIST
    )


def _line_load(
    framing: Framing, loads: MemberLoads, factors: Floats, key: str
) -> Floats:
    """Return a member's mean load inside the plates, (c,) N per m on plan, down."""
    total, plan = np.zeros(len(factors)), 0.0
    for n, member in enumerate(loads.member):
        if member != key:
            continue
        ends = framing.points[loads.nodes[n]]
        if ends[:, 2].max() < 1e-6 and ends[:, 2].min() < -1e-6:
            continue  # the tail outside the plate
        span = ends[1] - ends[0]
        total -= factors @ loads.load[:, n, 2] * float(np.linalg.norm(span))
        plan += abs(float(span[1]))
    return total / plan


def _joint_loads(
    truss: PinTruss, top: dict[str, Floats], bottom: Floats
) -> dict[str, Floats]:
    """Return what each pin gets: half of every panel on either side of it."""
    out = {pin: np.zeros_like(bottom) for pin in truss.pins}
    chords = {"bottom": ["S", "foot", "N"]}
    for side in SIDES:
        panel = f"{side} panel"
        chords[side] = [side, *((panel,) if panel in truss.pins else ()), "peak"]
    for chord, pins in chords.items():
        load = bottom if chord == "bottom" else top[chord]
        for a, b in pairwise(pins):
            half = load * abs(truss.pins[b][0] - truss.pins[a][0]) / 2
            out[a] = out[a] + half
            out[b] = out[b] + half
    return out


def _plan(truss: PinTruss, bar: str) -> float:
    """Return the length of a bar on plan, m."""
    a, b = truss.bars[bar]
    return abs(truss.pins[b][0] - truss.pins[a][0])


def _length(truss: PinTruss, bar: str) -> float:
    """Return the length of a bar, m."""
    a, b = (np.array(truss.pins[pin]) for pin in truss.bars[bar])
    return float(np.linalg.norm(b - a))


@dataclass(frozen=True, eq=False)
class _Constant:
    """Forces that are the same along each piece, one element a piece."""

    x: Floats
    N: Floats
    M_strong: Floats
    V_strong: Floats
    M_weak: Floats
    displacement: Floats


def _uses(
    brief: Brief,
    truss: PinTruss,
    forces: dict[str, Floats],
    moments: tuple[Floats, Floats],
    members: tuple[Member, Member, Member],
    C_D: Floats,
) -> tuple[dict[str, Floats], float]:
    """Return the uses of chords and webs, and the largest slenderness of the webs."""
    rafter, joist, king = members
    top_moment, bottom_moment = moments
    rows, N, M = [], [], []
    for side in SIDES:
        for bar in (f"{side} top", f"{side} lower"):
            if bar in forces:
                rows.append(_row("top", rafter, brief, _length(truss, bar), 0.0))
                N.append(forces[bar])
                M.append(top_moment)
    rows.append(_row("bottom", joist, brief, _length(truss, "bottom S"), 0.0))
    N.append(forces["bottom S"])
    M.append(bottom_moment)
    slender = 0.0
    for bar in (KING, "S strut", "N strut"):
        if bar in forces:
            name = "king" if bar == KING else "strut"
            length = _length(truss, bar)
            held = web_truss(brief, king).held_at_mid
            weak = length / 2 if held else length
            rows.append(_row(name, king, brief, length, weak))
            N.append(forces[bar])
            M.append(np.zeros_like(top_moment))
            thin = weak / king.section.breadth, length / king.section.depth
            slender = max(slender, *thin)
    found = _checked(rows, np.array(N).T, np.array(M).T, C_D)
    out: dict[str, Floats] = {}
    for row, use in zip(rows, found.T, strict=True):
        out[row.role] = np.maximum(out.get(row.role, 0.0), use)
    return out, slender


def _row(
    part: str, member: Member, brief: Brief, length: float, weak: float
) -> MemberRow:
    """Return the check row of a chord or web."""
    is_web = part in ("king", "strut")
    joists = brief.ceiling_joists
    spacing = joists.spacing if part == "bottom" and joists else brief.rafters.spacing
    return MemberRow(
        key=part,
        role=part,
        section=member.section,
        species=member.species,
        grade=member.grade,
        length=length,
        is_repetitive=not is_web and may_be_repetitive(spacing, 3),
        unbraced_top=0.0,
        unbraced_bottom=0.0,
        le_strong=length,
        le_weak=weak,
        axial_is_primary=is_web,
    )


def _checked(rows: list[MemberRow], N: Floats, M: Floats, C_D: Floats) -> Floats:
    """Return the worst use of each piece by stress, (c, n); slenderness left out."""
    keyed = [
        MemberRow(**{**row.__dict__, "key": f"{row.key}{n}"})
        for n, row in enumerate(rows)
    ]
    table = member_table(keyed, NDS)
    n = len(rows)
    x = np.tile([0.0, 0.5, 1.0], (n, 1))
    wide = np.repeat(N[:, :, None], 3, axis=2)
    acting = _Constant(
        x, wide, np.repeat(M[:, :, None], 3, axis=2), 0 * wide, 0 * wide,
        np.zeros((*wide.shape, 3)),
    )  # fmt: skip
    names = [f"c{k}" for k in range(len(C_D))]
    result = check_members(table, acting, np.arange(n), names, C_D, NDS)
    worst = np.zeros_like(N)
    for check, found in result.checks.items():
        if "slenderness" not in check.value:
            worst = np.maximum(worst, found.every)
    return worst
