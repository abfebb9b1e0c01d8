"""Where each rafter pair and joist line is held against drifting across the ridge.

Walls and the ceiling hold a house sideways; the model needs one hold for each line so
that thrust must be taken by ties and never by two walls leaning against each other.
The force in each hold is a result and is reported.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..framing.load_path import LoadPath
from ..framing.model import Framing, Role, SupportKind
from ..framing.plan import TOUCH


@dataclass(frozen=True)
class Hold:
    """One sideways hold: node, support owner and member that stands there."""

    node: int
    owner: str
    member: str


def sideways_holds(
    framing: Framing, path: LoadPath, used: NDArray[np.bool_]
) -> list[Hold]:
    """Return one hold for each line across the ridge, and each beam that needs one.

    A joist line is held at the interior wall or beam nearest the middle of the house,
    where it bears on one; where it bears on none, or on two alike, the ceiling holds it
    in the middle, so that neither outer wall is preferred: the house seen in a mirror
    has the same forces. Without joists across it is held at the ridge, for the same
    reason: a pair that its tie or a ridge beam holds together needs no more than that.
    Joists along the ridge are held by the ceiling wherever a strut pushes on them. A
    rafter pair that no tie of its own
    holds gets none: its thrust must go along the plates to the ties. A beam that no
    joist rests on is held by the walls that it crosses and, at its posts, by the
    ceiling.
    """
    leaning = _untied_lines(framing, path)
    lines: dict[float, list[Hold]] = {}
    for hold in [*_on_walls(framing, used), *_laps_on_beams(framing, used)]:
        line = round(float(framing.points[hold.node][0]), 6)
        if line not in leaning:
            lines.setdefault(line, []).append(hold)
    amid = _at_ridge(framing, used) | _amid(framing, used)
    middle = _middle(framing)
    holds = [
        _chosen(framing, found, amid.get(line), middle) for line, found in lines.items()
    ]
    return [*holds, *_along_joists(framing, used), *_beams(framing, used)]


def _on_walls(framing: Framing, used: NDArray[np.bool_]) -> list[Hold]:
    """Return the places where what runs across bears on the south or an inner wall."""
    return [
        Hold(s.node, s.owner, s.member)
        for s in framing.supports
        if used[s.node]
        and s.kind in (SupportKind.BEARING, SupportKind.SEAT)
        and framing.points[s.node][2] == 0.0
        and s.owner not in ("W-WEST", "W-EAST", "W-NORTH")
        and framing.members[s.member].role not in (Role.BEAM, Role.PLATE)
    ]


def _middle(framing: Framing) -> float:
    """Return the middle of the house across the ridge, m."""
    y = framing.points[:, 1]
    return float(y.min(initial=np.inf) + y.max(initial=-np.inf)) / 2 if len(y) else 0.0


def _amid(framing: Framing, used: NDArray[np.bool_]) -> dict[float, Hold]:
    """Return, by line, the joint of its joist in the middle of the house."""
    middle, found = _middle(framing), {}
    for joist in framing.of_role(Role.CEILING_JOIST):
        for node in joist.nodes[1:-1]:
            x, y, _ = framing.points[node]
            if used[node] and abs(y - middle) < TOUCH:
                found[round(float(x), 6)] = Hold(node, "H-CEILING", joist.key)
    return found


def _at_ridge(framing: Framing, used: NDArray[np.bool_]) -> dict[float, Hold]:
    """Return, by line, the joint of its rafters at the ridge."""
    found = {}
    for rafter in framing.of_role(Role.RAFTER):
        node = rafter.nodes[-1]
        if used[node] and rafter.slope in ("S", "N"):
            line = round(float(framing.points[node][0]), 6)
            found[line] = Hold(node, "H-SHEATHING", rafter.key)
    return found


def _chosen(
    framing: Framing, found: list[Hold], amid: Hold | None, middle: float
) -> Hold:
    """Return the hold of a line: the nearest to the middle, or between two as near."""
    inner = [hold for hold in found if hold.owner != "W-SOUTH"]
    if not inner:
        return amid or found[0]

    def away(hold: Hold) -> float:
        return abs(float(framing.points[hold.node][1]) - middle)

    best = min(inner, key=away)
    place = framing.points[best.node][1]
    rival = any(
        away(hold) - away(best) <= TOUCH
        and abs(framing.points[hold.node][1] - place) > TOUCH
        for hold in inner
    )
    return amid if rival and amid is not None else best


def along_holds(framing: Framing, used: NDArray[np.bool_]) -> list[Hold]:
    """Return one hold along the ridge for each side plate of a hip roof.

    It keeps the roof from drifting; were both ends of a plate held, its walls and not
    the plate would take the push of the hips.
    """
    out = []
    for plate in framing.of_role(Role.PLATE):
        nodes = [n for n in plate.nodes if n in framing.free_along and used[n]]
        if framing.form is None or plate.slope not in ("S", "N") or not nodes:
            continue
        x = framing.points[nodes, 0]
        middle = float(x.min() + x.max()) / 2
        nearest = nodes[int(np.abs(x - middle).argmin())]
        owner = "W-SOUTH" if plate.slope == "S" else "W-NORTH"
        out.append(Hold(nearest, owner, plate.key))
    return out


def _laps_on_beams(framing: Framing, used: NDArray[np.bool_]) -> list[Hold]:
    """Return holds by the ceiling where joists across the ridge rest on beams."""
    out = []
    for contact in framing.contacts:
        lower = framing.members[contact.lower]
        if lower.role not in (Role.BEAM, Role.HEADER) or lower.spreads:
            continue
        start, end = framing.ends(contact.upper)
        across = abs(end[1] - start[1]) > abs(end[0] - start[0])
        if across and used[contact.upper_node] and used[contact.lower_node]:
            out.append(Hold(contact.upper_node, "H-CEILING", contact.upper))
    return out


def _untied_lines(framing: Framing, path: LoadPath) -> set[float]:
    """Return the places of rafter pairs that push on each other and have no tie."""
    if framing.of_role(Role.RIDGE_BEAM):
        return set()
    return {round(float(x), 6) for x in framing.rafter_stations[~path.tied]}


def _along_joists(framing: Framing, used: NDArray[np.bool_]) -> list[Hold]:
    """Return holds by the ceiling for joists that run along the ridge."""
    out = []
    for member in framing.of_role(Role.CEILING_JOIST):
        start, end = framing.ends(member.key)
        if abs(end[0] - start[0]) <= abs(end[1] - start[1]):
            continue
        out += [
            Hold(node, "H-CEILING", member.key) for node in member.nodes if used[node]
        ]
    return out


def _beams(framing: Framing, used: NDArray[np.bool_]) -> list[Hold]:
    """Return holds for beams that no joists rest on: by walls, or by the ceiling."""
    held = {
        s.node
        for s in framing.supports
        if s.kind in (SupportKind.FOOT, SupportKind.SIDEWAYS)
    }
    crossed = {c.lower for c in framing.contacts}
    owner = {m.nodes[0]: "H-CEILING" for m in framing.of_role(Role.POST)}
    owner |= {
        s.node: s.owner for s in framing.supports if s.kind is SupportKind.BEARING
    }
    out = []
    for beam in framing.of_role(Role.BEAM):
        if beam.key in crossed:
            continue
        start, end = framing.ends(beam.key)
        free = [n for n in beam.nodes if n in owner and n not in held and used[n]]
        if abs(end[1] - start[1]) > abs(end[0] - start[0]):  # it slides as a whole
            free = [] if held & set(beam.nodes) else free[:1]
        out += [Hold(node, owner[node], beam.key) for node in free]
    return out
