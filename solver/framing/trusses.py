"""Webs that make a truss of a rafter pair and the joist beside it.

The rafters are the top chords and the joist from plate to plate the bottom chord. The
webs lie in the plane of the joist: on top of it at their feet, flat against the side of
the rafters at their tops.
"""

from __future__ import annotations

import math

from ..basis.sections import section
from ..brief.braces import purlin_plan
from ..brief.model import Brief, JoistDirection, Purlin
from ..brief.truss_parts import Truss, TrussWebs
from .ceiling_joists import joist_side
from .common_rafters import SIDES, rafter_key, roof_point
from .draft import MAIN, Draft
from .feet import foot_on_joist
from .model import Member, Role
from .plan import TOUCH
from .purlins import PURLIN_LAYER, purlin_key, purlin_side

KING = "K"


def web_key(station: int, place: str) -> str:
    """Return the key of a web: ``K`` for a king post, else the slope of a strut."""
    return f"TW-{station:02d}-{place}"


def web_truss(brief: Brief, web: Member) -> Truss:
    """Return the entry of the brief that a web comes from."""
    assert web.part is not None
    return brief.trusses[web.part]


def truss_stations(draft: Draft, truss: Truss) -> list[int]:
    """Return the rafter pairs that a group makes trusses of, by station."""
    spacing = draft.brief.rafters.spacing
    step = max(1, math.floor(truss.spacing / spacing + 1e-6))
    low = 0.0 if truss.start is None else truss.start
    high = math.inf if truss.end is None else truss.end
    inside = [
        k
        for k, x in enumerate(draft.rafter_stations)
        if low - TOUCH < x < high + TOUCH and _is_pair(draft, k)
    ]
    return inside[::step]


def _is_pair(draft: Draft, k: int) -> bool:
    """Return whether two rafters meet at the peak over a station."""
    run = draft.brief.footprint.width / 2
    keys = [rafter_key(side, k) for side, _ in SIDES]
    if not all(draft.has(key) for key in keys):
        return False
    return all(abs(draft.members[key].end[1] - run) < TOUCH for key in keys)


def add_trusses(draft: Draft) -> None:
    """Add the webs of every truss that the brief states, each pair taken once."""
    joists = draft.brief.ceiling_joists
    if joists is None or joists.direction is not JoistDirection.ACROSS:
        return
    taken: set[int] = set()
    for part, truss in enumerate(draft.brief.trusses):
        for k in truss_stations(draft, truss):
            if k not in taken:
                taken.add(k)
                _add(draft, part, truss, k)


def _add(draft: Draft, part: int, truss: Truss, k: int) -> None:
    """Add the webs of one truss."""
    brief, x = draft.brief, float(draft.rafter_stations[k])
    run = brief.footprint.width / 2
    foot = foot_on_joist(draft, x, run)
    off = abs(foot.point[0] - x)
    reason = foot.fault or (f"no ceiling joist runs at {k}" if off > TOUCH else None)
    point = (x, run, 0.0)
    peak = roof_point(brief, "S", x, run)
    places = [KING]
    if truss.webs is TrussWebs.KING_POST_AND_STRUTS:
        places += [side for side, _ in SIDES]
    for place in places:
        purlin = None if place == KING else _purlin_at(draft, place, x)
        top, layer = peak, MAIN
        if purlin is not None:
            plan, layer = purlin_plan(brief, purlin), PURLIN_LAYER
            top = roof_point(brief, place, x, plan)
        elif place != KING:
            plan = draft.lines.plan[place].settle(run / 2)
            top = roof_point(brief, place, x, plan)
        key = web_key(k, place)
        added = draft.add(
            key,
            Role.WEB,
            point,
            top,
            truss,
            end_layer=layer,
            up=(0.0, 1.0, 0.0) if place == KING else (0.0, 0.0, 1.0),
            axial_only=True,
            slope=None if place == KING else place,
            station=k,
            offset=(_aside(draft, x), 0.0, 0.0),
            group=None if purlin is None else purlin.name,
            part=part,
        )
        if not added:
            continue
        if reason is not None or foot.carrier is None:
            draft.loose(key, point, reason or "no ceiling joist runs there")
            continue
        draft.members[key].stations[0.0] = draft.attach(foot.carrier, point)
        if purlin is not None:
            draft.attach(purlin_key(purlin.name), top, PURLIN_LAYER)
        else:
            side = "S" if place == KING else place
            draft.end_on(key, draft.attach(rafter_key(side, k), top))


def _purlin_at(draft: Draft, side: str, x: float) -> Purlin | None:
    """Return the purlin line of a slope that passes a station."""
    for purlin in draft.brief.purlins:
        key = purlin_key(purlin.name)
        if purlin_side(purlin) != side or not draft.has(key):
            continue
        piece = draft.members[key]
        if piece.start[0] - 1e-6 <= x <= piece.end[0] + 1e-6:
            return purlin
    return None


def _aside(draft: Draft, x: float) -> float:
    """Return how far beside its rafter a web is drawn: in the plane of the joist, m."""
    joists = draft.brief.ceiling_joists
    assert joists is not None
    return section(joists.size).breadth * joist_side(draft, x)
