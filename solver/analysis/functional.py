"""Linear functionals of a solved frame: one number that displacements and loads give.

A functional is a vector that works on displacements, plus what a load on its own
element adds directly. `influence` turns it into the effect of every load at once.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import StrEnum

import numpy as np

from .element import Elements
from .frame import GROUND, Floats
from .solution import FrameResult


class Force(StrEnum):
    """A force in an element, with the signs of `stations`."""

    N = "N"
    V_STRONG = "V_strong"
    V_WEAK = "V_weak"
    M_STRONG = "M_strong"
    M_WEAK = "M_weak"


@dataclass(frozen=True, eq=False)
class Direct:
    """What a load on the functional's own element adds beside the displacements.

    Attributes:
        element: the element.
        xi: where along it, fraction of the length.
        basic: (6,) weight of each fixed-end force.
        local: (3,) weight of the simple-beam part along local x, y, z.
        order: 0 moment, 1 shear or axial force, 2 deflection.
    """

    element: int
    xi: float
    basic: Floats
    local: Floats
    order: int


@dataclass(frozen=True, eq=False)
class Functional:
    """A linear functional in the contact state of one combination.

    Attributes:
        work: (n, 6) weight of each displacement.
        moved: (n, 6) displacement given to held freedoms (reactions and shares).
        direct: parts of loads on single elements.
    """

    work: Floats
    moved: Floats
    direct: tuple[Direct, ...] = field(default=())

    def __add__(self, other: Functional) -> Functional:
        """Return the sum of two functionals."""
        return Functional(
            self.work + other.work, self.moved + other.moved, self.direct + other.direct
        )

    def times(self, scale: float) -> Functional:
        """Return the functional scaled, e.g. to build a sag from a chord."""
        direct = tuple(
            replace(d, basic=d.basic * scale, local=d.local * scale)
            for d in self.direct
        )
        return Functional(self.work * scale, self.moved * scale, direct)


def node_displacement(result: FrameResult, node: int, freedom: int) -> Functional:
    """Return the functional of one displacement of a node (0 to 5: ux to rz)."""
    work = np.zeros((result.frame.n_nodes, 6))
    work[node, freedom] = 1.0
    return Functional(work, np.zeros_like(work))


def reaction(result: FrameResult, node: int, freedom: int) -> Functional:
    """Return the functional of the reaction at a held freedom."""
    moved = np.zeros((result.frame.n_nodes, 6))
    moved[node, freedom] = -1.0
    return Functional(np.zeros_like(moved), moved)


def link_force(result: FrameResult, combination: int, link: int) -> Functional:
    """Return the functional of a link's force; zero where the link does not act."""
    links = result.frame.links
    work = np.zeros((result.frame.n_nodes, 6))
    push = links.stiffness[link] * links.direction[link]
    push = push * result.link_active[combination, link]
    work[links.i[link], :3] -= push
    if links.j[link] != GROUND:
        work[links.j[link], :3] += push
    return Functional(work, np.zeros_like(work))


def station_force(
    result: FrameResult, combination: int, force: Force, element: int, x: float
) -> Functional:
    """Return the functional of a force in an element.

    Args:
        result: the solved frame.
        combination: whose contact state holds.
        force: which force.
        element: which element.
        x: m from its end i.
    """
    e = result.system.elements
    L = float(e.L[element])
    xi = x / L
    basic, local = np.zeros(6), np.zeros(3)
    order = 1
    if force is Force.N:
        basic[0], local[0] = 1.0, 1.0
    else:
        row, axis = (1, 2) if force in (Force.V_STRONG, Force.M_STRONG) else (3, 1)
        local[axis] = 1.0
        if force in (Force.M_STRONG, Force.M_WEAK):
            basic[row : row + 2] = 1 - xi, xi
            order = 0
        else:
            basic[row : row + 2] = -1 / L, 1 / L
    return _from_basic(result, combination, Direct(element, xi, basic, local, order))


def station_displacement(
    result: FrameResult, combination: int, element: int, x: float, direction: Floats
) -> Functional:
    """Return the functional of the displacement of a point of an element's axis.

    Args:
        result: the solved frame.
        combination: whose contact state holds.
        element: which element.
        x: m from its end i.
        direction: (3,) global; a unit vector for metres along it.
    """
    e = result.system.elements
    L = float(e.L[element])
    xi = x / L
    b = 1 - xi
    direction = np.asarray(direction, float)
    local = np.array([axis[element] @ direction for axis in (e.x, e.y, e.z)])
    basic = np.zeros(6)
    for row, axis, plane in ((1, 2, e.strong), (3, 1, e.weak)):
        EI = float(plane.EI[element])
        soft = L**2 / EI if EI > 0 else 0.0
        basic[row] = -xi * b * (2 - xi) / 6 * soft * local[axis]
        basic[row + 1] = -xi * b * (1 + xi) / 6 * soft * local[axis]
    slack_i, slack_j = result.frame.release[element, [0, 6]]
    slip = b * float(slack_i) - xi * float(slack_j)
    basic[0] = -slip * local[0] * L / e.EA[element]
    moved = _from_basic(result, combination, Direct(element, xi, basic, local, 2))
    i, j = result.frame.ends[element]
    shift = slip * local[0] * e.x[element]
    near, far = b * direction - shift, xi * direction + shift
    moved.work[i, :3] += near
    moved.work[j, :3] += far
    return moved


def _from_basic(result: FrameResult, combination: int, direct: Direct) -> Functional:
    """Return the functional of weighted basic forces."""
    element = direct.element
    i, j = result.frame.ends[element]
    push = basic_to_ends(
        result.system.elements,
        element,
        _stiff(result, combination, element) @ direct.basic,
    )
    work = np.zeros((result.frame.n_nodes, 6))
    work[i] += push[:6]
    work[j] += push[6:]
    return Functional(work, np.zeros_like(work), (direct,))


def _stiff(result: FrameResult, combination: int, element: int) -> Floats:
    """Return the (6, 6) basic stiffness of one element in a contact state."""
    e = result.system.elements
    k = np.zeros((6, 6))
    k[0, 0] = e.axial[element] * result.element_active[combination, element]
    for row, p in ((1, e.strong), (3, e.weak)):
        k[row, row], k[row + 1, row + 1] = p.ii[element], p.jj[element]
        k[row, row + 1] = k[row + 1, row] = p.ij[element]
    k[5, 5] = e.torsion[element]
    return k


def basic_to_ends(e: Elements, element: int, basic: Floats) -> Floats:
    """Return the (12,) end forces, global, of basic forces on one element."""
    x, y, z = e.x[element], e.y[element], e.z[element]
    L = e.L[element]
    N, si, sj, wi, wj, T = basic
    pull = N * x + (si - sj) / L * z + (wi - wj) / L * y
    turn_i = si * y - wi * z - T * x
    turn_j = wj * z - sj * y + T * x
    return np.concatenate([-pull, turn_i, pull, turn_j])
