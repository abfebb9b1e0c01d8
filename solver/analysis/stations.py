"""Forces, moments and the exact deflected shape along the elements.

Between its ends an element under uniform load has linear axial force and shear,
parabolic moment and a quartic shape; all are evaluated in closed form from the basic
forces and the end displacements, so there is no error of subdivision.

Source: integration of M = EI w'' for end moments and a uniform load, any textbook of
structural analysis.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from .element import Elements
from .frame import Bools, Floats


@dataclass(frozen=True, eq=False)
class EndState:
    """What the stations are computed from.

    Attributes:
        elements: geometry and stiffness.
        basic: (6, ncomb, m) basic forces, see `element`.
        local_load: (3, ncomb, m) N/m in local axes.
        u_i, u_j: (6, ncomb, m) end displacements, global.
        slack_i, slack_j: (m,) ends that pass on no axial force.
    """

    elements: Elements
    basic: Floats
    local_load: Floats
    u_i: Floats
    u_j: Floats
    slack_i: Bools
    slack_j: Bools


class Stations:
    """Forces, moments and displacements at stations along every element.

    Signs: tension positive; a strong moment is positive when it puts the side away
    from the depth direction in tension (sagging, for ``up`` = +Z); shear is its rate
    of change along the element.

    Attributes:
        x: (m, K) m from end i.
        fraction: (m, K) of the length.
    """

    def __init__(self, state: EndState, fraction: Floats):
        self._state = state
        m = len(state.elements.L)
        self._shared = fraction.ndim == 1
        self._xi = fraction
        self.fraction = np.broadcast_to(fraction, (m, fraction.shape[-1]))
        self.x = self.fraction * state.elements.L[:, None]

    def _sum(self, *terms: tuple[Floats, Floats]) -> Floats:
        """Return (ncomb, m, K) sums of coefficients (ncomb, m) times shapes."""
        if self._shared:
            first = np.stack([c for c, _ in terms])
            shapes = np.stack([s for _, s in terms], axis=1)
            flat = shapes @ first.reshape(len(terms), -1)
            return flat.reshape(-1, *first.shape[1:]).transpose(1, 2, 0)
        (c, s), *rest = terms
        total = c[..., None] * s
        for c, s in rest:
            total += c[..., None] * s
        return total

    def _moment(self, row: int, axis: int) -> Floats:
        """Return the moment of one plane."""
        s, xi = self._state, self._xi
        wl2 = s.local_load[axis] * s.elements.L**2
        return self._sum(
            (s.basic[row], 1 - xi),
            (s.basic[row + 1], xi),
            (wl2, -0.5 * xi * (1 - xi)),
        )

    def _shear(self, row: int, axis: int) -> Floats:
        """Return the shear of one plane."""
        s, xi = self._state, self._xi
        L = s.elements.L
        rate = (s.basic[row + 1] - s.basic[row]) / L
        wl = s.local_load[axis] * L
        return self._sum((rate, np.ones_like(xi)), (wl, xi - 0.5))

    @cached_property
    def N(self) -> Floats:  # noqa: N802 the book's symbol
        """(ncomb, m, K) N, axial force, tension positive."""
        s = self._state
        nl = s.local_load[0] * s.elements.L
        return self._sum((s.basic[0], np.ones_like(self._xi)), (nl, 0.5 - self._xi))

    @cached_property
    def M_strong(self) -> Floats:  # noqa: N802
        """(ncomb, m, K) N m, moment in the plane of the depth, sagging positive."""
        return self._moment(1, 2)

    @cached_property
    def M_weak(self) -> Floats:  # noqa: N802
        """(ncomb, m, K) N m, moment across it; positive: tension at -y."""
        return self._moment(3, 1)

    @cached_property
    def V_strong(self) -> Floats:  # noqa: N802
        """(ncomb, m, K) N, rate of change of the strong moment."""
        return self._shear(1, 2)

    @cached_property
    def V_weak(self) -> Floats:  # noqa: N802
        """(ncomb, m, K) N, rate of change of the weak moment."""
        return self._shear(3, 1)

    @cached_property
    def torque(self) -> Floats:
        """(ncomb, m) N m, torque about the local axis."""
        return self._state.basic[5]

    def _bow_terms(self, row: int, axis: int) -> list[tuple[Floats, Floats]]:
        """Return coefficients and shapes of one plane's deflection from the chord."""
        s, xi = self._state, self._xi
        b = 1 - xi
        EI = (s.elements.strong if row == 1 else s.elements.weak).EI
        L2 = s.elements.L**2
        soft = np.divide(L2, EI, out=np.zeros_like(EI), where=EI > 0)
        return [
            (s.basic[row] * soft, -xi * b * (2 - xi) / 6),
            (s.basic[row + 1] * soft, -xi * b * (1 + xi) / 6),
            (s.local_load[axis] * (L2 * soft), xi * b * (1 + xi * b) / 24),
        ]

    @cached_property
    def bow(self) -> Floats:
        """(ncomb, m, K) m, deflection along the depth from the line of the ends."""
        return self._sum(*self._bow_terms(1, 2))

    @cached_property
    def displacement(self) -> Floats:
        """(ncomb, m, K, 3) m, displacement of the axis, global."""
        s, xi, e = self._state, self._xi, self._state.elements
        u_i, u_j = self._ends_of_the_bar()
        stretch = (s.local_load[0] * (e.L**2 / (2 * e.EA)), xi * (1 - xi))
        parts = [(stretch, 0)]
        parts += [(term, 1) for term in self._bow_terms(3, 1)]
        parts += [(term, 2) for term in self._bow_terms(1, 2)]
        first = []
        for k in range(3):
            terms = [(u_i[k], 1 - xi), (u_j[k], xi)]
            terms += [(c * e.axes[axis, k], shape) for (c, shape), axis in parts]
            first.append(self._sum(*terms).transpose(2, 0, 1))
        return np.stack(first).transpose(2, 3, 1, 0)

    def _ends_of_the_bar(self) -> tuple[Floats, Floats]:
        """Return end displacements; at a slack end, of the element, not the node."""
        s, e = self._state, self._state.elements
        u_i, u_j = s.u_i[:3], s.u_j[:3]
        if not (s.slack_i.any() or s.slack_j.any()):
            return u_i, u_j
        apart = ((u_j - u_i) * e.axes[0][:, None]).sum(axis=0)
        gap = (s.basic[0] * (e.L / e.EA) - apart) * e.axes[0][:, None]
        return u_i - gap * s.slack_i, u_j + gap * s.slack_j


def zero_shear(state: EndState) -> Floats:
    """Return (ncomb, m) fraction of the length where the strong shear vanishes.

    Held at the nearer end where it does not vanish within the element: there the
    moment is largest at an end.
    """
    L2 = state.elements.L**2
    difference = state.basic[2] - state.basic[1]
    wl2 = state.local_load[2] * L2
    loaded = np.abs(wl2) > 1e-12 * np.abs(difference)
    bent = np.divide(difference, wl2, out=np.zeros_like(wl2), where=loaded)
    return np.clip(np.where(loaded, 0.5 - bent, 0.0), 0.0, 1.0)
