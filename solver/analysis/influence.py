"""What every load does to one number: influence by one solve for each number.

The stiffness is symmetric, so the displacements that a functional's own weights bring
about are the effect of a unit load at every place (Maxwell, Betti, Müller-Breslau).
All holds in the contact state of one combination, which is kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from . import element
from .assembly import gather, spread
from .element import Elements
from .frame import Floats, Ints
from .functional import Direct, Functional
from .solution import FrameResult
from .stations import EndState, Stations

_LEFT = 1e-13  # of the weights: more is solved for again
_MOST_STEPS = 2


@dataclass(frozen=True, eq=False)
class Influence:
    """The effect of every load on some functionals, in one contact state.

    Attributes:
        element: (f, m, 3) value for each N/m of uniform global load on an element.
        node: (f, n, 6) value for each N or N m at a node.
        result: the solved frame.
        functionals: what is influenced.
    """

    element: Floats
    node: Floats
    result: FrameResult
    functionals: tuple[Functional, ...]

    def value(self, element_load: Floats, node_load: Floats) -> Floats:
        """Return (f, ...) the functionals' values under loads.

        Args:
            element_load: (..., m, 3) N/m, uniform, global.
            node_load: (..., n, 6) N and N m.
        """
        spreading = np.tensordot(self.element, element_load, ((1, 2), (-2, -1)))
        return spreading + np.tensordot(self.node, node_load, ((1, 2), (-2, -1)))

    def points(self, fraction: Floats) -> Floats:
        """Return (f, m, K, 3) values for a unit force at points of every element.

        Args:
            fraction: (K,) of the length from end i. At the functional's own station a
                shear or axial force jumps; the value just before it is given.
        """
        result, e = self.result, self.result.system.elements
        u_i, u_j = result.system.at_ends(self.node)
        basic = element.basic_forces(e, u_i, u_j)
        none = np.zeros((3, *basic.shape[1:]))
        slack = result.frame.release[:, 0], result.frame.release[:, 6]
        shape = EndState(e, basic, none, none, u_i, u_j, *slack)
        out = Stations(shape, np.asarray(fraction, float)).displacement
        for row, functional in enumerate(self.functionals):
            for part in functional.direct:
                local = _point_part(e, part, np.asarray(fraction, float))
                axes = np.stack([a[part.element] for a in (e.x, e.y, e.z)])
                out[row, part.element] += local @ axes
        return out


def influence(
    result: FrameResult, combination: int, functionals: Sequence[Functional]
) -> Influence:
    """Return the influence of every load on functionals, by one solve of all.

    Args:
        result: the solved frame.
        combination: whose contact state is kept.
        functionals: made for this result and combination.
    """
    system, solved = result.system, result.solved[combination]
    moved = np.stack([f.moved for f in functionals])
    work = np.stack([f.work for f in functionals])
    if moved.any():
        state = np.broadcast_to(solved.state, (len(moved), len(solved.state)))
        work = work - system.inner_force(moved, state)
    node = _refined(result, combination, work) + moved
    out = _uniform(result, node)
    for row, functional in enumerate(functionals):
        for part in functional.direct:
            out[row, part.element] += _uniform_part(system.elements, part)
    return Influence(out, node, result, tuple(functionals))


def _refined(result: FrameResult, combination: int, work: Floats) -> Floats:
    """Return (f, n, 6) the displacements that weights at the joints bring about.

    Where a roof is nearly loose, one solve leaves more than rounding; what it leaves
    is solved for again, as is done for the loads themselves (iterative refinement;
    Wilkinson, Rounding Errors in Algebraic Processes, 1963; from memory).

    Args:
        result: the solved frame.
        combination: whose contact state is kept.
        work: (f, n, 6) weights.
    """
    system, layout, solved = result.system, result.layout, result.solved[combination]
    weights = gather(layout, work)
    size = np.abs(weights).max(axis=0, initial=0.0)
    unknowns = solved.base.solve(weights, solved.state)
    state = np.broadcast_to(solved.state, (len(work), len(solved.state)))
    for _ in range(_MOST_STEPS):
        node = spread(layout, system, unknowns)
        left = weights - gather(layout, system.inner_force(node, state))
        if (np.abs(left).max(axis=0, initial=0.0) <= _LEFT * size).all():
            break
        unknowns = unknowns + solved.base.solve(left, solved.state)
    return spread(layout, system, unknowns)


def _uniform(result: FrameResult, node: Floats) -> Floats:
    """Return (f, m, 3) the work of unit uniform loads on displacements (f, n, 6)."""
    frame, e = result.frame, result.system.elements
    unit = np.broadcast_to(np.eye(3)[:, :, None], (3, 3, frame.n_elements))
    held = element.fixed_end_forces(e, element.local_loads(e, unit))
    u_i, u_j = result.system.at_ends(node)
    out = np.zeros((u_i.shape[1], 3, frame.n_elements))
    for k, ends in enumerate(element.end_forces(e, held, unit)):
        out -= ends[0] * u_i[k][:, None] + ends[1] * u_j[k][:, None]
    return out.transpose(0, 2, 1)


def _uniform_part(e: Elements, part: Direct) -> Floats:
    """Return (3,) what a unit uniform global load on the own element adds."""
    k, xi = part.element, part.xi
    L, b = float(e.L[k]), 1 - part.xi
    axes = np.stack([a[k] for a in (e.x, e.y, e.z)])
    local = np.zeros(3)
    for row, axis, p in ((1, 2, e.strong), (3, 1, e.weak)):
        ends = np.array([p.load_i[k], p.load_j[k]]) * L**2
        local[axis] += part.basic[row : row + 2] @ ends
        EI = float(p.EI[k])
        bow = L**4 / EI * xi * b * (1 + xi * b) / 24 if EI > 0 else 0.0
        shape = (-(L**2) * xi * b / 2, L * (xi - 0.5), bow)[part.order]
        local[axis] += part.local[axis] * shape
    stretch = L**2 / (2 * float(e.EA[k])) * xi * b
    shape = (0.0, L * (0.5 - xi), stretch)[part.order]
    local[0] += part.basic[0] * e.axial_load[k] * L + part.local[0] * shape
    return local @ axes


def _point_part(e: Elements, part: Direct, at: Floats) -> Floats:
    """Return (K, 3) what unit local forces at points of the own element add."""
    k, xi = part.element, part.xi
    L, far = float(e.L[k]), 1 - at
    out = np.zeros((len(at), 3))
    beyond = at >= xi
    near = np.where(beyond, xi, 1 - xi)  # from the end on the station's side
    rest = np.where(beyond, far, at)  # of the force from the other end
    for row, axis, p in ((1, 2, e.strong), (3, 1, e.weak)):
        EI = float(p.EI[k])
        soft = L**2 / EI if EI > 0 else 0.0
        turn_i, turn_j = -at * far * (1 + far) / 6, -at * far * (1 + at) / 6
        held_i = -(p.ii[k] * turn_i + p.ij[k] * turn_j) * soft
        held_j = -(p.ij[k] * turn_i + p.jj[k] * turn_j) * soft
        out[:, axis] = part.basic[row] * held_i + part.basic[row + 1] * held_j
        shape = (
            -L * near * rest,
            np.where(beyond, -far, at),
            L * soft * near * rest * (1 - rest**2 - near**2) / 6,
        )[part.order]
        out[:, axis] += part.local[axis] * shape
    held = np.where(e.axial_load[k] < 0, -far, np.where(e.axial_load[k] > 0, at, 0.0))
    stretch = L / float(e.EA[k]) * near * rest
    shape = (0 * at, np.where(beyond, far, -at), stretch)[part.order]
    out[:, 0] = part.basic[0] * held + part.local[0] * shape
    return out


@dataclass(frozen=True, eq=False)
class SupportGroup:
    """Held nodes and links to the ground that one owner answers for.

    Attributes:
        name: of the owner.
        nodes: (r,) nodes whose held translations are its supports.
        links: (l,) links to the ground.
    """

    name: str
    nodes: Ints
    links: Ints


def support_functional(
    result: FrameResult, combination: int, group: SupportGroup, direction: Floats
) -> Functional:
    """Return the functional of the force that a group takes to the ground.

    Args:
        result: the solved frame.
        combination: whose contact state is kept.
        group: the supports.
        direction: (3,) unit vector of the force.
    """
    frame, links = result.frame, result.frame.links
    direction = np.asarray(direction, float)
    moved = np.zeros((frame.n_nodes, 6))
    nodes = np.asarray(group.nodes, int)
    moved[nodes, :3] = direction * frame.fixed[nodes, :3]
    work = np.zeros_like(moved)
    for k in np.asarray(group.links, int).tolist():
        d = links.direction[k]
        push = links.stiffness[k] * result.link_active[combination, k] * (d @ direction)
        work[links.i[k], :3] += push * d
    return Functional(work, moved)


def reaction_influence(
    result: FrameResult,
    combination: int,
    groups: Sequence[SupportGroup],
    direction: Floats | None = None,
) -> Influence:
    """Return the share of every load that each group of supports takes.

    A unit load along ``direction`` is shared among the groups; where they hold all
    supports along it, the shares of any load add to one, and the shares of a load
    across it add to zero.

    Args:
        result: the solved frame.
        combination: whose contact state is kept.
        groups: the supports, each in one group.
        direction: (3,) unit vector, up or down alike; vertical where None.

    Returns:
        Influence with f = number of groups. The share of a uniform load on an element
        is ``element[..., 2] / length`` for a vertical load.
    """
    if direction is None:
        direction = np.array([0.0, 0.0, 1.0])
    return influence(
        result,
        combination,
        [support_functional(result, combination, g, direction) for g in groups],
    )


def all_supports(result: FrameResult) -> list[SupportGroup]:
    """Return one group for each held node and each link to the ground."""
    frame = result.frame
    nodes = np.flatnonzero(frame.fixed[:, :3].any(axis=1))
    none = np.zeros(0, np.int64)
    groups = [SupportGroup(f"node {k}", np.array([k]), none) for k in nodes.tolist()]
    ground = np.flatnonzero(frame.links.j < 0)
    return groups + [
        SupportGroup(f"link {k}", none, np.array([k])) for k in ground.tolist()
    ]
