"""Where members press on each other across the grain, for the bearing check.

Seats on plates and walls are taken at the least length that the code lets stand; a
contact is as long as the piece that crosses it is wide.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..basis.irc.cutting import BEARING_ON_WOOD
from ..checks.bearing import BearingTable
from ..framing.model import Framing, Role, SupportKind
from ..idealise.model import Model

Floats = NDArray[np.float64]


def bearing_table(framing: Framing, model: Model, result: FrameResult) -> BearingTable:
    """Return every place where a counted member bears across the grain."""
    row = {key: n for n, key in enumerate(model.members)}
    push = _node_push(model, result)
    entries: list[tuple[int, float, Floats, float, float, float, float]] = []

    def add(key: str, node: int, force: Floats, length: float, breadth: float) -> None:
        member = framing.members[key]
        start, end = framing.ends(key)
        place = float(np.linalg.norm(framing.points[node] - start))
        whole = float(np.linalg.norm(end - start))
        rise = abs(float(end[2] - start[2])) / whole
        entries.append(
            (
                row[key],
                place,
                force,
                length,
                min(breadth, member.section.total_breadth),
                min(place, whole - place),
                math.pi / 2 - math.asin(min(1.0, rise)),
            )
        )

    for support in framing.supports:
        if support.kind in (SupportKind.SIDEWAYS, SupportKind.STRAPPED):
            continue
        for key in _bending_at(framing, row, support.node):
            down = push.get((support.node, key))
            if down is not None:
                add(key, support.node, down, BEARING_ON_WOOD, math.inf)
    for n, pair in zip(model.contacts, model.contact_links, strict=True):
        contact = framing.contacts[n]
        force = result.link_force[:, pair[0]]
        upper = framing.members[contact.upper]
        lower = framing.members[contact.lower]
        wide, narrow = lower.section.total_breadth, upper.section.total_breadth
        for key in _bending_at(framing, row, contact.upper_node):
            share = push.get((contact.upper_node, key))
            if share is not None:
                add(key, contact.upper_node, share, wide, math.inf)
        add(contact.lower, contact.lower_node, force, narrow, math.inf)
    for strut in framing.of_role(Role.STRUT):
        if strut.key not in row:
            continue
        b, d = strut.section.total_breadth, strut.section.depth
        foot, top = strut.nodes[0], strut.nodes[-1]
        force = push[(foot, strut.key)]
        for key in _bending_at(framing, row, foot):
            add(key, foot, force, b, d)
        for key in _bending_at(framing, row, top):
            add(key, top, -push[(top, strut.key)], d, b)
    for jacks in framing.of_role(Role.JACK_STUD):
        if jacks.key in row:
            top, made = jacks.nodes[0], jacks.section
            for key in _bending_at(framing, row, top):
                force = -push[(top, jacks.key)]
                add(key, top, force, made.total_breadth, made.depth)
    return _table(entries, len(result.combination_names))


def _node_push(model: Model, result: FrameResult) -> dict[tuple[int, str], Floats]:
    """Return (node, member) to the downward push on the node, (ncomb,) N."""
    frame = model.frame
    out: dict[tuple[int, str], Floats] = {}
    down = result.end_force_global[:, :, :, 2]
    for element, nodes in enumerate(frame.ends):
        key = model.members[frame.element_member[element]]
        for end, node in enumerate(nodes):
            place = (int(model.place[node]), key)
            value = down[:, element, end]
            out[place] = out[place] + value if place in out else value
    return out


def _bending_at(framing: Framing, row: dict[str, int], node: int) -> list[str]:
    """Return the bending members of the analysis that have a node."""
    found = framing.by_node.get(node, ())
    return [k for k in found if k in row and not framing.members[k].axial_only]


def _table(
    entries: list[tuple[int, float, Floats, float, float, float, float]], ncomb: int
) -> BearingTable:
    """Return the entries as arrays."""
    columns = list(zip(*entries, strict=True)) or [()] * 7
    return BearingTable(
        member=np.array(columns[0], dtype=np.int64),
        station=np.array(columns[1], dtype=float),
        force=np.array(columns[2], dtype=float).reshape(-1, ncomb).T,
        length=np.array(columns[3], dtype=float),
        breadth=np.array(columns[4], dtype=float),
        end_distance=np.array(columns[5], dtype=float),
        angle=np.array(columns[6], dtype=float),
    )
