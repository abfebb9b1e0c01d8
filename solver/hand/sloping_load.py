"""A continuous beam on rigid supports under a load that grows along it.

Closed forms of any handbook; nothing here knows of roofs. Source: three-moment equation
(Clapeyron) with the load terms of triangular loads (common statics): of a span L under
a load from q at the left to r at the right, ``(8 q + 7 r) L^3 / 60`` counts at the left
support and ``(7 q + 8 r) L^3 / 60`` at the right one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class SlopingLoadBeam:
    """A beam under a load that grows along it in proportion.

    Attributes:
        reactions: (k+1,) N.
        support_moments: (k+1,) N m, hogging negative.
        span_moments: (k,) N m, largest sagging moment within each span.
    """

    reactions: Floats
    support_moments: Floats
    span_moments: Floats

    @property
    def largest_moment(self) -> float:
        """Largest moment of either sign, N m, as a positive number."""
        hogging = float(np.abs(self.support_moments).max())
        return max(hogging, float(self.span_moments.max(initial=0.0)))


def beam_under_sloping_load(
    stops: Floats, load: float, growth: float
) -> SlopingLoadBeam:
    """Return reactions and moments under the load ``load + growth x``.

    Args:
        stops: (k+1,) m, places of the supports, the first at 0, in order.
        load: N/m at the first support, downward positive.
        growth: N/m per m.
    """
    stops = np.asarray(stops, dtype=float)
    span = np.diff(stops)
    q = load + growth * stops
    left, right = q[:-1], q[1:]
    moments = np.zeros(len(stops))
    if len(span) > 1:
        matrix = np.diag(2 * (span[:-1] + span[1:]))
        matrix += np.diag(span[1:-1], 1) + np.diag(span[1:-1], -1)
        at_left = (8 * left + 7 * right) * span**3 / 60
        at_right = (7 * left + 8 * right) * span**3 / 60
        moments[1:-1] = np.linalg.solve(matrix, -(at_right[:-1] + at_left[1:]))
    slope = (moments[1:] - moments[:-1]) / span
    shear = (2 * left + right) * span / 6 + slope  # just right of the left support
    reactions = np.zeros(len(stops))
    reactions[:-1] += shear
    reactions[1:] += (left + right) * span / 2 - shear
    sagging = [
        _largest_between(m, v, a, growth, length)
        for m, v, a, length in zip(moments, shear, left, span, strict=False)
    ]
    return SlopingLoadBeam(reactions, moments, np.array(sagging))


def _largest_between(
    moment: float, shear: float, load: float, growth: float, length: float
) -> float:
    """Return the largest moment of a span, at its ends or where shear is zero."""
    roots = np.roots([growth / 2, load, -shear])
    real = roots[np.abs(roots.imag) < 1e-9].real
    x = np.concatenate([[0.0, length], real[(real > 0) & (real < length)]])
    return float((moment + shear * x - load * x**2 / 2 - growth * x**3 / 6).max())
