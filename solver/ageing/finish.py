"""When a ceiling's finish may crack because what holds it moves apart."""

from __future__ import annotations

CRACKING_SLOPE = 1 / 300
SOURCE = (
    "A difference of 1/300 of the distance is where panel walls first crack (Skempton "
    "and MacDonald, The allowable settlements of buildings, 1956; from memory). It is "
    "carried over to a ceiling by analogy: no code states a limit for joists side by "
    "side. The finish is taken to go up when the dead load is there."
)


def cracking_difference(apart: float) -> float:
    """Return the difference, m, over which a finish may crack.

    Source: ``SOURCE``, by analogy and from memory.

    Args:
        apart: m, distance between the two members.
    """
    return CRACKING_SLOPE * apart
