"""Numbers as results.json holds them: finite, in a stated unit."""

from __future__ import annotations

import math
from typing import Any

import numpy as np


def number(value: float | None, unit: float = 1.0) -> float | None:
    """Return a finite number in a unit, None for None."""
    if value is None:
        return None
    value = float(value) / unit
    if not math.isfinite(value):
        raise ValueError(f"a result is not finite: {value}")
    return value


def by_name(names: tuple[str, ...], values: np.ndarray, unit: float) -> dict[str, Any]:
    """Return values by combination name."""
    return {n: number(v, unit) for n, v in zip(names, values.tolist(), strict=True)}
