"""The straight Euler-Bernoulli element: axes, stiffness, loads and end forces.

An element is described by six *basic* deformations and the forces that work on them,

    elongation, strong rotation at i and at j, weak rotation at i and at j, twist;
    axial force, strong moment at i and j, weak moment at i and j, torque,

because in them every end release has a closed form. Moments are positive when they
put the side away from the local axis (z strong, y weak) in tension, so a level beam
with ``up`` = +Z that sags has a positive strong moment.

All arrays run over the elements at once, and components come first: forces are
(6, ncomb, m), vectors (3, ncomb, m). The long axis is then the last one, which is what
NumPy is quick at. Nothing here knows of nodes' numbering or of the solver.

Source: the slope-deflection relations, any textbook of structural analysis.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .frame import Bools, Floats, Frame, FrameError

_CHUNK = 2048  # elements whose work fits the cache for eight combinations

# Rows of the stiffness pool, each (m, 3, 3): see `stiffness_pool`.
TT, TT_NEG, TI, TI_NEG, TJ, TJ_NEG, RII, RIJ, RJJ = range(9)


@dataclass(frozen=True, eq=False)
class Plane:
    """Bending stiffness and fixed-end moments of one plane, releases included.

    Attributes:
        EI: (m,) N m2.
        ii, ij, jj: (m,) N m/rad, basic stiffness.
        load_i, load_j: (m,) end moment of a unit uniform load is this times L^2.
    """

    EI: Floats
    ii: Floats
    ij: Floats
    jj: Floats
    load_i: Floats
    load_j: Floats


@dataclass(frozen=True, eq=False)
class Elements:
    """Geometry and basic stiffness of all elements.

    Attributes:
        L: (m,) m.
        x, y, z: (m, 3) local axes: along, across, depth.
        axes: (3, 3, m) the same, component first: axes[0] is x.
        axial: (m,) N/m.
        axial_load: (m,) mean axial force of a unit uniform axial load is this times L.
        torsion: (m,) N m/rad.
        strong, weak: the two planes of bending.
        EA: (m,) N.
    """

    L: Floats
    x: Floats
    y: Floats
    z: Floats
    axes: Floats
    axial: Floats
    axial_load: Floats
    torsion: Floats
    strong: Plane
    weak: Plane
    EA: Floats


def local_axes(
    xyz: Floats, ends: NDArray[np.int64], up: Floats
) -> tuple[Floats, Floats, Floats, Floats]:
    """Return length and local axes of each element.

    Returns:
        L (m,) in m; x, y, z each (m, 3): x from i to j, z in the plane of x and
        ``up`` on the side of ``up``, y = z cross x.

    Raises:
        FrameError: an element has no length, or ``up`` lies along its axis.
    """
    along = xyz[ends[:, 1]] - xyz[ends[:, 0]]
    L = np.sqrt(np.einsum("ij,ij->i", along, along))
    size = np.abs(xyz).max() if len(xyz) else 0.0
    if len(L) and L.min() <= 1e-9 * size:
        at = int(np.argmin(L))
        raise FrameError(f"frame.ends[{at}]", ends[at].tolist(), "an element of length")
    x = along / L[:, None]
    y = _cross(up, x)
    sine = np.sqrt(np.einsum("ij,ij->i", y, y))
    reference = np.sqrt(np.einsum("ij,ij->i", up, up))
    if len(L) and (sine <= 1e-6 * reference).any():
        at = int(np.argmax(sine <= 1e-6 * reference))
        allowed = "a vector that is not along the element"
        raise FrameError(f"frame.up[{at}]", up[at].tolist(), allowed)
    y = y / sine[:, None]
    return L, x, y, _cross(x, y)


def element_arrays(frame: Frame) -> Elements:
    """Return geometry and basic stiffness of every element of a checked frame.

    Raises:
        FrameError: an element has no length, or ``up`` lies along its axis.
    """
    L, x, y, z = local_axes(frame.xyz, frame.ends, frame.up)
    release, pinned = frame.release, frame.axial_only
    slack_i, slack_j = release[:, 0], release[:, 6]
    EA = frame.E * frame.A
    axial = np.where(slack_i | slack_j, 0.0, EA / L)
    axial_load = 0.5 * (slack_j.astype(float) - slack_i)
    twist = ~(release[:, 3] | release[:, 9] | pinned)
    torsion = np.where(twist, frame.G * frame.J / L, 0.0)
    strong = _plane(frame.E * frame.I_strong, L, release[:, 4] | pinned,
                    release[:, 10] | pinned)  # fmt: skip
    weak = _plane(frame.E * frame.I_weak, L, release[:, 5] | pinned,
                  release[:, 11] | pinned)  # fmt: skip
    axes = np.stack([x.T, y.T, z.T])
    return Elements(L, x, y, z, axes, axial, axial_load, torsion, strong, weak, EA)


def _plane(EI: Floats, L: Floats, hinge_i: Bools, hinge_j: Bools) -> Plane:
    """Return the basic stiffness of one plane with hinges at either end."""
    stiff = EI / L
    either, both = hinge_i | hinge_j, hinge_i & hinge_j
    near = np.where(both, 0.0, np.where(either, 3.0, 4.0)) * stiff
    ii = np.where(hinge_i, 0.0, near)
    jj = np.where(hinge_j, 0.0, near)
    ij = np.where(either, 0.0, -2.0) * stiff
    load_i = np.where(hinge_i, 0.0, np.where(hinge_j, 1 / 8, 1 / 12))
    load_j = np.where(hinge_j, 0.0, np.where(hinge_i, 1 / 8, 1 / 12))
    return Plane(EI, ii, ij, jj, load_i, load_j)


def stiffness_pool(e: Elements, pool: Floats) -> None:
    """Write the nine kinds of 3x3 blocks that make up the 12x12 stiffness.

    With d = u_j - u_i and rotations r_i, r_j, the energy of an element is

        1/2 d.TT.d + d.TI.r_i + d.TJ.r_j + 1/2 r_i.RII.r_i + r_i.RIJ.r_j
        + 1/2 r_j.RJJ.r_j

    Args:
        e: elements.
        pool: (9, m, 3, 3) to write to, rows named by the constants of this module;
            the negated kinds are there so that assembly is a gather and a sum.
    """
    s, w, L = e.strong, e.weak, e.L
    frame = np.stack([e.x, e.y, e.z])
    xx, yy, zz = frame[:, :, :, None] * frame[:, :, None, :]
    zy = e.z[:, :, None] * e.y[:, None, :]
    yz = np.ascontiguousarray(zy.transpose(0, 2, 1))
    si, sj = (s.ii - s.ij) / L, (s.jj - s.ij) / L
    wi, wj = (w.ii - w.ij) / L, (w.jj - w.ij) / L

    def fill(row: int, *terms: tuple[Floats, Floats]) -> None:
        """Write a sum of scaled outer products into one row."""
        (scale, block), *rest = terms
        np.multiply(scale[:, None, None], block, out=pool[row])
        for scale, block in rest:
            pool[row] += scale[:, None, None] * block

    fill(TT, (e.axial, xx), ((si + sj) / L, zz), ((wi + wj) / L, yy))
    fill(TI, (si, zy), (-wi, yz))
    fill(TJ, (sj, zy), (-wj, yz))
    fill(RII, (s.ii, yy), (w.ii, zz), (e.torsion, xx))
    fill(RIJ, (-s.ij, yy), (-w.ij, zz), (-e.torsion, xx))
    fill(RJJ, (s.jj, yy), (w.jj, zz), (e.torsion, xx))
    for row in (TT, TI, TJ):
        np.negative(pool[row], out=pool[row + 1])


def local_loads(e: Elements, load: Floats) -> Floats:
    """Return uniform loads (3, ncomb, m) turned from global to local axes."""
    return np.stack([_dot(load, axis) for axis in e.axes])


def fixed_end_forces(e: Elements, local: Floats) -> Floats:
    """Return the basic forces of elements whose ends are held.

    Args:
        e: elements.
        local: (3, ncomb, m) N/m, uniform loads in local axes.

    Returns:
        (6, ncomb, m), N and N m.
    """
    L2 = e.L**2
    out = np.zeros((6, *local.shape[1:]))
    if e.axial_load.any():
        np.multiply(local[0], e.axial_load * e.L, out=out[0])
    for row, plane, w in ((1, e.strong, local[2]), (3, e.weak, local[1])):
        np.multiply(w, plane.load_i * L2, out=out[row])
        np.multiply(w, plane.load_j * L2, out=out[row + 1])
    return out


def basic_forces(
    e: Elements, u_i: Floats, u_j: Floats, held: Floats | None = None
) -> Floats:
    """Return the basic forces that end displacements bring about.

    Args:
        e: elements.
        u_i: (6, ncomb, m) m and rad, displacement of the i ends, global.
        u_j: the same at the j ends.
        held: (6, ncomb, m) fixed-end forces to add, or None.

    Returns:
        (6, ncomb, m): N; strong M_i, M_j; weak M_i, M_j (sagging positive); torque.
    """
    out = np.empty((6, *u_i.shape[1:]))
    for first in range(0, len(e.L), _CHUNK):
        part = slice(first, first + _CHUNK)
        _basic_part(e, u_i[:, :, part], u_j[:, :, part], part, out[:, :, part])
    if held is not None:
        out += held
    return out


def _basic_part(
    e: Elements, u_i: Floats, u_j: Floats, part: slice, out: Floats
) -> None:
    """Write the basic forces of some elements; few enough to stay in the cache."""
    x, y, z = e.axes[:, :, part]
    shape, L = u_i.shape[1:], e.L[part]
    stretch, twist = np.zeros(shape), np.zeros(shape)
    dz, strong_i, strong_j = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    dy, weak_i, weak_j = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    for k in range(3):
        d = u_j[k] - u_i[k]
        stretch += d * x[k]
        d /= L
        dz += d * z[k]
        dy += d * y[k]
        strong_i += u_i[3 + k] * y[k]
        strong_j += u_j[3 + k] * y[k]
        weak_i += u_i[3 + k] * z[k]
        weak_j += u_j[3 + k] * z[k]
        twist += (u_j[3 + k] - u_i[3 + k]) * x[k]
    np.multiply(stretch, e.axial[part], out=out[0])
    strong_i += dz
    strong_j += dz
    np.subtract(dy, weak_i, out=weak_i)
    np.subtract(dy, weak_j, out=weak_j)
    _plane_forces(e.strong, part, strong_i, strong_j, out[1:3])
    _plane_forces(e.weak, part, weak_i, weak_j, out[3:5])
    np.multiply(twist, e.torsion[part], out=out[5])


def _plane_forces(
    p: Plane, part: slice, near: Floats, far: Floats, out: Floats
) -> None:
    """Write M_i, M_j of one plane; ``far`` is minus the deformation at j."""
    ii, ij, jj = p.ii[part], p.ij[part], p.jj[part]
    np.multiply(near, ii, out=out[0])
    out[0] -= far * ij
    np.multiply(near, ij, out=out[1])
    out[1] -= far * jj


def end_forces(
    e: Elements, basic: Floats, load: Floats | None = None
) -> Iterator[Floats]:
    """Yield the forces that the nodes exert on the element ends, one component a time.

    One array serves all components, so that what is summed at once is never stored.

    Args:
        e: elements.
        basic: (6, ncomb, m) basic forces.
        load: (3, ncomb, m) N/m, uniform loads in global axes, or None.

    Yields:
        (2, ncomb, m), end i and end j: forces along x, y, z, N; moments, N m.
    """
    N, Ms_i, Ms_j, Mw_i, Mw_j, T = basic
    x, y, z = e.axes
    V_strong, V_weak = (Ms_i - Ms_j) / e.L, (Mw_i - Mw_j) / e.L
    out = np.empty((2, *N.shape))
    for k in range(3):
        pull = N * x[k]
        pull += V_strong * z[k]
        pull += V_weak * y[k]
        if load is None:
            np.negative(pull, out=out[0])
            out[1] = pull
        else:
            half = load[k] * (0.5 * e.L)
            np.subtract(pull, half, out=out[1])
            pull += half
            np.negative(pull, out=out[0])
        yield out
    for k in range(3):
        turn = T * x[k]
        np.multiply(Ms_i, y[k], out=out[0])
        out[0] -= Mw_i * z[k]
        out[0] -= turn
        np.multiply(Mw_j, z[k], out=out[1])
        out[1] -= Ms_j * y[k]
        out[1] += turn
        yield out


def _dot(a: Floats, b: Floats) -> Floats:
    """Return the dot product over the first axis of (3, ncomb, m) and (3, m)."""
    out = a[0] * b[0]
    out += a[1] * b[1]
    out += a[2] * b[2]
    return out


def _cross(a: Floats, b: Floats) -> Floats:
    """Return the cross product of two (m, 3) arrays."""
    ax, ay, az = a.T
    bx, by, bz = b.T
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=1)
