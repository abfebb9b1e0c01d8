"""Forces, moments and the exact deflected shape along the elements.

Between its ends an element under uniform load has linear axial force and shear,
parabolic moment and a quartic shape; all are evaluated in closed form from the basic
forces and the end displacements, so there is no error of subdivision.

Source: integration of M = EI w'' for end moments and a uniform load, any textbook of
structural analysis.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from .element import Elements
from .frame import Bools, Floats, Ints

_ASIDE = 1e-14  # of a unit vector: less is rounding of a right angle

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
    """

    def __init__(self, state: EndState, even: Floats, peaks: bool = False):
        """Set the stations.

        Args:
            state: what they are computed from.
            even: (ns,) fractions of the length, the same for every element, both ends
                among them.
            peaks: also where the strong shear of each combination vanishes.
        """
        self._state, self._even = state, even
        self._known: dict[str, Terms] = {}
        m = len(state.elements.L)
        self._peaks = zero_shear(state) if peaks else None  # (ncomb, m)
        self._own = np.zeros((0, m)) if self._peaks is None else self._peaks

    @cached_property
    def fraction(self) -> Floats:
        """(m, K) station over the length of its element."""
        alike = np.broadcast_to(self._even, (self._own.shape[1], len(self._even)))
        return np.concatenate([alike, self._own.T], axis=1)

    @cached_property
    def x(self) -> Floats:
        """(m, K) m from end i."""
        return self.fraction * self._state.elements.L[:, None]

    @property
    def length(self) -> Floats:
        """(m,) m, of the elements."""
        return self._state.elements.L

    def _evaluate(self, terms: Terms, own: Floats) -> Floats:
        """Return (K, ncomb, e) sums of coefficients (ncomb, e) times shapes.

        Args:
            terms: coefficients and shapes.
            own: (extra, 1 or ncomb, e) own stations of the elements.
        """
        ncomb, e = terms[0][0].shape
        ns = len(self._even)
        even = np.stack([np.broadcast_to(f(self._even), ns) for _, f in terms], axis=1)
        flat = np.stack([c for c, _ in terms]).reshape(len(terms), -1)
        out = np.empty((ns + len(own), ncomb, e))
        np.matmul(even, flat, out=out[:ns].reshape(ns, -1))
        if len(own):
            rest = out[ns:]
            (first, shape), *others = terms
            np.multiply(first, shape(own), out=rest)
            for coefficient, shape in others:
                rest += coefficient * shape(own)
        return out

    def _sum(self, terms: Terms) -> Floats:
        """Return (ncomb, m, K) sums of coefficients (ncomb, m) times shapes."""
        return self._evaluate(terms, self._own[:, None]).transpose(1, 2, 0)

    def _terms(self, quantity: str) -> Terms:
        """Return coefficients and shapes of one force, e.g. ``M_strong``."""
        if quantity not in self._known:
            self._known[quantity] = self._terms_of(quantity)
        return self._known[quantity]

    def _terms_of(self, quantity: str) -> Terms:
        """Return the same, worked out."""
        s, L = self._state, self._state.elements.L
        if quantity == "N":
            nl = s.local_load[0] * L
            return [(s.basic[0], np.ones_like), (nl, lambda xi: 0.5 - xi)]
        row, axis = (1, 2) if quantity.endswith("strong") else (3, 1)
        if quantity.startswith("M"):
            wl2 = s.local_load[axis] * L**2
            return [
                (s.basic[row], _falling),
                (s.basic[row + 1], _rising),
                (wl2, lambda xi: -0.5 * xi * (1 - xi)),
            ]
        rate = (s.basic[row + 1] - s.basic[row]) / L
        return [(rate, np.ones_like), (s.local_load[axis] * L, lambda xi: xi - 0.5)]

    def high_low(self, quantity: str) -> tuple[Floats, Floats]:
        """Return the extremes of one force over the stations of each element.

        Axial force and shear are linear, so their ends decide; so do the ends and the
        point of zero shear for the strong moment, where that is among the stations.

        Args:
            quantity: name of an attribute, e.g. ``M_strong``.

        Returns:
            (ncomb, m) largest, (ncomb, m) smallest.
        """
        terms = self._terms(quantity)
        if quantity == "M_weak" or (quantity == "M_strong" and self._peaks is None):
            if not any(c.any() for c, _ in terms):
                return terms[0][0], terms[0][0]
            values = self._sum(terms).transpose(2, 0, 1)
            return np.maximum.reduce(values), np.minimum.reduce(values)
        if quantity == "M_strong":
            i, j, xi = terms[0][0], terms[1][0], self._peaks
            peak = i * (1 - xi) + j * xi - 0.5 * terms[2][0] * (xi * (1 - xi))
            high, low = np.maximum(i, j), np.minimum(i, j)
            return np.maximum(high, peak, out=high), np.minimum(low, peak, out=low)
        (mean, _), (slope, _) = terms
        half = np.abs(0.5 * slope)
        return mean + half, mean - half

    def ends(self, quantity: str) -> tuple[Floats, Floats]:
        """Return (ncomb, m) of axial force or a shear at both ends of each element."""
        (mean, _), (slope, shape) = self._terms(quantity)
        first, last = shape(np.array([0.0, 1.0])).tolist()
        return mean + first * slope, mean + last * slope

    @property
    def governing(self) -> int:
        """How many stations `part` and `in_combination` look at."""
        return len(self._even) + (self._peaks is not None)

    def part(self, quantity: str, elements: Ints) -> Floats:
        """Return one force where it may govern, for some elements.

        Args:
            quantity: name of an attribute, e.g. ``M_strong``.
            elements: (e,).

        Returns:
            (K, ncomb, e) at the even stations, then at the peak of each combination.
        """
        own = np.zeros((0, 1, len(elements)))
        if self._peaks is not None:
            own = self._peaks[None, :, elements]
        terms = [(c[:, elements], shape) for c, shape in self._terms(quantity)]
        return self._evaluate(terms, own)

    def in_combination(self, quantity: str, combination: Ints) -> Floats:
        """Return (K, m) of the same, each element in its own combination (m,)."""
        at = np.arange(len(combination))
        own = np.zeros((0, 1, len(at)))
        if self._peaks is not None:
            own = self._peaks[combination, at][None, None]
        terms = [(c[combination, at][None], f) for c, f in self._terms(quantity)]
        return self._evaluate(terms, own)[:, 0]

    def place(self, element: Ints, combination: Ints, station: Ints) -> Floats:
        """Return (k,) m from end i to stations of `part`."""
        even = self._even[np.minimum(station, len(self._even) - 1)]
        if self._peaks is not None:
            peak = self._peaks[combination, element]
            even = np.where(station < len(self._even), even, peak)
        return even * self.length[element]

    @cached_property
    def N(self) -> Floats:  # noqa: N802 the book's symbol
        """(ncomb, m, K) N, axial force, tension positive."""
        return self._sum(self._terms("N"))

    @cached_property
    def M_strong(self) -> Floats:  # noqa: N802
        """(ncomb, m, K) N m, moment in the plane of the depth, sagging positive."""
        return self._sum(self._terms("M_strong"))

    @cached_property
    def M_weak(self) -> Floats:  # noqa: N802
        """(ncomb, m, K) N m, moment across it; positive: tension at -y."""
        return self._sum(self._terms("M_weak"))

    @cached_property
    def V_strong(self) -> Floats:  # noqa: N802
        """(ncomb, m, K) N, rate of change of the strong moment."""
        return self._sum(self._terms("V_strong"))

    @cached_property
    def V_weak(self) -> Floats:  # noqa: N802
        """(ncomb, m, K) N, rate of change of the weak moment."""
        return self._sum(self._terms("V_weak"))

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
    def _moved(self) -> list[tuple[Floats, Shape, int]]:
        """Coefficients (ncomb, m), shapes and local axes of the bar's own shape."""
        s, e = self._state, self._state.elements
        stretch = s.local_load[0] * (e.L**2 / (2 * e.EA))
        parts: list[tuple[Floats, Shape, int]] = [(stretch, _stretch_of_load, 0)]
        parts += [(*term, 1) for term in self._bow_terms(3, 1)]
        return parts + [(*term, 2) for term in self._bow_terms(1, 2)]

    def _moved_along(self, direction: Floats) -> Terms:
        """Return coefficients and shapes of the displacement along (3, m) vectors."""
        aside = (self._state.elements.axes * direction).sum(axis=1)
        far = np.abs(aside).max(axis=1, initial=0.0) > _ASIDE
        terms: Terms = [
            ((u * direction[:, None]).sum(axis=0), shape)
            for u, shape in zip(self._bar_ends, (_falling, _rising), strict=True)
        ]
        return terms + [(c * aside[k], f) for c, f, k in self._moved if far[k]]

    def along(self, direction: Floats) -> Floats:
        """Return the displacement along one direction for each element.

        Args:
            direction: (m, 3) global.

        Returns:
            (K, ncomb, m) m.
        """
        return self._evaluate(
            self._moved_along(np.ascontiguousarray(direction.T)), self._own[:, None]
        )

    @cached_property
    def displacement(self) -> Floats:
        """(ncomb, m, K, 3) m, displacement of the axis, global."""
        K, m = len(self._even) + len(self._own), self._own.shape[1]
        out = np.empty((3, K, self._state.basic.shape[1], m))
        for k in range(3):
            axis = np.zeros((3, m))
            axis[k] = 1.0
            out[k] = self._evaluate(self._moved_along(axis), self._own[:, None])
        return out.transpose(2, 3, 1, 0)

    @cached_property
    def _bar_ends(self) -> tuple[Floats, Floats]:
        """End displacements; at a slack end, of the element, not the node."""
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
