"""What each joist really takes of the load that a cross-member spreads."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..framing.model import Role
from ..solve import Solution

_PRESSED = 1e-3  # N; less is none


@dataclass(frozen=True, kw_only=True)
class Spread:
    """A cross-member on joists in the combination that brings it most.

    Attributes:
        beam: key of the cross-member.
        combination: its name.
        brought: N, what struts bring to it.
        joists: key of each joist and N that it takes, along the cross-member; below 0
            where the cross-member hangs on to it.
        lifted: keys of joists that it lifts off from.
    """

    beam: str
    combination: str
    brought: float
    joists: tuple[tuple[str, float], ...]
    lifted: tuple[str, ...]

    @property
    def largest_share(self) -> float:
        """Largest part of what struts bring that one joist takes."""
        most = max((force for _, force in self.joists), default=0.0)
        return most / self.brought if self.brought > 0 else 0.0


def spreads(solution: Solution) -> tuple[Spread, ...]:
    """Return how every cross-member that rests on joists spreads its load."""
    if solution.model is None or solution.frame is None:
        return ()
    found = []
    for beam in solution.framing.of_role(Role.BEAM):
        if beam.spreads and beam.key in solution.model.members:
            found += _one(solution, beam.key)
    return tuple(found)


def _one(solution: Solution, key: str) -> list[Spread]:
    """Return how one cross-member spreads, if struts stand on it."""
    framing, model, frame = solution.framing, solution.model, solution.frame
    assert model is not None
    assert frame is not None
    nodes = set(framing.members[key].nodes)
    down = np.zeros(len(solution.combinations.names))
    for strut in framing.of_role(Role.STRUT):
        if strut.nodes[0] in nodes and strut.key in model.members:
            first = model.rows_of(strut.key).start
            down = down + frame.end_force_global[:, first, 0, 2]
    if not down.any():
        return []
    row = int(np.argmax(down))
    taken: list[tuple[str, float]] = []
    for n, contact in enumerate(model.contacts):
        at = framing.contacts[contact]
        if at.upper == key:
            link = int(model.contact_links[n][0])
            taken.append((at.lower, float(frame.link_force[row, link])))
    return [
        Spread(
            beam=key,
            combination=solution.combinations.names[row],
            brought=float(down[row]),
            joists=tuple(taken),
            lifted=tuple(joist for joist, force in taken if abs(force) < _PRESSED),
        )
    ]
