"""What each joist really takes of the load that a cross-member spreads."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..framing.model import Role
from ..solve import Solution

_PRESSED = 1e-3  # N; less is none


@dataclass(frozen=True, kw_only=True)
class Spread:
    """A cross-member on or under joists in the combination that brings it most.

    Attributes:
        beam: key of the cross-member.
        combination: its name.
        brought: N, what struts bring to it, or to the joists where they cross it.
        joists: key of each joist and N that it takes, along the cross-member; below 0
            where the cross-member hangs on to it.
        lifted: keys of joists that it lifts off from.
        pull: N, what the bolt holds that has most to hold, of one under the joists.
    """

    beam: str
    combination: str
    brought: float
    joists: tuple[tuple[str, float], ...]
    lifted: tuple[str, ...]
    pull: float = 0.0

    @property
    def largest_share(self) -> float:
        """Largest part of what struts bring that one joist takes."""
        most = max((force for _, force in self.joists), default=0.0)
        return most / self.brought if self.brought > 0 else 0.0


def spreads(solution: Solution) -> tuple[Spread, ...]:
    """Return how every cross-member that joists alone hold spreads its load."""
    if solution.model is None or solution.frame is None:
        return ()
    found = []
    for beam in solution.framing.of_role(Role.BEAM):
        if beam.spreads and beam.key in solution.model.members:
            found += _one(solution, beam.key)
    return tuple(found)


def _one(solution: Solution, key: str) -> list[Spread]:
    """Return how one cross-member spreads, if struts stand on it or over it."""
    framing, model, frame = solution.framing, solution.model, solution.frame
    assert model is not None
    assert frame is not None
    touching = [
        (framing.contacts[contact], int(model.contact_links[n][0]))
        for n, contact in enumerate(model.contacts)
        if key in (framing.contacts[contact].upper, framing.contacts[contact].lower)
    ]
    above = {c.lower: link for c, link in touching if c.upper == key}
    below = {c.upper: link for c, link in touching if c.lower == key}
    on_beam = _down(solution, set(framing.members[key].nodes))
    over = {c.upper: _down(solution, {c.upper_node}) for c, _ in touching}
    down = on_beam + sum(over[joist] for joist in below)
    if not down.any():
        return []
    row = int(np.argmax(down))
    pressed = frame.link_force[row]
    taken = [(joist, float(pressed[link])) for joist, link in above.items()]
    taken += [
        (joist, float(over[joist][row] - pressed[link]))
        for joist, link in below.items()
    ]
    return [
        Spread(
            beam=key,
            combination=solution.combinations.names[row],
            brought=float(down[row]),
            joists=tuple(taken),
            lifted=tuple(j for j, force in taken if abs(force) < _PRESSED),
            pull=max((-float(pressed[link]) for link in below.values()), default=0.0),
        )
    ]


def _down(solution: Solution, nodes: set[int]) -> NDArray[np.float64]:
    """Return (ncomb,) N that struts with their feet on some nodes bring."""
    assert solution.model is not None
    assert solution.frame is not None
    down = np.zeros(len(solution.combinations.names))
    for strut in solution.framing.of_role(Role.STRUT):
        if strut.nodes[0] in nodes and strut.key in solution.model.members:
            first = solution.model.rows_of(strut.key).start
            down = down + solution.frame.end_force_global[:, first, 0, 2]
    return down
