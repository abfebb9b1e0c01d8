"""Where a use reaches its limit, for many members at once."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ..basis.arrays import Floats

_STEPS = 60
_EXACT = 1e-5  # of a limit


def crossings(
    use: Callable[[Floats], Floats],
    low: Floats,
    high: Floats,
    use_low: Floats,
    use_high: Floats,
) -> Floats:
    """Return where uses cross 1, (n,); ``low`` where they do not within the bracket.

    The straight line between both ends, with what stays of the bracket counted for
    half (the Illinois method, any textbook of numerical analysis).

    Args:
        use: of (n,) values, the use of each.
        low: (n,) values where each is at most 1.
        high: (n,) values where each is over 1.
        use_low: uses at ``low``.
        use_high: uses at ``high``.
    """
    below, above = use_low - 1, use_high - 1
    open_ = (below <= 0) & (above > 0)
    found = low.copy()
    for _ in range(_STEPS):
        if not open_.any():
            break
        part = np.where(open_, -below / np.where(open_, above - below, 1.0), 0.0)
        middle = low + np.clip(part, 0.0, 1.0) * (high - low)
        here = use(middle) - 1
        found = np.where(open_, middle, found)
        over = here > 0
        below = np.where(over, below / 2, here)
        above = np.where(over, here, above / 2)
        low, high = np.where(over, low, middle), np.where(over, middle, high)
        open_ &= np.abs(here) > _EXACT
    return found
