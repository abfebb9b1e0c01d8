"""Plywood in its plane: what a strip of it holds in tension and in shear.

Source: APA Panel Design Specification, Tables 4A and 4B and its section on panel size
and load duration, three-ply rated sheathing, from memory.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from ..units import INCH, PLF, POUND

CLAUSE = "APA Panel Design Specification, Tables 4A and 4B, C_D and C_s"
_TABLE = Path(__file__).parent / "data" / "panels.csv"
_NARROW, _WIDE = 8 * INCH, 24 * INCH
_HAIR = 1e-6


@dataclass(frozen=True, kw_only=True)
class Panel:
    """One span rating of rated plywood.

    Attributes:
        rating: such as ``32/16``.
        thickness: m, least of the rating.
        tension_along, tension_across: N/m of width, along and across the face grain.
        shear: N/m of length, through the thickness.
    """

    rating: str
    thickness: float
    tension_along: float
    tension_across: float
    shear: float


@lru_cache(maxsize=1)
def _panels() -> tuple[Panel, ...]:
    """Return the table, the thinnest first."""
    with _TABLE.open(encoding="utf-8", newline="") as file:
        return tuple(
            Panel(
                rating=row["span_rating"],
                thickness=float(row["thickness_in"]) * INCH,
                tension_along=float(row["tension_along_lb_ft"]) * PLF,
                tension_across=float(row["tension_across_lb_ft"]) * PLF,
                shear=float(row["shear_lb_in"]) * POUND / INCH,
            )
            for row in csv.DictReader(file)
        )


def panel_of(thickness: float) -> Panel | None:
    """Return the strongest rating that is no thicker than m, None below them all."""
    known = [p for p in _panels() if p.thickness <= thickness + _HAIR]
    return known[-1] if known else None


def size_factor(width: float) -> float:
    """Return C_s of a strip of m: 0.5 to 8 in, 1 from 24 in, a line between."""
    part = (width - _NARROW) / (_WIDE - _NARROW)
    return 0.5 + 0.5 * min(max(part, 0.0), 1.0)


def strip_width(force: float, tension: float, C_D: float) -> float:
    """Return the width of a strip that holds a force in tension, m.

    A strip of w holds ``w tension C_D C_s``, and C_s grows with w, so the width is the
    root of a quadratic between 8 and 24 in.

    Args:
        force: N, 0 or more.
        tension: N/m of width.
        C_D: load duration factor.
    """
    needed = force / (tension * C_D)  # m, with C_s of 1
    if needed <= 0.5 * _NARROW:
        return 2.0 * needed
    if needed >= _WIDE:
        return needed
    b = 0.5 - 0.5 * _NARROW / (_WIDE - _NARROW)  # C_s = b + a w
    a = 0.5 / (_WIDE - _NARROW)
    return (-b + (b * b + 4.0 * a * needed) ** 0.5) / (2.0 * a)


def shear_length(force: float, shear: float, C_D: float) -> float:
    """Return the length of a line through the thickness that holds a force, m."""
    return force / (shear * C_D)
