"""The number that is influenced: a moment, sag, axial force or reaction, and where."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from ..analysis import (
    Force,
    FrameResult,
    Functional,
    SupportGroup,
    station_displacement,
    station_force,
)
from ..analysis.influence import support_functional
from ..errors import FieldError
from ..framing.spans import Span
from ..idealise.model import Model
from ..trace.solved import Solved
from ..verdict.judge import Checked

UP = np.array([0.0, 0.0, 1.0])


class InfluenceError(FieldError):
    """A member, support or combination of which there is no such number."""


class Quantity(StrEnum):
    """What is influenced."""

    MOMENT = "moment"  # N m, sagging positive, at its worst station
    SAG = "sag"  # m, immediate, from the chord of its span, down positive
    AXIAL = "axial"  # N, tension positive, where it is largest
    REACTION = "reaction"  # N, of a support owner, upward positive


@dataclass(frozen=True, eq=False, kw_only=True)
class Target:
    """One number of a solved roof, and the functional that gives it.

    Attributes:
        functional: in the contact state of the combination.
        value: as the analysis has it, in SI units.
        station: m from the start of the member; 0 for a reaction.
        span: m, start and end of the span that a sag is of, otherwise None.
    """

    functional: Functional
    value: float
    station: float
    span: tuple[float, float] | None = None


def target_of(solved: Solved, key: str, quantity: Quantity, row: int) -> Target:
    """Return the number and its functional.

    Args:
        solved: an analysed roof.
        key: member, or support owner for a reaction.
        quantity: which number.
        row: of the combination.

    Raises:
        InfluenceError: the roof has no such number.
    """
    model, frame, checked = solved.model, solved.frame, solved.checked
    if model is None or frame is None or checked is None:
        raise InfluenceError("key", key, "a member of a roof that can be analysed")
    if quantity is Quantity.REACTION:
        return _reaction(model, frame, key, row)
    if key not in model.members:
        raise InfluenceError("key", key, "a member that the analysis counts")
    if quantity is Quantity.SAG:
        return _sag(model, frame, checked, key, row)
    return _force(model, frame, checked, key, quantity, row)


def _force(
    model: Model,
    frame: FrameResult,
    checked: Checked,
    key: str,
    quantity: Quantity,
    row: int,
) -> Target:
    """Return the moment or axial force of largest size along a member."""
    rows, stations = model.rows_of(key), checked.stations
    moment = quantity is Quantity.MOMENT
    values = (stations.M_strong if moment else stations.N)[row, rows]
    element, k = np.unravel_index(np.abs(values).argmax(), values.shape)
    at, x = rows.start + int(element), float(stations.x[rows.start + element, k])
    force = Force.M_STRONG if moment else Force.N
    return Target(
        functional=station_force(frame, row, force, at, x),
        value=float(values[element, k]),
        station=float(model.start[at]) + x,
    )


def _sag(
    model: Model, frame: FrameResult, checked: Checked, key: str, row: int
) -> Target:
    """Return the largest sag of any span of a member, from the span's chord."""
    rows, table = model.rows_of(key), checked.sags.table
    own = [n for n, span in enumerate(checked.spans) if span.member == key]
    if not own:
        raise InfluenceError("key", key, "a member that bends between supports")
    x = (model.start[rows, None] + checked.stations.x[rows]).ravel()
    up = table.direction[own[0]]
    down = -(checked.stations.displacement[row, rows] @ up).ravel()
    found: list[tuple[float, float, Span]] = []
    for n in own:
        span = checked.spans[n]
        ends = [float(down[np.abs(x - p).argmin()]) for p in (span.start, span.end)]
        along = (x - span.start) / span.length
        sag = down - ends[0] - (ends[1] - ends[0]) * along
        sag[(along < 0) | (along > 1)] = 0.0
        worst = int(np.abs(sag).argmax())
        found.append((float(sag[worst]), float(x[worst]), span))
    value, station, span = max(found, key=lambda one: abs(one[0]))
    part = (station - span.start) / span.length
    functional = _down(model, frame, key, row, station, up)
    for place, share in ((span.start, 1 - part), (span.end, part)):
        functional += _down(model, frame, key, row, place, up).times(-share)
    return Target(
        functional=functional,
        value=value,
        station=station,
        span=(span.start, span.end),
    )


def _down(
    model: Model,
    frame: FrameResult,
    key: str,
    row: int,
    station: float,
    up: NDArray[np.float64],
) -> Functional:
    """Return the functional of the displacement against the depth at a station."""
    rows = model.rows_of(key)
    starts = model.start[rows]
    n = int(np.searchsorted(starts, station + 1e-9, side="right")) - 1
    element = rows.start + max(n, 0)
    x = max(station - float(model.start[element]), 0.0)
    x = min(x, float(frame.system.elements.L[element]))
    return station_displacement(frame, row, element, x, -up)


def _reaction(model: Model, frame: FrameResult, owner: str, row: int) -> Target:
    """Return what a support owner gives upward."""
    rows = [r for r in model.ground if r.owner == owner and r.direction == 2]
    if not rows:
        raise InfluenceError("key", owner, "a support that holds something up")
    nodes = [r.node for r in rows if r.link < 0]
    links = [r.link for r in rows if r.link >= 0]
    group = SupportGroup(
        owner, np.array(nodes, dtype=np.int64), np.array(links, dtype=np.int64)
    )
    value = frame.reaction[row, nodes, 2].sum() + frame.link_force[row, links].sum()
    taken = support_functional(frame, row, group, UP)
    return Target(functional=taken.times(-1.0), value=float(value), station=0.0)
