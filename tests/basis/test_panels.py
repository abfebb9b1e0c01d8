"""Plywood in its plane: tension strips and shear through the thickness."""

from __future__ import annotations

import pytest
from loadfall.solver.basis.panels import (
    panel_of,
    shear_length,
    size_factor,
    strip_width,
)
from loadfall.solver.units import INCH, PLF, POUND


def test_the_rating_is_that_of_plywood_no_thicker():
    assert panel_of(0.5 * INCH).rating == "32/16"
    assert panel_of(0.75 * INCH).rating == "48/24"
    assert panel_of(0.375 * INCH).rating == "24/0"
    assert panel_of(0.25 * INCH) is None


@pytest.mark.parametrize(("width", "factor"), [(4, 0.5), (8, 0.5), (16, 0.75), (24, 1),
                                               (48, 1)])  # fmt: skip
def test_narrow_strips_hold_less(width, factor):
    """C_s = (8 + w) / 32 between 8 and 24 in (APA Panel Design Specification)."""
    assert size_factor(width * INCH) == pytest.approx(factor)


@pytest.mark.parametrize("force", [50.0, 400.0, 900.0, 1700.0, 4000.0])
def test_a_strip_of_the_width_holds_just_the_force(force):
    tension = 1250 * PLF
    width = strip_width(force * POUND, tension, 1.15)
    held = width * tension * 1.15 * size_factor(width)
    assert held == pytest.approx(force * POUND, rel=1e-9)


def test_by_hand():
    """300 lb on a strip of 1,250 lb/ft at C_D 1.15, C_s 0.5; and 62 lb/in in shear."""
    width = 300 / (1250 / 12 * 1.15 * 0.5)
    panel = panel_of(0.5 * INCH)
    assert strip_width(300 * POUND, panel.tension_across, 1.15) / INCH == pytest.approx(
        width
    )
    assert shear_length(300 * POUND, panel.shear, 1.15) / INCH == pytest.approx(
        300 / 62 / 1.15
    )
