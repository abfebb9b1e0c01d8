"""What is free in a frame that can move, and which freedoms may be left out.

Three cases are told apart. A rotation that nothing resists, or the spin of a straight
pin-ended member about its own axis, costs no energy and takes no part in carrying load:
one freedom of each is *dropped* (held at zero), which changes nothing else because the
reaction there is zero; the residual check of the solution proves it each time. Any
other motion without resistance is a mechanism and is reported with its null vector.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from ..errors import MechanismError
from . import element
from .assembly import System, spread
from .factor import Factor, factorise
from .frame import Bools, Floats, Ints
from .layout import Layout
from .ordering import components

_SHIFT = 1e-8  # small enough to part motions, large enough to keep eight digits
_FREE = 1.001  # times the shift: resistance of a free motion, the shift included
_NULL = 1e-9  # of the stiffness at the node
_AXES = ("ux", "uy", "uz", "rx", "ry", "rz")


class UnstableFrameError(MechanismError):
    """A frame that moves without resistance.

    Attributes:
        nodes: nodes that move.
        modes: (nmodes, n, 6) the motions, largest component 1; rotations in rad per m.
    """

    def __init__(self, message: str, nodes: Ints, modes: Floats):
        super().__init__(message)
        self.nodes = nodes
        self.modes = modes


def idle_rotations(system: System, natural: Bools) -> Bools:
    """Return (n, 6) rotations to drop: idle at a node, or the spin of a member.

    Args:
        system: the frame's equations.
        natural: (n, 6) freedoms that are neither held nor without stiffness.
    """
    drop = np.zeros_like(natural)
    blocks = _rotation_blocks(system)
    _drop_at_nodes(blocks, natural, drop)
    _drop_spins(system, blocks, natural, drop)
    return drop


def _rotation_blocks(system: System) -> Floats:
    """Return (n, 3, 3) stiffness against rotation at each node, all else held."""
    frame, pool = system.frame, system.pool
    out = np.zeros((frame.n_nodes, 9))
    bends = ~frame.axial_only
    for end, row in ((0, element.RII), (1, element.RJJ)):
        np.add.at(out, frame.ends[bends, end], pool[row][bends].reshape(-1, 9))
    return out.reshape(-1, 3, 3)


def _drop_at_nodes(blocks: Floats, natural: Bools, drop: Bools) -> None:
    """Drop skew rotations of single nodes that nothing resists."""
    free = natural[:, 3:]
    masked = blocks * (free[:, :, None] & free[:, None, :])
    size = np.trace(masked, axis1=1, axis2=2)
    safe = np.where(size > 0, size, 1.0)
    masked = masked / safe[:, None, None]
    at = np.arange(3)
    masked[:, at, at] += ~free
    for node in np.flatnonzero(np.linalg.det(masked) < _NULL):
        value, vector = np.linalg.eigh(masked[node])
        for k in _pivots(vector[:, value < _NULL]):
            drop[node, 3 + k] = True


def _drop_spins(system: System, blocks: Floats, natural: Bools, drop: Bools) -> None:
    """Drop the spin of each straight run of members that nothing else resists."""
    frame, e = system.frame, system.elements
    run = _straight_runs(system)
    bends = ~frame.axial_only
    end_node = frame.ends[bends].ravel()
    end_run = np.repeat(run[bends], 2)
    torsion = np.repeat(e.torsion[bends], 2)
    if not len(end_node):
        return
    axis_of = np.zeros((frame.n_elements, 3))
    axis_of[run[::-1]] = e.x[::-1]
    code, back = np.unique(end_run * frame.n_nodes + end_node, return_inverse=True)
    group, node = code // frame.n_nodes, code % frame.n_nodes
    axis = axis_of[group]
    whole = np.einsum("pi,pij,pj->p", axis, blocks[node], axis)
    own = np.bincount(back.reshape(-1), torsion)
    others = whole - own > _NULL * np.trace(blocks[node], axis1=1, axis2=2)
    barred = (frame.fixed[node, 3:] | drop[node, 3:]) & (np.abs(axis) > 1e-9)
    held = others | barred.any(axis=1)
    stopped = np.zeros(frame.n_elements, bool)
    stopped[group[held]] = True
    spins = ~stopped[group]
    first = spins & (np.concatenate([[True], np.diff(group) != 0]))
    k = np.argmax(np.abs(axis), axis=1)
    resisted = natural[node, 3 + k]
    drop[node[first & resisted], 3 + k[first & resisted]] = True


def _straight_runs(system: System) -> Ints:
    """Return (m,) the least element of the straight run that each element is in."""
    frame, x = system.frame, system.elements.x
    m = frame.n_elements
    bends = np.flatnonzero(~frame.axial_only)
    node = frame.ends[bends].ravel()
    which = np.repeat(bends, 2)
    order = np.argsort(node, kind="stable")
    node, which = node[order], which[order]
    a: list[Ints] = []
    b: list[Ints] = []
    for step in range(1, int(np.bincount(node).max(initial=1))):
        same = node[step:] == node[:-step]
        first, second = which[:-step][same], which[step:][same]
        straight = np.abs(np.einsum("ij,ij->i", x[first], x[second])) > 1 - 1e-12
        a.append(first[straight])
        b.append(second[straight])
    none = np.zeros(0, np.int64)
    return components(m, np.concatenate([none, *a]), np.concatenate([none, *b]))


def _pivots(vectors: Floats) -> Iterable[int]:
    """Return one row for each column, chosen so that holding them stops all columns."""
    left = vectors.copy()
    rows: list[int] = []
    while left.shape[1]:
        at = int(np.argmax(np.abs(left).max(axis=1)))
        column = int(np.argmax(np.abs(left[at])))
        rows.append(at)
        pivot = left[:, column] / left[at, column]
        left = np.delete(left - pivot[:, None] * left[at], column, axis=1)
    return rows


def null_modes(system: System, layout: Layout, state: Bools | None = None) -> Floats:
    """Return (n_free, r) motions that a contact state does not resist.

    Inverse iteration on the stiffness with a small part of its diagonal added; the
    block grows until it holds a motion that is resisted, so that none is missed.
    """
    if state is None:
        state = system.contacts.first_state()
    diagonal = system.diagonal.ravel()[layout.dof]
    factor = factorise(layout, system.values(state), _SHIFT * diagonal)
    root = np.sqrt(diagonal)
    n, width = len(root), 4
    random = np.random.default_rng(0)
    while True:
        width = min(n, 2 * width)
        modes, value = _iterate(factor, root, random.normal(size=(n, width)))
        null = value <= max(_FREE * _SHIFT, value.min())  # the loosest at least
        if not null.all() or width in (n, 512):
            break
    modes = modes[:, null]
    return modes / np.abs(modes).max(axis=0, initial=1e-300)


def _iterate(factor: Factor, root: Floats, block: Floats) -> tuple[Floats, Floats]:
    """Return approximate lowest motions and their shifted relative stiffness."""
    basis = np.linalg.qr(block)[0]
    value = np.ones(basis.shape[1])
    for _ in range(8):
        image = root[:, None] * factor.solve(root[:, None] * basis)
        theta, turn = np.linalg.eigh(basis.T @ image)
        value = 1 / np.maximum(theta, 1e-300)
        basis = np.linalg.qr(image @ turn)[0]
    return basis / root[:, None], value


def spin_freedoms(layout: Layout, modes: Floats, load: Floats) -> Ints | None:
    """Return flat freedoms that stop modes which only rotate and do no work.

    Args:
        layout: the plan.
        modes: (n_free, r) null motions.
        load: (n_free, ncomb) loads.

    Returns:
        Flat freedoms to drop, or None where a mode is a real mechanism.
    """
    moves = layout.dof % 6 < 3
    if modes.shape[1] == 0 or np.abs(modes[moves]).max(initial=0.0) > 1e-6:
        return None
    if np.abs(modes.T @ load).max() > 1e-9 * np.abs(load).max(initial=1e-300):
        return None
    return layout.dof[np.array(list(_pivots(modes)), np.int64)]


def unstable(system: System, layout: Layout, modes: Floats) -> UnstableFrameError:
    """Return the error for (n_free, r) null motions."""
    return describe(spread(layout, system, modes))


def describe(modes: Floats) -> UnstableFrameError:
    """Return the error that says which nodes move and how, for (r, n, 6) motions."""
    size = np.abs(modes).max(axis=(0, 2))
    nodes = np.flatnonzero(size > 0.1 * size.max(initial=0.0))
    strength = np.abs(modes).max(axis=(0, 1))
    ways = [
        name
        for name, value in zip(_AXES, strength, strict=True)
        if value > 0.1 * strength.max(initial=0.0)
    ]
    shown = ", ".join(str(i) for i in nodes[:12]) + (", ..." if len(nodes) > 12 else "")
    message = (
        f"The frame is a mechanism: nodes {shown} move freely "
        f"({', '.join(ways)}; {len(modes)} free motion(s)). Add a support, a tie or a "
        "brace, or make a joint that does not turn."
    )
    return UnstableFrameError(message, nodes, modes)
