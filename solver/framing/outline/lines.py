"""Hips, valleys and ridges over a drawn outline, and joints upon them."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
from numpy.typing import NDArray

from ...basis.sections import section
from ...brief.model import Brief, RidgeKind
from ...brief.outline import flattest_at_plate
from ...form import LineKind, RoofLine
from ..draft import Draft
from ..hip_layout import hip_stock
from ..model import Role, SupportKind
from ..plan import TOUCH
from .plan import OutlinePlan
from .supporting import Extension

Floats = NDArray[np.float64]
ROLES = {
    LineKind.HIP: Role.HIP_RAFTER,
    LineKind.VALLEY: Role.VALLEY_RAFTER,
    LineKind.RIDGE: Role.RIDGE_BOARD,
    LineKind.BREAK: Role.CURB,
    LineKind.ABUTMENT: Role.LEDGER,
}
_STEMS = {LineKind.HIP: "HP", LineKind.VALLEY: "VL"}
_LEVEL = 1e-9


def top_above_plate(brief: Brief) -> float:
    """Return how far the drawn tops of all planes lie above their joint lines, m.

    Over the flattest pitch the seat is as deep as stated; over the others it is
    deeper, so that all tops start at one height.
    """
    depth = section(brief.rafters.size).depth
    return depth * math.hypot(1.0, flattest_at_plate(brief)) - brief.rafters.seat_depth


def line_keys(plan: OutlinePlan) -> dict[str, int]:
    """Return the member key of each hip, valley and ridge to its line of the form.

    A hip or valley has the number of the corner that it rises from; those that start
    within the roof count on from the corners.
    """
    form = plan.form
    names = {tuple(np.round(e.start, 9)): int(e.corners[0][1:]) for e in plan.edges}
    count = len(form.outline.polygon)
    order = sorted(
        (n for n, line in enumerate(form.lines) if line.kind in ROLES),
        key=lambda n: tuple(np.round(form.lines[n].start, 6) + 0.0),
    )
    out: dict[str, int] = {}
    ridge, curb, ledger, inner = 0, 0, 0, count
    for n in order:
        line = form.lines[n]
        if line.kind is LineKind.RIDGE:
            ridge += 1
            out[f"RIDGE-{ridge}"] = n
            continue
        if line.kind is LineKind.BREAK:
            curb += 1
            out[f"CURB-{curb}"] = n
            continue
        if line.kind is LineKind.ABUTMENT:
            ledger += 1
            out[f"LEDGER-{ledger}"] = n
            continue
        number = names.get(tuple(np.round(line.start[:2], 9)))
        if number is None or line.start_node >= count:
            inner += 1
            number = inner
        out[f"{_STEMS[line.kind]}-{number}"] = n
    return dict(sorted(out.items(), key=lambda entry: entry[1]))


def square_up(way: Floats) -> tuple[float, float, float]:
    """Return the unit vector square to a line within its plumb plane."""
    run = float(np.hypot(way[0], way[1]))
    up = np.array([-way[0] * way[2] / run, -way[1] * way[2] / run, run])
    return tuple(float(v) for v in up / np.linalg.norm(up))  # type: ignore[return-value]


def add_lines(draft: Draft, plan: OutlinePlan) -> None:
    """Add hips and valleys with their tails, and the ridge boards."""
    onward = {extension.line: extension for extension in plan.extensions}
    order = sorted(plan.lines.items(), key=lambda entry: entry[1] in onward)
    for key, number in order:
        line = plan.form.lines[number]
        if line.kind is LineKind.RIDGE:
            _add_ridge(draft, plan, key, line)
        elif line.kind is LineKind.BREAK:
            _add_curb(draft, key, line)
        elif line.kind is LineKind.ABUTMENT:
            _add_ledger(draft, plan, key, line)
        else:
            _add_sloping(draft, plan, key, line, onward.get(number))


def _add_sloping(
    draft: Draft,
    plan: OutlinePlan,
    key: str,
    line: RoofLine,
    onward: Extension | None,
) -> None:
    """Add one hip or valley, a supporting valley up to what it ends on."""
    way = line.end - line.start
    at_corner = line.start_node < len(plan.form.outline.polygon)
    over = draft.brief.roof.overhang if at_corner else 0.0
    end = line.end if onward is None else onward.end
    head = None
    if onward is not None:
        onto = next(k for k, n in plan.lines.items() if n == onward.onto)
        if draft.has(onto):
            head = join(draft, onto, onward.end)
            end = np.array(draft.points[head])
    added = draft.add(
        key,
        ROLES[line.kind],
        line.start - way * _tail_part(plan, line, over),
        end,
        hip_stock(draft.brief),
        up=square_up(way),
        planar=False,
        offset=(0.0, 0.0, line_rise(draft.brief, plan, line)),
    )
    if added and onward is not None:
        draft.attach(key, line.end)
    if added and head is not None:
        draft.end_on(key, head)
    if added and at_corner:
        node = draft.attach(key, line.start)
        draft.support(node, SupportKind.SEAT, f"W-{corner_name(plan, line)}", key)


def corner_name(plan: OutlinePlan, line: RoofLine) -> str:
    """Return the name of the corner that a hip or valley rises from."""
    gaps = [float(np.hypot(*(e.start - line.start[:2]))) for e in plan.edges]
    return plan.edges[int(np.argmin(gaps))].corners[0]


def _tail_part(plan: OutlinePlan, line: RoofLine, over: float) -> float:
    """Return the length of a tail as a part of its hip or valley."""
    if over <= 0:
        return 0.0
    way = (line.end - line.start)[:2]
    ups = [float(way @ plan.form.planes[n].uphill) for n in line.planes]
    return over / max(ups)


def line_rise(brief: Brief, plan: OutlinePlan, line: RoofLine) -> float:
    """Return how far the middle of a drawn hip or valley lies above its joint line.

    A hip is dropped so that both its upper edges lie in or under the planes; the planes
    rise away from a valley, so that its edges do.
    """
    stock = hip_stock(brief)
    made = section(stock.size, stock.plies)
    way = (line.end - line.start)[:2]
    aside = np.array([way[1], -way[0]]) / np.hypot(*way)
    planes = [plan.form.planes[n] for n in line.planes]
    falls = [abs(p.pitch * float(p.uphill @ aside)) for p in planes]
    drop = max(falls) if line.kind is LineKind.HIP else 0.0
    plumb = made.depth * line.length / line.run
    return top_above_plate(brief) - drop * made.total_breadth / 2 - plumb / 2


def _add_ridge(draft: Draft, plan: OutlinePlan, key: str, line: RoofLine) -> None:
    """Add one ridge board."""
    way = line.end - line.start
    up = (0.0, 0.0, 1.0) if abs(way[2]) < _LEVEL else square_up(way)
    depth = section(draft.brief.ridge.size).depth * line.length / line.run
    is_beam = draft.brief.ridge.kind is RidgeKind.BEAM
    added = draft.add(
        key,
        Role.RIDGE_BEAM if is_beam else Role.RIDGE_BOARD,
        line.start,
        line.end,
        draft.brief.ridge,
        up=up,
        axial_only=not is_beam,
        planar=not is_beam,
        offset=(0.0, 0.0, top_above_plate(draft.brief) - depth / 2),
    )
    if added and is_beam:
        _rest_on_gables(draft, plan, key, line)


def _add_curb(draft: Draft, key: str, line: RoofLine) -> None:
    """Add the curb at a break of the slope: on edge between the two rows of rafters.

    Source: common practice. It bends between what holds it, as a purlin does.
    """
    stock = draft.brief.roof.gambrel
    assert stock is not None
    depth = section(stock.size).depth
    draft.add(
        key,
        Role.CURB,
        line.start,
        line.end,
        stock,
        up=(0.0, 0.0, 1.0),
        planar=False,
        offset=(0.0, 0.0, top_above_plate(draft.brief) - depth / 2),
    )


def _add_ledger(draft: Draft, plan: OutlinePlan, key: str, line: RoofLine) -> None:
    """Add the ledger of a Dutch gable: across the faces of the pair under the gable.

    Source: common practice. Of the hips' lumber; the rafters of the hip end bear on
    it, and it hangs on the two rafters that it crosses.
    """
    stock = hip_stock(draft.brief)
    made, rafter = section(stock.size, stock.plies), section(draft.brief.rafters.size)
    plane = plan.form.planes[line.planes[0]]
    breadth = rafter.breadth * draft.brief.rafters.plies
    out = (breadth + made.total_breadth) / 2
    drop = plane.pitch * (out + made.total_breadth / 2)
    aside = -plane.uphill * out
    rise = top_above_plate(draft.brief) - drop - made.depth / 2
    draft.add(
        key,
        Role.LEDGER,
        line.start,
        line.end,
        stock,
        up=(0.0, 0.0, 1.0),
        planar=False,
        offset=(float(aside[0]), float(aside[1]), rise),
    )


def _rest_on_gables(draft: Draft, plan: OutlinePlan, key: str, line: RoofLine) -> None:
    """Let the ends of a ridge beam that lie over a gable wall bear on it."""
    for end in (line.start, line.end):
        for edge in plan.edges:
            gap = end[:2] - edge.start
            on = -TOUCH < float(gap @ edge.way) < edge.length + TOUCH
            if edge.is_gable and on and abs(float(gap @ edge.outward)) < TOUCH:
                node = draft.attach(key, end)
                draft.support(node, SupportKind.FOOT, f"W-{edge.name}", key)


def join(draft: Draft, key: str, point: Floats, layer: str = "main") -> int:
    """Return the node of a member nearest to a point within an inch, or a new one.

    Two joints nearer than that on one stick are the same joint to a framer.
    """
    piece = draft.members[key]
    way = piece.end - piece.start
    length = float(np.linalg.norm(way))
    station = float(np.clip((point - piece.start) @ way / length, 0.0, length))
    known = min(piece.stations, key=lambda at: abs(at - station))
    if abs(known - station) < TOUCH - 1e-9:
        return piece.stations[known]
    return draft.attach(key, piece.start + way * (station / length), layer)


def stiffen_ridges(draft: Draft, plan: OutlinePlan) -> None:
    """Let a ridge board bend where rafters do not meet on it in pairs.

    Between pairs it only keeps rafters apart, and its bending carries nothing.
    """
    for key in plan.lines:
        piece = draft.members.get(key)
        if piece is None or piece.member.role is not Role.RIDGE_BOARD:
            continue
        piece = draft.members[key]
        tops: dict[int, set[str | None]] = {}
        for other in draft.members.values():
            if other.member.role in (Role.RAFTER, Role.JACK_RAFTER):
                last = other.stations[max(other.stations)]
                tops.setdefault(last, set()).add(other.member.slope)
        inner = [n for at, n in sorted(piece.stations.items())][1:-1]
        if any(len(tops.get(node, ())) < 2 for node in inner):
            piece.member = dataclasses.replace(
                piece.member, axial_only=False, planar=False
            )
