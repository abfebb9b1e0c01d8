"""A triangulated truss by the method of joints: two equations for every pin."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..errors import FieldError

Floats = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class PinTruss:
    """Pins and bars in one upright plane, held at two pins.

    Attributes:
        pins: name to (across, up), m.
        bars: name to its two pins.
        seat: pin that is held both ways.
        roller: pin that is held upward alone.
    """

    pins: dict[str, tuple[float, float]]
    bars: dict[str, tuple[str, str]]
    seat: str
    roller: str


def pin_forces(truss: PinTruss, down: dict[str, Floats]) -> dict[str, Floats]:
    """Return the force in every bar, tension positive.

    Source: statics, the method of joints: at every pin the forces add to nothing both
    ways, 2 j equations for b bars and 3 reactions.

    Args:
        truss: statically determinate.
        down: pin to loads on it, (c,) N, one for each combination; others have none.

    Returns:
        Bar to (c,) N.

    Raises:
        FieldError: too many or too few bars, or bars that leave it loose.
    """
    pins, bars = list(truss.pins), list(truss.bars)
    size, unknowns = 2 * len(pins), len(bars) + 3
    if size != unknowns:
        raise FieldError("bars", len(bars), f"{size - 3} bars between {len(pins)} pins")
    matrix = np.zeros((size, size))
    for column, (a, b) in enumerate(truss.bars.values()):
        way = np.subtract(truss.pins[b], truss.pins[a])
        way = way / np.linalg.norm(way)
        for pin, sign in ((a, 1.0), (b, -1.0)):
            row = 2 * pins.index(pin)
            matrix[row : row + 2, column] = sign * way
    for column, (pin, axis) in enumerate(
        ((truss.seat, 0), (truss.seat, 1), (truss.roller, 1)), start=len(bars)
    ):
        matrix[2 * pins.index(pin) + axis, column] = 1.0
    if np.linalg.cond(matrix) > 1e10:
        raise FieldError("bars", bars, "triangles: these bars can move")
    count = max(len(np.atleast_1d(load)) for load in down.values())
    load = np.zeros((size, count))
    for pin, force in down.items():
        load[2 * pins.index(pin) + 1] = force
    found = np.linalg.solve(matrix, load)
    return {bar: found[n] for n, bar in enumerate(bars)}
