"""What holds a gambrel's breaks: knee walls under the curbs, ties from break to break.

Source: common practice throughout; IRC R802 has no section on gambrels.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ...basis.sections import section
from ...brief.gambrel import Gambrel
from ...brief.model import Stock
from ...brief.outline import upper_slopes
from ..draft import Draft
from ..model import Role
from ..plan import TOUCH
from .lines import top_above_plate

Floats = NDArray[np.float64]
_UNDER = 3 * TOUCH  # a joist this near a rafter on plan lies under its end


def hold_breaks(draft: Draft) -> None:
    """Add the knee-wall studs and the ties that the brief states."""
    gambrel = upper_slopes(draft.brief)
    if gambrel is None:
        return
    stock = Stock(size=gambrel.piece_size, species=gambrel.species, grade=gambrel.grade)
    ends = _ends_on_curbs(draft)
    if gambrel.knee_walls:
        _add_studs(draft, gambrel, stock, ends)
    if gambrel.ties:
        _add_ties(draft, stock, ends)


def _ends_on_curbs(draft: Draft) -> dict[int, tuple[str, Floats]]:
    """Return the joints where rafters from a plate end on a curb.

    Returns:
        By node, the key of the rafter and its unit plan direction up the slope.
    """
    on_curbs = {
        node
        for piece in draft.members.values()
        if piece.member.role is Role.CURB
        for node in piece.stations.values()
    }
    out: dict[int, tuple[str, Floats]] = {}
    for key, piece in draft.members.items():
        last = piece.stations[max(piece.stations)]
        if piece.member.role is Role.RAFTER and last in on_curbs:
            way = (piece.end - piece.start)[:2]
            out.setdefault(last, (key, way / np.hypot(*way)))
    return out


def _add_studs(
    draft: Draft,
    gambrel: Gambrel,
    stock: Stock,
    ends: dict[int, tuple[str, Floats]],
) -> None:
    """Stand a stud under every joint of a curb that a ceiling joist passes under."""
    drop = top_above_plate(draft.brief) - section(gambrel.size).depth
    for node, (rafter, way) in ends.items():
        top = np.array(draft.points[node])
        joist = _joist_under(draft, top)
        if joist is None:
            continue
        piece = draft.members[joist]
        run = piece.end - piece.start
        part = float((top - piece.start) @ run / (run @ run))
        foot = draft.attach(joist, piece.start + part * run)
        aside = np.array(piece.member.offset) * (1.0, 1.0, 0.0)
        key = f"KS-{rafter.removeprefix('R-')}"
        added = draft.add(
            key, Role.KNEE_STUD, top, draft.points[foot], stock,
            up=(float(way[0]), float(way[1]), 0.0), axial_only=True,
            offset=(float(aside[0]), float(aside[1]), drop),
        )  # fmt: skip
        if added and foot != draft.node(draft.points[foot]):
            draft.end_on(key, foot)


def _joist_under(draft: Draft, top: Floats) -> str | None:
    """Return the ceiling joist that passes under a point, None where none does."""
    best: tuple[float, str] | None = None
    for key, piece in draft.members.items():
        if piece.member.role is not Role.CEILING_JOIST:
            continue
        run, gap = (piece.end - piece.start)[:2], (top - piece.start)[:2]
        length = float(np.hypot(*run))
        along = float(gap @ run) / length
        aside = abs(float(run[0] * gap[1] - run[1] * gap[0])) / length
        within = -TOUCH < along < length + TOUCH
        if within and aside <= _UNDER and (best is None or aside < best[0]):
            best = (aside, key)
    return None if best is None else best[1]


def _add_ties(draft: Draft, stock: Stock, ends: dict[int, tuple[str, Floats]]) -> None:
    """Tie every two joints of curbs that face each other over a rafter pair."""
    done: set[int] = set()
    for node, (rafter, way) in ends.items():
        if node in done:
            continue
        here = np.array(draft.points[node])
        other = _facing(draft, ends, here, way)
        if other is None:
            continue
        done |= {node, other}
        offset = -_beside(draft, here, way) * section(draft.brief.rafters.size).breadth
        draft.add(
            f"CT-{rafter.removeprefix('R-')}", Role.COLLAR_TIE, here,
            draft.points[other], stock, up=(0.0, 0.0, 1.0), axial_only=True,
            offset=(float(offset[0]), float(offset[1]), -section(stock.size).depth),
        )  # fmt: skip


def _beside(draft: Draft, here: Floats, way: Floats) -> Floats:
    """Return the unit plan vector to the side of a rafter where its joist lies."""
    aside, joist = np.array([way[1], -way[0]]), _joist_under(draft, here)
    if joist is None:
        return aside
    side = float(aside @ np.array(draft.members[joist].member.offset)[:2])
    return aside if side >= 0 else -aside


def _facing(
    draft: Draft, ends: dict[int, tuple[str, Floats]], here: Floats, way: Floats
) -> int | None:
    """Return the joint of a curb straight across from another, at its height."""
    for node, (_, back) in ends.items():
        gap = np.array(draft.points[node]) - here
        level = abs(float(gap[2])) < TOUCH < float(np.hypot(*gap[:2]))
        opposed = math.isclose(float(way @ back), -1.0, abs_tol=1e-6)
        aside = abs(float(gap[0] * way[1] - gap[1] * way[0]))
        if level and opposed and aside < TOUCH:
            return node
    return None
