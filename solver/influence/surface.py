"""Influence over roof and ceiling: for every stretch, and for points along it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import influence
from ..idealise.model import Model
from ..trace.solved import Solved
from .quantity import InfluenceError, Quantity, target_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
UNITS = {
    Quantity.MOMENT: "N m",
    Quantity.SAG: "m",
    Quantity.AXIAL: "N",
    Quantity.REACTION: "N",
}


@dataclass(frozen=True, eq=False, kw_only=True)
class RoofInfluence:
    """What every part of roof and ceiling does to one number.

    One row per stretch (s,): the part of a rafter or ceiling joist between two joints
    that carries a strip of a surface. Loads are downward positive.

    Attributes:
        key: member, or support owner.
        quantity: which number of it.
        unit: of the number: N m, m or N.
        combination: whose loads and contact state hold.
        station: m along the member; 0 for a reaction.
        span: m, start and end of the span that a sag is of, otherwise None.
        value: the number, as the analysis has it.
        member: (s,) keys.
        surface: (s,) names of the surfaces.
        ends: (s, 2, 3) m, the joint line of each stretch.
        width: (s,) m, of the strip.
        area: (s,) m2 on plan.
        per_force: (s,) unit per N, spread evenly along the stretch.
        per_pressure: (s,) unit per Pa on plan over the strip.
        contribution: (s,) what the loads of the combination on each stretch bring.
        elsewhere: what loads on other members bring (their own weight).
        points: (s, K, 3) m, along every stretch.
        point_per_force: (s, K) unit per N at the points.
    """

    key: str
    quantity: Quantity
    unit: str
    combination: str
    station: float
    span: tuple[float, float] | None
    value: float
    member: tuple[str, ...]
    surface: tuple[str, ...]
    ends: Floats
    width: Floats
    area: Floats
    per_force: Floats
    per_pressure: Floats
    contribution: Floats
    elsewhere: float
    points: Floats
    point_per_force: Floats

    @property
    def total(self) -> float:
        """All contributions; ``value`` but for rounding."""
        return float(self.contribution.sum()) + self.elsewhere

    @property
    def share(self) -> Floats:
        """(s,) part of the number that each stretch brings, zero where it is zero."""
        return self.contribution / self.value if self.value else 0 * self.contribution


def influence_of(
    solved: Solved,
    key: str,
    quantity: Quantity,
    combination: str | None = None,
    points: int = 5,
) -> RoofInfluence:
    """Return the influence over the roof and ceiling on one number.

    Args:
        solved: a solved roof.
        key: member, or support owner (``W-...``, ``F-...``) for a reaction.
        quantity: which number.
        combination: its name; left out, the one that makes the number largest.
        points: K, number of points along each stretch, ends included, 2 or more.

    Raises:
        InfluenceError: the roof has no such number or combination.
    """
    names = solved.combinations.names
    if combination is None:
        found = [target_of(solved, key, quantity, row) for row in range(len(names))]
        row = int(np.abs([target.value for target in found]).argmax())
        target = found[row]
    elif combination in names:
        row = names.index(combination)
        target = target_of(solved, key, quantity, row)
    else:
        raise InfluenceError("combination", combination, ", ".join(names))
    model, frame = solved.model, solved.frame
    assert model is not None
    assert frame is not None
    lines = influence(frame, row, [target.functional])
    fraction = np.linspace(0.0, 1.0, points)
    element, stretch = _surface_rows(solved, model)
    ends = model.frame.xyz[model.frame.ends[element]]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    factors = solved.combinations.factors[row]
    load = np.tensordot(factors, model.loads.element_load, 1)
    node_load = np.tensordot(factors, model.loads.node_load, 1)
    brought = (lines.element[0] * load).sum(axis=1)
    per_force = -lines.element[0][element, 2] / length
    loads = solved.loads
    area = loads.plan_area[stretch]
    on_nodes = float((lines.node[0] * node_load).sum())
    return RoofInfluence(
        key=key,
        quantity=quantity,
        unit=UNITS[quantity],
        combination=names[row],
        station=target.station,
        span=target.span,
        value=target.value,
        member=tuple(loads.member[int(n)] for n in stretch),
        surface=tuple(loads.surface[int(n)] for n in stretch),
        ends=ends,
        width=loads.width[stretch],
        area=area,
        per_force=per_force,
        per_pressure=per_force * area,
        contribution=brought[element],
        elsewhere=float(np.delete(brought, element).sum()) + on_nodes,
        points=ends[:, :1] + (ends[:, 1] - ends[:, 0])[:, None] * fraction[:, None],
        point_per_force=-lines.points(fraction)[0][element, :, 2],
    )


def _surface_rows(solved: Solved, model: Model) -> tuple[Ints, Ints]:
    """Return the elements that carry a surface, and their rows of the member loads."""
    carries = np.array([bool(name) for name in solved.loads.surface])
    element = np.flatnonzero(carries[model.stretch])
    return element, model.stretch[element]
