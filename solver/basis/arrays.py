"""The types that clause functions take and give: a number, or an array of them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Real = float | Floats


def floats(value: Real) -> Floats:
    """Return a number or an array as an array of floats."""
    return np.asarray(value, dtype=np.float64)
