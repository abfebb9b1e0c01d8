"""Heel joints that give: the tie's end as a joint of its own, held by its nails.

Receives a model whose rafter feet and ties share a joint; returns one where they
are two joints in one place, with the nails as a spring between them.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..analysis.frame import TWO_SIDED, LoadSet
from ..framing.model import Framing, Role, SupportKind
from .model import CONTACT_STIFFNESS, GroundRow, Model

_ALONG, _ACROSS, _UP = 0, 1, 2
_SLOPING = (Role.RAFTER, Role.JACK_RAFTER)


def with_heel_slip(framing: Framing, model: Model, stiffness: float) -> Model:
    """Return the model with a spring across the ridge in every heel joint.

    The tie's end rests on the plate as before; the spring alone takes the thrust
    from the rafter foot to the tie.

    Over a drawn outline that is along each tie, and sideways its end goes with the
    rafter's foot.

    Args:
        framing: of the roof.
        model: without slip.
        stiffness: N/m of one joint, all its nails together.
    """
    found = _heels(framing, model)
    if not found:
        return model
    frame, loads = model.frame, model.loads
    feet = np.array([node for node, _, _, _ in found], dtype=np.int64)
    fresh = frame.n_nodes + np.arange(len(found))
    ends, fixed = frame.ends.copy(), frame.fixed[feet].copy()
    for new, (_, element, end, _) in zip(fresh.tolist(), found, strict=True):
        ends[element, end] = new
    fixed[:, _ALONG] = framing.plan is None  # the ceiling braces the tie's end
    fixed[:, _ACROSS] = False
    links, k = frame.links, len(found)
    direction, stiff = np.tile(np.eye(3)[_ACROSS], (k, 1)), np.full(k, stiffness)
    i, j = feet, fresh
    if framing.plan is not None:
        along = np.array([_way(model, element) for _, element, _, _ in found])
        aside = np.stack([-along[:, 1], along[:, 0], np.zeros(k)], axis=1)
        direction = np.concatenate([along, aside])
        stiff = np.concatenate([stiff, np.full(k, CONTACT_STIFFNESS)])
        i, j = np.tile(feet, 2), np.tile(fresh, 2)
    more = replace(
        links,
        i=np.concatenate([links.i, i]),
        j=np.concatenate([links.j, j]),
        direction=np.concatenate([links.direction, direction]),
        stiffness=np.concatenate([links.stiffness, stiff]),
        one_sided=np.concatenate([links.one_sided, np.full(len(i), TWO_SIDED)]),
    )
    idle = np.zeros((len(loads.names), k, 6))
    return replace(
        model,
        frame=replace(
            frame,
            xyz=np.concatenate([frame.xyz, frame.xyz[feet]]),
            fixed=np.concatenate([frame.fixed, fixed]),
            ends=ends,
            links=more,
        ),
        loads=LoadSet(
            loads.names,
            loads.element_load,
            np.concatenate([loads.node_load, idle], axis=1),
        ),
        ground=(
            *model.ground,
            *(
                GroundRow(owner, new, _UP, -1, model.members[row])
                for new, (_, element, _, owner) in zip(
                    fresh.tolist(), found, strict=True
                )
                for row in [int(frame.element_member[element])]
            ),
        ),
        place=np.concatenate([model.place, model.place[feet]]),
    )


def _way(model: Model, element: int) -> NDArray[np.float64]:
    """Return the unit plan vector along an element, (3,)."""
    a, b = model.frame.xyz[model.frame.ends[element]]
    way = (b - a) * np.array([1.0, 1.0, 0.0])
    return way / np.linalg.norm(way)


def _heels(framing: Framing, model: Model) -> list[tuple[int, int, int, str]]:
    """Return (joint, element, end, owner) of each tie end at a rafter foot."""
    known = {key: n for n, key in enumerate(model.members)}
    first = np.searchsorted(model.frame.element_member, np.arange(len(known) + 1))
    out = []
    for support in framing.supports:
        if support.kind is not SupportKind.SEAT:
            continue
        here = [k for k in framing.by_node.get(support.node, ()) if k in known]
        if all(framing.members[k].role not in _SLOPING for k in here):
            continue
        for key in here:
            member = framing.members[key]
            if member.role not in (Role.CEILING_JOIST, Role.RAFTER_TIE):
                continue
            low, high = first[known[key]], first[known[key] + 1]
            if support.node == member.nodes[0]:
                out.append((support.node, int(low), 0, support.owner))
            elif support.node == member.nodes[-1]:
                out.append((support.node, int(high) - 1, 1, support.owner))
    return out
