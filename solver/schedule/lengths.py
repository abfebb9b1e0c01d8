"""Lengths that lumber is sold in, and where a longer run is put together.

Common practice, no source: sawn lumber in even feet from 8 ft to 24 ft (metric: steps
of 0.3 m from 2.4 m), engineered lumber cut to order in whole steps up to 60 ft.
"""

from __future__ import annotations

import math

from ..basis import steel
from ..basis.materials import is_sawn
from ..units import FOOT, System

_STEP = {System.IMPERIAL: 2 * FOOT, System.METRIC: 0.3}
_LEAST = {System.IMPERIAL: 8 * FOOT, System.METRIC: 2.4}
_SAWN, _ENGINEERED = 24 * FOOT, 60 * FOOT
_EASY = 16 * FOOT  # runs are put together from lengths of about this


def longest_stock(species: str) -> float:
    """Return the longest length that a species group, or steel, is sold in, m."""
    if species == steel.SPECIES:
        return steel.LONGEST_FT * FOOT
    return _SAWN if is_sawn(species) else _ENGINEERED


def stock_length(length: float, species: str, system: System) -> float | None:
    """Return the shortest length sold that a stick is cut from, m.

    Args:
        length: m, of the stick.
        species: its species group.
        system: of the lumber yard.

    Returns:
        None where nothing so long is sold.
    """
    step = _STEP[system]
    steps = math.ceil(max(length, _LEAST[system]) / step - 1e-6)
    found = steps * step
    return found if found <= longest_stock(species) + 1e-6 else None


def splits(whole: float, most: float, marks: list[float] | None) -> list[float]:
    """Return where a run is spliced, m from its start.

    Args:
        whole: m, length of the run.
        most: m, longest stick.
        marks: m, where it may be spliced; None for anywhere.

    Returns:
        The fewest places near even parts; where the marks leave a part too long it
        stays too long.
    """
    parts = math.ceil(whole / min(most, _EASY) - 1e-9)
    even = [whole * n / parts for n in range(1, parts)]
    if marks is None:
        return even
    inner = [m for m in marks if 1e-6 < m < whole - 1e-6]
    near = {min(inner, key=lambda m, at=at: abs(m - at)) for at in even if inner}
    return sorted(near)
