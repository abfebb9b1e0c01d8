"""What holds a drawn plan level: its walls, its ceiling, sheathing at gables.

Holds keep the house from drifting and are placed so that they take no thrust: one along
each plate, one along each line of joists that ties two walls. The force in each is a
result and is reported.
"""

from __future__ import annotations

import numpy as np

from ...form import LineKind
from ..draft import Draft
from ..model import Role, SupportKind
from .joists import JoistLines
from .plan import Hold, OutlinePlan
from .plates import plate_key

_LEVEL = (LineKind.RIDGE, LineKind.BREAK)
CEILING, SHEATHING = "H-CEILING", "H-SHEATHING"


def plan_holds(draft: Draft, plan: OutlinePlan, joists: JoistLines) -> tuple[Hold, ...]:
    """Return every level hold of the plan."""
    out = [
        *_along_plates(draft, plan),
        *_along_joists(draft, joists),
        *_along_ridges(draft, plan),
        *_beams(draft),
    ]
    known: dict[tuple[int, float, float], Hold] = {}
    for hold in out:
        known.setdefault((hold.node, *np.round(np.abs(hold.way), 6)), hold)
    return tuple(known.values())


def _along_plates(draft: Draft, plan: OutlinePlan) -> list[Hold]:
    """Return one hold along each plate, at its joint nearest the middle."""
    out = []
    for edge in plan.edges:
        key = plate_key(edge.name)
        if not draft.has(key):
            continue
        stations = draft.members[key].stations
        middle = min(stations, key=lambda at: abs(at - edge.length / 2))
        way = (float(edge.way[0]), float(edge.way[1]))
        out.append(Hold(stations[middle], way, f"W-{edge.name}", key))
    return out


def _along_joists(draft: Draft, joists: JoistLines) -> list[Hold]:
    """Return the holds of joist lines: sideways by the ceiling, and along once.

    A line from one plate into a mouth gets no hold along: it goes with its plate, and
    what pushes that plate is not held by the ceiling.
    """
    on_plate = {
        node
        for piece in draft.members.values()
        if piece.member.role is Role.PLATE
        for node in piece.stations.values()
    }
    owners = {s.node: s.owner for s in draft.supports if s.kind is SupportKind.BEARING}
    out = []
    for keys, plates in joists.lines:
        pieces = [draft.members[key] for key in keys]
        if not pieces:
            continue
        way = (pieces[0].end - pieces[0].start)[:2]
        way = way / np.hypot(*way)
        nodes = [
            (node, key)
            for key, piece in zip(keys, pieces, strict=True)
            for _, node in sorted(piece.stations.items())
        ]
        inner = [(node, key) for node, key in nodes if node not in on_plate]
        aside = (float(-way[1]), float(way[0]))
        out += [Hold(node, aside, CEILING, key) for node, key in inner]
        if plates == 1:
            continue
        places = [(node, key) for node, key in inner if node in owners]
        node, key = (places or inner or nodes)[len(places or inner or nodes) // 2]
        owner = owners.get(node, CEILING)
        out.append(Hold(node, (float(way[0]), float(way[1])), owner, key, True))
    return out


def _along_ridges(draft: Draft, plan: OutlinePlan) -> list[Hold]:
    """Return a soft hold along each ridge and curb: rafters could swing over on plates.

    Sheathing keeps them from it; no gravity load path runs along a ridge.
    """
    out = []
    for key, number in plan.lines.items():
        line = plan.form.lines[number]
        if line.kind not in _LEVEL or not draft.has(key):
            continue
        stations = draft.members[key].stations
        node = stations[min(stations, key=lambda at: abs(at - line.length / 2))]
        way = (line.end - line.start)[:2] / line.run
        out.append(Hold(node, (float(way[0]), float(way[1])), SHEATHING, key, True))
    return out


def _beams(draft: Draft) -> list[Hold]:
    """Return the holds of beams by the ceiling, both ways at every joint."""
    return [
        Hold(node, way, CEILING, key)
        for key, piece in draft.members.items()
        if piece.member.role is Role.BEAM
        for node in piece.stations.values()
        for way in ((1.0, 0.0), (0.0, 1.0))
    ]
