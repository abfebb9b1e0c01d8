"""Statics by hand: simple spans and continuous beams on rigid supports.

Closed forms of any handbook; nothing here knows of roofs. Sources: three-moment
equation (Clapeyron); point and uniform loads on a simple span, Wood Handbook (2010)
table 9-1 and common statics.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
_UNIT = np.linspace(0.0, 1.0, 241)


@dataclass(frozen=True, eq=False)
class ContinuousBeam:
    """A beam under a uniform load, continuous over rigid supports.

    Attributes:
        reactions: (k+1,) N, one for each support.
        support_moments: (k+1,) N m, hogging negative.
        span_moments: (k,) N m, largest sagging moment within each span.
    """

    reactions: Floats
    support_moments: Floats
    span_moments: Floats

    @property
    def largest_moment(self) -> float:
        """Largest moment of either sign, N m, as a positive number."""
        return float(
            max(np.abs(self.support_moments).max(), self.span_moments.max(initial=0.0))
        )


def continuous_beam(spans: Floats, load: float) -> ContinuousBeam:
    """Return reactions and moments of a continuous beam of constant section.

    Source: three-moment equation,
    ``M0 a + 2 M1 (a + b) + M2 b = -w (a^3 + b^3) / 4``.

    Args:
        spans: (k,) m, each above 0.
        load: N/m, downward positive.
    """
    a = np.asarray(spans, dtype=float)
    count = len(a)
    moments = np.zeros(count + 1)
    if count > 1:
        left, right = a[:-1], a[1:]
        matrix = np.diag(2 * (left + right))
        matrix += np.diag(a[1:-1], 1) + np.diag(a[1:-1], -1)
        moments[1:-1] = np.linalg.solve(matrix, -load * (left**3 + right**3) / 4)
    slope = (moments[1:] - moments[:-1]) / a
    reactions = np.zeros(count + 1)
    reactions[:-1] += load * a / 2 + slope
    reactions[1:] += load * a / 2 - slope
    shear = load * a / 2 + slope
    if load > 0:
        at = np.clip(shear / load, 0.0, a)
        middle = moments[:-1] + shear * at - load * at**2 / 2
    else:
        middle = np.maximum(moments[:-1], moments[1:])
    return ContinuousBeam(reactions, moments, middle)


@dataclass(frozen=True, eq=False)
class SimpleSpan:
    """A simple span under a uniform load and point loads, in several combinations.

    Attributes:
        moment: (c,) N m, of largest size.
        moment_at: (c,) m, where.
        sag: (c,) m, of largest size.
        sag_at: (c,) m, where.
    """

    moment: Floats
    moment_at: Floats
    sag: Floats
    sag_at: Floats


def simple_span(
    span: float,
    load: Floats,
    points: Sequence[tuple[float, Floats]],
    stiffness: float,
) -> SimpleSpan:
    """Return the largest moments and sags of a simple span.

    The sag under a point load P at a from one end, b from the other, is
    ``P b x (L^2 - b^2 - x^2) / (6 E I L)`` for x up to a.

    Args:
        span: m.
        load: (c,) N/m, downward positive.
        points: place from the start in m, and (c,) force in N, downward positive.
        stiffness: E I, N m2.
    """
    load = np.atleast_1d(np.asarray(load, dtype=float))
    inside = [(a, np.atleast_1d(force)) for a, force in points if 0 < a < span]
    x = np.unique(np.concatenate([_UNIT * span, [a for a, _ in inside]]))
    moment = np.outer(load, x * (span - x) / 2)
    shape = x * (span**3 - 2 * span * x**2 + x**3) / (24 * stiffness)
    sag = np.outer(load, shape)
    for a, force in inside:
        b, far = span - a, span - x
        near = x <= a
        moment += np.outer(force, np.where(near, b * x, a * far) / span)
        left = b * x * (span**2 - b**2 - x**2)
        right = a * far * (span**2 - a**2 - far**2)
        bow = np.where(near, left, right) / (6 * stiffness * span)
        sag += np.outer(force, bow)
    c = np.arange(len(load))
    m, s = np.abs(moment).argmax(axis=1), np.abs(sag).argmax(axis=1)
    return SimpleSpan(moment[c, m], x[m], sag[c, s], x[s])
