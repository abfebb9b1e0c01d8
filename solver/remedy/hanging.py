"""What hangs in a new beam, and what a hanger or strap has to hold."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..solve import Solution


@dataclass(frozen=True, kw_only=True)
class Hanging:
    """Joists that hang in a beam or from it.

    Attributes:
        beam: key of the beam.
        joists: how many places hang on it.
        each: N, largest load of one place.
        joist: key of the joist there.
        pull: N, largest force that a strap across the beam holds there, along the
            joist; 0 where the joist runs on uncut.
        combination: of the largest load.
    """

    beam: str
    joists: int
    each: float
    joist: str
    pull: float
    combination: str


def hangings(solution: Solution) -> tuple[Hanging, ...]:
    """Return what hangs on the beams that joists hang in or from, in order."""
    if solution.model is None or solution.frame is None:
        return ()
    framing, model, frame = solution.framing, solution.model, solution.frame
    out = []
    for beam in framing.members.values():
        hung = beam.role.value == "beam" and beam.offset[2] > 0 and not beam.spreads
        links = [
            (contact, int(model.contact_links[n][0]))
            for n, contact in enumerate(model.contacts)
            if hung and framing.contacts[contact].lower == beam.key
        ]
        if not links:
            continue
        force = frame.link_force[:, [link for _, link in links]]
        row, column = np.unravel_index(int(np.argmax(force)), force.shape)
        at = framing.contacts[links[int(column)][0]]
        out.append(
            Hanging(
                beam=beam.key,
                joists=len(links),
                each=float(force[row, column]),
                joist=at.upper,
                pull=_pull(solution, at.upper, at.upper_node),
                combination=solution.combinations.names[int(row)],
            )
        )
    return tuple(out)


def _pull(solution: Solution, joist: str, node: int) -> float:
    """Return the largest tension that a joist cut at a node hands across it, N."""
    assert solution.model is not None
    assert solution.frame is not None
    nodes = solution.framing.members[joist].nodes
    if node not in (nodes[0], nodes[-1]):
        return 0.0
    rows = solution.model.rows_of(joist)
    along = solution.frame.stations(2).N[:, rows.start : rows.stop]
    return max(0.0, float(along.max()))
