"""Forces, moments and the exact deflected shape along the elements.

Between its ends an element under uniform load has linear axial force and shear,
parabolic moment and a quartic shape; all are evaluated in closed form from the basic
forces and the end displacements, so there is no error of subdivision.

Source: integration of M = EI w'' for end moments and a uniform load, any textbook of
structural analysis.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from .element import Elements
from .frame import Bools, Floats

Shape = Callable[[Floats], Floats]
Terms = list[tuple[Floats, Shape]]
"""Coefficients (ncomb, m), each with its shape along the element."""


@dataclass(frozen=True, eq=False)
class EndState:
    """What the stations are computed from.

    Attributes:
        elements: geometry and stiffness.
        basic: (6, ncomb, m) basic forces, see `element`.
        local_load: (3, ncomb, m) N/m in local axes.
        load: (3, ncomb, m) the same in global axes.
        u_i, u_j: (6, ncomb, m) end displacements, global.
        slack_i, slack_j: (m,) ends that pass on no axial force.
    """

    elements: Elements
    basic: Floats
    local_load: Floats
    load: Floats
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

    def __init__(self, state: EndState, even: Floats, own: Floats | None = None):
        """Set the stations.

        Args:
            state: what they are computed from.
            even: (ns,) fractions of the length, the same for every element.
            own: (m, extra) fractions of each element's own, after those.
        """
        self._state = state
        m = len(state.elements.L)
        own = np.zeros((m, 0)) if own is None else own
        self._even, self._own = even, np.ascontiguousarray(own.T)
        alike = np.broadcast_to(even, (m, len(even)))
        self.fraction = np.concatenate([alike, own], axis=1)
        self.x = self.fraction * state.elements.L[:, None]

    def _shapes(self, shapes: Sequence[Shape]) -> tuple[Floats, list[Floats]]:
        """Return shapes at the even stations (ns, terms), and each at the own ones."""
        ns = len(self._even)
        even = np.stack([np.broadcast_to(f(self._even), ns) for f in shapes], axis=1)
        return even, [np.broadcast_to(f(self._own), self._own.shape) for f in shapes]

    def _fill(
        self, out: Floats, coefficients: Floats, shapes: tuple[Floats, list[Floats]]
    ) -> None:
        """Write sums of coefficients (terms, ncomb, m) times shapes, (K, ncomb, m)."""
        even, own = shapes
        ns = len(even)
        flat = coefficients.reshape(len(coefficients), -1)
        np.matmul(even, flat, out=out[:ns].reshape(ns, -1))
        if len(out) > ns:
            rest = out[ns:]
            rest[...] = 0.0
            for coefficient, shape in zip(coefficients, own, strict=True):
                rest += coefficient * shape[:, None, :]

    def _sum(self, terms: Terms) -> Floats:
        """Return (ncomb, m, K) sums of coefficients (ncomb, m) times shapes."""
        coefficients = np.stack([c for c, _ in terms])
        K = len(self._even) + len(self._own)
        out = np.empty((K, *coefficients.shape[1:]))
        self._fill(out, coefficients, self._shapes([f for _, f in terms]))
        return out.transpose(1, 2, 0)

    def _moment(self, row: int, axis: int) -> Floats:
        """Return the moment of one plane."""
        s = self._state
        wl2 = s.local_load[axis] * s.elements.L**2
        return self._sum(
            [
                (s.basic[row], _falling),
                (s.basic[row + 1], _rising),
                (wl2, lambda xi: -0.5 * xi * (1 - xi)),
            ]
        )

    def _shear(self, row: int, axis: int) -> Floats:
        """Return the shear of one plane."""
        s, L = self._state, self._state.elements.L
        rate = (s.basic[row + 1] - s.basic[row]) / L
        wl = s.local_load[axis] * L
        return self._sum([(rate, np.ones_like), (wl, lambda xi: xi - 0.5)])

    @cached_property
    def N(self) -> Floats:  # noqa: N802 the book's symbol
        """(ncomb, m, K) N, axial force, tension positive."""
        s = self._state
        nl = s.local_load[0] * s.elements.L
        return self._sum([(s.basic[0], np.ones_like), (nl, lambda xi: 0.5 - xi)])

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

    def _bow_terms(self, row: int, axis: int) -> Terms:
        """Return coefficients and shapes of one plane's deflection from the chord."""
        s = self._state
        EI = (s.elements.strong if row == 1 else s.elements.weak).EI
        L2 = s.elements.L**2
        soft = np.divide(L2, EI, out=np.zeros_like(EI), where=EI > 0)
        return [
            (s.basic[row] * soft, _bow_of_moment_i),
            (s.basic[row + 1] * soft, _bow_of_moment_j),
            (s.local_load[axis] * (L2 * soft), _bow_of_load),
        ]

    @cached_property
    def bow(self) -> Floats:
        """(ncomb, m, K) m, deflection along the depth from the line of the ends."""
        return self._sum(self._bow_terms(1, 2))

    @cached_property
    def displacement(self) -> Floats:
        """(ncomb, m, K, 3) m, displacement of the axis, global."""
        s, e = self._state, self._state.elements
        u_i, u_j = self._ends_of_the_bar()
        stretch = s.local_load[0] * (e.L**2 / (2 * e.EA))
        parts: list[tuple[Floats, Shape, int]] = [(stretch, _stretch_of_load, 0)]
        parts += [(*term, 1) for term in self._bow_terms(3, 1)]
        parts += [(*term, 2) for term in self._bow_terms(1, 2)]
        shapes = self._shapes([_falling, _rising, *(shape for _, shape, _ in parts)])
        K = len(self._even) + len(self._own)
        out = np.empty((3, K, *stretch.shape))
        coefficients = np.empty((2 + len(parts), *stretch.shape))
        for k in range(3):
            coefficients[0], coefficients[1] = u_i[k], u_j[k]
            for row, (c, _, axis) in enumerate(parts, start=2):
                np.multiply(c, e.axes[axis, k], out=coefficients[row])
            self._fill(out[k], coefficients, shapes)
        return out.transpose(2, 3, 1, 0)

    def _ends_of_the_bar(self) -> tuple[Floats, Floats]:
        """Return end displacements; at a slack end, of the element, not the node."""
        s, e = self._state, self._state.elements
        u_i, u_j = s.u_i[:3], s.u_j[:3]
        if not (s.slack_i.any() or s.slack_j.any()):
            return u_i, u_j
        apart = ((u_j - u_i) * e.axes[0][:, None]).sum(axis=0)
        gap = (s.basic[0] * (e.L / e.EA) - apart) * e.axes[0][:, None]
        return u_i - gap * s.slack_i, u_j + gap * s.slack_j


def _falling(xi: Floats) -> Floats:
    """Return what is 1 at i and 0 at j."""
    return 1 - xi


def _rising(xi: Floats) -> Floats:
    """Return what is 0 at i and 1 at j."""
    return xi


def _stretch_of_load(xi: Floats) -> Floats:
    """Return the axial displacement of a held bar, n L^2 / 2EA = 1."""
    return xi * (1 - xi)


def _bow_of_moment_i(xi: Floats) -> Floats:
    """Return the deflection of a simple beam by a moment at i, M L^2 / EI = 1."""
    return -xi * (1 - xi) * (2 - xi) / 6


def _bow_of_moment_j(xi: Floats) -> Floats:
    """Return the deflection of a simple beam by a moment at j, M L^2 / EI = 1."""
    return -xi * (1 - xi) * (1 + xi) / 6


def _bow_of_load(xi: Floats) -> Floats:
    """Return the deflection of a simple beam by a uniform load, w L^4 / EI = 1."""
    b = 1 - xi
    return xi * b * (1 + xi * b) / 24


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
