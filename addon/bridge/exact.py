"""Numbers that survive Blender's single precision.

A property holds 24 bits; a brief holds 53. The number that a person would have written
is found again where it can be, and kept aside as text where it cannot.
"""

import json
from collections.abc import Callable
from enum import Enum, auto
from typing import Any

import numpy as np

from ...solver.units import FOOT, INCH


class Grain(Enum):
    """How a person writes a number of some kind."""

    LENGTH = auto()  # m: whole feet, else 1/64 in, else 0.1 mm
    LOAD = auto()  # psf or kPa: four decimals
    PITCH = auto()  # rise in 12: four decimals
    PLAIN = auto()  # six decimals


_DECIMALS = {Grain.LOAD: 4, Grain.PITCH: 4, Grain.PLAIN: 6}


def to_property(value: float, factor: float) -> float:
    """Return what a property shows of a value: single precision, in its own unit."""
    return float(np.float32(value / factor))


def nearest_written(shown: float, grain: Grain, factor: float) -> float:
    """Return the value that a person would have written to get what is shown.

    Args:
        shown: the property's single-precision number.
        grain: how such numbers are written.
        factor: SI per unit of the property.

    Returns:
        SI; always a value that the property shows as ``shown``.
    """
    candidates: tuple[Callable[[], float], ...]
    if grain is Grain.LENGTH:
        metres = shown * factor
        candidates = (
            lambda: round(metres / FOOT) * FOOT,
            lambda: round(metres / INCH * 64) / 64 * INCH,
            lambda: round(metres, 4),
        )
    else:
        candidates = (lambda: round(shown, _DECIMALS[grain]) * factor,)
        if grain is Grain.PITCH:
            candidates = (lambda: round(shown, _DECIMALS[grain]) / 12,)
    if np.isfinite(shown):
        for candidate in candidates:
            value = candidate()
            if to_property(value, factor) == shown:
                return value
    return float(str(np.float32(shown))) * factor


def read(group: object, name: str, grain: Grain, factor: float) -> float:
    """Return a property's value, SI."""
    shown = getattr(group, name)
    kept = _kept(group).get(name)
    if kept is not None and to_property(kept, factor) == shown:
        return kept
    return nearest_written(shown, grain, factor)


def write(group: object, name: str, value: float, grain: Grain, factor: float) -> None:
    """Set a property to an SI value; keep the value aside where it shows too little."""
    shown = to_property(value, factor)
    setattr(group, name, shown)
    kept = _kept(group)
    kept.pop(name, None)
    if nearest_written(getattr(group, name), grain, factor) != value:
        kept[name] = value
    group.exact = json.dumps(kept) if kept else ""  # type: ignore[attr-defined]


def read_point(group: object, name: str, factor: float) -> tuple[float, ...]:
    """Return a plan point, m."""
    shown = tuple(getattr(group, name))
    kept = _kept(group).get(name)
    if kept is not None and tuple(to_property(v, factor) for v in kept) == shown:
        return tuple(kept)
    return tuple(nearest_written(v, Grain.LENGTH, factor) for v in shown)


def write_point(
    group: object, name: str, point: tuple[float, ...], factor: float
) -> None:
    """Set a plan point, m; keep it aside where the property shows too little."""
    setattr(group, name, [to_property(v, factor) for v in point])
    kept = _kept(group)
    kept.pop(name, None)
    if read_point(group, name, factor) != point:
        kept[name] = list(point)
    group.exact = json.dumps(kept) if kept else ""  # type: ignore[attr-defined]


def _kept(group: object) -> dict[str, Any]:
    """Return the values that a group keeps aside."""
    text = group.exact  # type: ignore[attr-defined]
    return json.loads(text) if text else {}
