"""Hip rafters, the rafters of all four planes that run up to them, and the ridge.

Each step receives the draft and adds its own members. Hips come first; jacks are
pinned to them where the form's lines meet, and move nothing.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ..basis.sections import section
from ..form import LineKind, RoofLine, RoofPlane
from ..units import INCH
from .common_rafters import rafter_key
from .draft import Draft
from .hip_layout import corner_of, end_pitch, hip_stock, planes_by_side
from .model import Role, SupportKind
from .plan import between
from .planes import RafterLine, lay_rafters
from .roof_snow import plane_snow

Floats = NDArray[np.float64]
OUTER = {"S": "W-SOUTH", "N": "W-NORTH", "W": "W-WEST", "E": "W-EAST"}
RIDGE = "RIDGE"
_FRAMED = (Role.HIP_RAFTER, Role.RIDGE_BOARD, Role.PLATE, Role.STUB_JOIST)
_KERF = INCH / 8


def hip_key(corner: str) -> str:
    """Return the key of the hip at a corner."""
    return f"HP-{corner}"


def jack_key(side: str, station: int) -> str:
    """Return the key of a jack rafter."""
    return f"J-{side}-{station:02d}"


def rafter_at(draft: Draft, side: str, station: int) -> str | None:
    """Return the key of the rafter of either kind that stands at a station."""
    for key in (rafter_key(side, station), jack_key(side, station)):
        if draft.has(key):
            return key
    return None


def height_above_plate(draft: Draft) -> float:
    """Return how far all rafters' drawn tops lie above their joint lines, plumb, m."""
    angle = math.atan(draft.brief.roof.pitch)
    rafters = draft.brief.rafters
    return section(rafters.size).depth / math.cos(angle) - rafters.seat_depth


def add_hips(draft: Draft) -> None:
    """Add the hips from their tails over the corners to the ends of the ridge."""
    layout, stock = draft.hip, hip_stock(draft.brief)
    assert layout is not None
    for line in layout.form.hips:
        corner = corner_of(draft.brief, *line.start[:2])
        key, way = hip_key(corner), line.end - line.start
        tail = line.start - way * _tail_part(draft, way)
        added = draft.add(
            key,
            Role.HIP_RAFTER,
            tail,
            line.end,
            stock,
            up=_square_up(way),
            planar=False,
            offset=(0.0, 0.0, _hip_rise(draft, line)),
        )
        if added:
            node = draft.attach(key, line.start)
            draft.support(node, SupportKind.SEAT, f"W-{corner}", key)


def _tail_part(draft: Draft, way: Floats) -> float:
    """Return the length of a hip's tail as a part of the hip."""
    return draft.brief.roof.overhang / float(np.abs(way[:2]).max())


def _square_up(way: Floats) -> tuple[float, float, float]:
    """Return the unit vector square to a line within its plumb plane."""
    run = float(np.hypot(way[0], way[1]))
    up = np.array([-way[0] * way[2] / run, -way[1] * way[2] / run, run])
    return tuple(float(v) for v in up / np.linalg.norm(up))  # type: ignore[return-value]


def _hip_rise(draft: Draft, line: RoofLine) -> float:
    """Return how far a drawn hip's middle lies above its joint line, plumb.

    The hip is dropped so that both its upper edges lie in or under the planes.
    """
    assert draft.hip is not None
    made = section(hip_stock(draft.brief).size, hip_stock(draft.brief).plies)
    way = (line.end - line.start)[:2]
    aside = np.array([way[1], -way[0]]) / np.hypot(*way)
    planes = [draft.hip.form.planes[n] for n in line.planes]
    drop = max(abs(p.pitch * float(p.uphill @ aside)) for p in planes)
    plumb = made.depth * line.length / line.run
    return height_above_plate(draft) - drop * made.total_breadth / 2 - plumb / 2


def add_plane_rafters(draft: Draft) -> None:
    """Add commons and jacks of every plane, seated on the plates."""
    layout = draft.hip
    assert layout is not None
    snowy = draft.brief.loads.snow is not None
    drifts = plane_snow(draft.brief, layout.form) if snowy else ()
    for side, number in planes_by_side(layout.form).items():
        plane = layout.form.planes[number]
        edge = drifts[number].edge if drifts else None
        if edge is not None and side in draft.lines.plan:
            edge = draft.lines.plan[side].settle(edge)
        for line in lay_rafters(layout.form, plane, layout.marks[side]):
            _add_rafter(draft, side, plane, line, edge)


def _add_rafter(
    draft: Draft, side: str, plane: RoofPlane, line: RafterLine, drift: float | None
) -> None:
    """Add one common or jack, and its joint with the hip that it ends on.

    Args:
        draft: it is added to.
        side: that its plane falls to.
        plane: of the form.
        line: where it runs.
        drift: m on plan from the eave to where drifted snow begins, a joint of its
            own.
    """
    brief = draft.brief
    up = np.array([*plane.uphill, 0.0])
    tail = line.foot - up * brief.roof.overhang
    tail[2] -= plane.pitch * brief.roof.overhang
    make = jack_key if line.is_jack else rafter_key
    depth = section(brief.rafters.size).depth
    rise = height_above_plate(draft) - depth / 2 * math.hypot(1.0, plane.pitch)
    key = make(side, line.station)
    added = draft.add(
        key,
        Role.JACK_RAFTER if line.is_jack else Role.RAFTER,
        tail if brief.roof.overhang > 0 else line.foot,
        line.top,
        brief.rafters,
        up=tuple(float(v) for v in plane.normal),
        slope=side,
        station=line.station,
        offset=(0.0, 0.0, rise),
    )
    if not added:
        return
    node = draft.attach(key, line.foot)
    draft.support(node, SupportKind.SEAT, OUTER[side], key)
    run = float(np.hypot(*(line.top - line.foot)[:2]))
    if drift is not None and between(0.0, drift, run):
        draft.attach(key, line.foot + (line.top - line.foot) * (drift / run))
    for end in line.lines:
        hip = end.kind is LineKind.HIP and hip_key(corner_of(brief, *end.start[:2]))
        if hip and draft.has(hip):
            draft.end_on(key, draft.attach(hip, line.top))


def add_hip_ridge(draft: Draft) -> None:
    """Add the ridge board between the ends of the hips, pushed along by them."""
    brief, layout = draft.brief, draft.hip
    assert layout is not None
    (line,) = layout.form.ridges
    start, end = sorted((line.start, line.end), key=lambda p: float(p[0]))
    depth = section(brief.ridge.size).depth
    added = draft.add(
        RIDGE,
        Role.RIDGE_BOARD,
        start,
        end,
        brief.ridge,
        up=(0.0, 0.0, 1.0),
        axial_only=True,
        offset=(0.0, 0.0, height_above_plate(draft) - depth / 2),
    )
    if not added:
        return
    for piece in list(draft.members.values()):
        if piece.member.role is Role.RAFTER and piece.member.slope in ("S", "N"):
            draft.attach(RIDGE, draft.points[piece.stations[max(piece.stations)]])


def braced_nodes(draft: Draft) -> tuple[frozenset[int], frozenset[int]]:
    """Return nodes free along the ridge, and those braced across it.

    Sheathing braces a rafter square to its own plumb plane. Where framing runs along
    the ridge (end rafters, hips, ridge, plates) nothing but framing holds it that way;
    hips are held by their jacks and their own stiffness alone. Purlins of a hip end are
    held along themselves by the rafters on them; the feet of their struts push along
    the ridge on the walls that they stand on.
    """
    free: set[int] = set()
    across: set[int] = set()
    framed: set[int] = set()
    framed_purlins: set[int] = set()
    feet = {s.node for s in draft.supports if s.kind is SupportKind.FOOT}
    for piece in draft.members.values():
        role, nodes = piece.member.role, set(piece.stations.values())
        if role in _FRAMED:
            framed |= nodes
        elif (
            piece.member.slope in ("W", "E")
            and role
            in (
                Role.RAFTER,
                Role.JACK_RAFTER,
            )
        ) or (piece.member.slope in ("W", "E") and role is Role.PURLIN):
            free |= nodes
            across |= nodes
        elif piece.member.slope in ("W", "E") and role is Role.STRUT:
            free |= {piece.stations[0.0]} & feet
        elif role is Role.PURLIN:
            framed_purlins |= nodes
    across -= framed | framed_purlins
    return frozenset(free | framed), frozenset(across)


def first_clear_joist(draft: Draft, depth: float) -> float:
    """Return how far from an end wall a joist clears what slopes over it, m.

    Args:
        draft: of a hip roof.
        depth: m, of the joists.
    """
    assert draft.hip is not None
    brief, pitch = draft.brief, end_pitch(draft.brief)
    plumb = section(brief.rafters.size).depth * math.hypot(1.0, pitch)
    clear = [(depth - height_above_plate(draft) + plumb) / pitch]
    stock = hip_stock(brief)
    made, line = section(stock.size, stock.plies), draft.hip.form.hips[0]
    way = line.end - line.start
    under = _hip_rise(draft, line) - made.depth / 2 * line.length / line.run
    aside = made.total_breadth / 2 * abs(float(way[1])) / line.run
    clear.append((depth - under) / pitch + aside)
    beside = section(brief.rafters.size).breadth / 2
    return max(0.0, max(clear) - beside - _KERF)
