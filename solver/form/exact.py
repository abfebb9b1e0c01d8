"""Lines that move inward as the height grows, in whole numbers.

A roof is cut level at a growing height; each edge's line in that cut moves inward at
run over rise. Where three such lines meet is a quotient of determinants, so with whole
numbers every question of before or after has an exact answer. Knows nothing of roofs
beyond that.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

UNIT_BITS = 44  # lengths are whole multiples of 2^-44 m


class MovingLine(NamedTuple):
    """The line A x + B y + C = W z; it is positive on the side it moves to."""

    A: int
    B: int
    C: int
    W: int


class Height:
    """An exact height, numerator over a positive denominator."""

    __slots__ = ("denominator", "numerator", "value")

    def __init__(self, numerator: int, denominator: int):
        self.numerator = numerator
        self.denominator = denominator
        self.value = numerator / denominator  # rounds correctly, so never misorders

    def __lt__(self, other: Height) -> bool:
        if self.value != other.value:
            return self.value < other.value
        return self.numerator * other.denominator < other.numerator * self.denominator


@dataclass(frozen=True, slots=True)
class Track:
    """Where two moving lines cross: x = (X0 + X1 z) / D, y = (Y0 + Y1 z) / D.

    Attributes:
        is_convex: whether the second line turns left from the first.
    """

    X0: int
    X1: int
    Y0: int
    Y1: int
    D: int
    is_convex: bool

    def at(self, height: Height) -> tuple[int, int, int]:
        """Return (X, Y, Q): the point X / Q, Y / Q at a height, Q positive."""
        n, d = height.numerator, height.denominator
        return self.X0 * d + self.X1 * n, self.Y0 * d + self.Y1 * n, self.D * d

    def meets(self, line: MovingLine) -> tuple[Height, bool] | None:
        """Return when the track is on a third line, and whether it comes from ahead.

        None where it never meets the line.
        """
        rate = line.A * self.X1 + line.B * self.Y1 - line.W * self.D
        if rate == 0:
            return None
        gap = line.A * self.X0 + line.B * self.Y0 + line.C * self.D
        if rate < 0:
            return Height(gap, -rate), True
        return Height(-gap, rate), False


def track_of(before: MovingLine, after: MovingLine) -> Track | None:
    """Return where two lines cross as the height grows; None if they are parallel."""
    Aa, Ba, Ca, Wa = before
    Ab, Bb, Cb, Wb = after
    D = Aa * Bb - Ab * Ba
    if D == 0:
        return None
    X0, X1 = Ba * Cb - Bb * Ca, Wa * Bb - Wb * Ba
    Y0, Y1 = Ab * Ca - Aa * Cb, Aa * Wb - Ab * Wa
    if D < 0:
        return Track(-X0, -X1, -Y0, -Y1, -D, False)
    return Track(X0, X1, Y0, Y1, D, True)


def along(line: MovingLine, point: tuple[int, int, int]) -> tuple[int, int]:
    """Return how far along a line a point lies, as a quotient, in the line's sense."""
    X, Y, Q = point
    return line.B * X - line.A * Y, Q


def is_less(one: tuple[int, int], other: tuple[int, int]) -> bool:
    """Return whether one quotient is less than another; denominators positive."""
    return one[0] * other[1] < other[0] * one[1]
