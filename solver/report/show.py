"""Numbers as a reader of the brief's own units sees them.

Formats; computes nothing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..trace.wording import area_words
from ..units import (
    DEGREE,
    FOOT,
    INCH,
    POUND,
    POUND_FOOT,
    PSI,
    System,
    show_force,
    show_length,
    show_line_load,
    show_moment,
    show_pressure,
    show_small_length,
    show_stress,
)

_PRECISE = {
    System.IMPERIAL: {
        "Pa": (PSI, "psi"), "N": (POUND, "lb"), "N m": (POUND_FOOT, "lb-ft"),
        "m": (INCH, "in"), "m2": (INCH**2, "in²"), "m3": (INCH**3, "in³"),
        "m4": (INCH**4, "in⁴"), "N/m": (POUND / FOOT, "plf"), "rad": (DEGREE, "°"),
    },
    System.METRIC: {
        "Pa": (1e6, "MPa"), "N": (1.0, "N"), "N m": (1.0, "N m"),
        "m": (1e-3, "mm"), "m2": (1e-6, "mm²"), "m3": (1e-9, "mm³"),
        "m4": (1e-12, "mm⁴"), "N/m": (1.0, "N/m"), "rad": (DEGREE, "°"),
    },
}  # fmt: skip

_BOUNDLESS = 1e12  # Pa: the basis' way to say that nothing buckles


@dataclass(frozen=True)
class Show:
    """Formats of one unit system."""

    system: System

    def length(self, value: float) -> str:
        """Return a building length."""
        return show_length(value, self.system)

    def small(self, value: float | None) -> str:
        """Return a sag or a size, a dash where there is none."""
        return "–" if value is None else show_small_length(value, self.system)

    def force(self, value: float) -> str:
        """Return a force."""
        return show_force(_plain(value, 0.5), self.system)

    def moment(self, value: float) -> str:
        """Return a moment."""
        return show_moment(_plain(value, 0.5), self.system)

    def stress(self, value: float) -> str:
        """Return a stress."""
        return show_stress(value, self.system)

    def pressure(self, value: float) -> str:
        """Return a surface load."""
        return show_pressure(value, self.system)

    def line_load(self, value: float) -> str:
        """Return a line load."""
        return show_line_load(value, self.system)

    def area(self, value: float) -> str:
        """Return a plan area."""
        return area_words(value, self.system)

    def precise(self, value: float, unit: str) -> str:
        """Return a value of a calculation with five figures and its unit.

        Args:
            value: in SI units.
            unit: as a check record names it; empty for a ratio.
        """
        if unit == "Pa" and value > _BOUNDLESS:
            return "no limit"
        factor, name = _PRECISE[self.system].get(unit, (1.0, unit))
        return f"{figures(value / factor)} {name}".rstrip()


def figures(value: float, count: int = 5) -> str:
    """Return a number with some significant figures and without an exponent."""
    if not math.isfinite(value):
        return "no limit" if value > 0 else "–"
    if value == 0 or abs(value) < 1e-12:
        return "0"
    places = count - 1 - math.floor(math.log10(abs(value)))
    if places <= 0:
        return f"{value:,.0f}"
    text = f"{value:,.{min(places, 9)}f}"
    return text.rstrip("0").rstrip(".") or "0"


def use(value: float | None) -> str:
    """Return a use with two decimals that never rounds over to within the limit."""
    if value is None:
        return "–"
    text = f"{value:.2f}"
    if value > 1 and text == "1.00":
        return f"{value:.4f}"
    if value < 1 and text == "1.00":
        return f"{math.floor(value * 1e4) / 1e4:.4f}"
    return text


def _plain(value: float, least: float) -> float:
    """Return 0 for a force too small to show, so that no -0 is printed."""
    return 0.0 if abs(value) < least else value
