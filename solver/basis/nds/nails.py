"""Nails: sizes, bearing strengths, lateral yield modes and withdrawal.

One nail in single shear between two pieces of wood; how many a joint has, and what it
must carry, come from elsewhere.
"""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from pathlib import Path

from ...errors import ScopeError, TableError
from ...units import INCH, PLF, PSI

_NAILS = Path(__file__).parents[1] / "data" / "nails.csv"
# Bending yield strength of common wire by diameter, in and ksi: NDS 2018 Table I1.
_YIELD = ((0.142, 100.0), (0.177, 90.0), (0.236, 80.0), (0.273, 70.0), (0.344, 60.0))
_LARGEST_DOWEL = 0.25 * INCH
_TIP = 2  # tapered tip, diameters
LEAST_PENETRATION = 6  # diameters, NDS 2018 12.1.6.5


@dataclass(frozen=True)
class Nail:
    """A nail.

    Attributes:
        name: such as ``16d common``.
        diameter: m.
        length: m.
    """

    name: str
    diameter: float
    length: float


class YieldMode(StrEnum):
    """Yield modes of NDS 2018 12.3.1."""

    MAIN_BEARING = "Im"
    SIDE_BEARING = "Is"
    ROTATION = "II"
    MAIN_HINGE = "IIIm"
    SIDE_HINGE = "IIIs"
    TWO_HINGES = "IV"


@dataclass(frozen=True, kw_only=True)
class LateralValue:
    """Reference lateral design value of one nail in single shear.

    Attributes:
        Z: N, before every adjustment factor.
        mode: governing yield mode.
        modes: Z by mode, N.
        penetration: m, into the main member.
        clause: where it comes from.
    """

    Z: float
    mode: YieldMode
    modes: dict[YieldMode, float]
    penetration: float
    clause: str = "NDS 2018 12.3.1, Table 12.3.1A"


def nail(name: str) -> Nail:
    """Return a nail by its trade name.

    Source: NDS 2018 Table L4.

    Args:
        name: such as ``16d common``, ``10d box``, ``16d sinker``.

    Raises:
        TableError: no such nail.
    """
    row = _nails().get(" ".join(name.lower().split()))
    if row is None:
        raise TableError("nail", name, ", ".join(_nails()))
    return row


def dowel_bearing_strength(specific_gravity: float) -> float:
    """Return the dowel bearing strength of wood under a nail.

    Source: NDS 2018 Table 12.3.3 (note 2): 16600 G^1.84 psi, to the nearest 50 psi, for
    diameters under 1/4 in.

    Args:
        specific_gravity: G, oven-dry.

    Returns:
        F_e, Pa.
    """
    return round(16600 * specific_gravity**1.84 / 50) * 50 * PSI


def bending_yield_strength(diameter: float) -> float:
    """Return the bending yield strength of a low-carbon steel nail.

    Source: NDS 2018 Table I1.

    Args:
        diameter: m, 0.099 to 0.344 in.

    Returns:
        F_yb, Pa.

    Raises:
        ScopeError: thicker or thinner than the table.
    """
    inches = diameter / INCH
    if inches > 0.099 - 1e-9:
        for most, ksi in _YIELD:
            if inches <= most + 1e-9:
                return ksi * 1e3 * PSI
    raise ScopeError(
        "NDS 2018 Table I1", "nail diameter, in", inches, "0.099 to 0.344 in"
    )


def reduction_term(diameter: float) -> float:
    """Return the reduction term R_d of nails.

    Source: NDS 2018 Table 12.3.1B (K_D): 2.2 to 0.17 in, 10 D + 0.5 to 1/4 in.

    Args:
        diameter: m, under 1/4 in.

    Raises:
        ScopeError: 1/4 in and thicker.
    """
    if diameter >= _LARGEST_DOWEL:
        raise ScopeError(
            "NDS 2018 Table 12.3.1B", "diameter, m", diameter, "under 1/4 in"
        )
    inches = diameter / INCH
    return 2.2 if inches <= 0.17 + 1e-9 else 10 * inches + 0.5


def bearing_length(penetration: float, diameter: float) -> float:
    """Return the dowel bearing length in the main member.

    Source: NDS 2018 12.3.5.3: the tip (2D) does not count where the penetration is
    under 10D; 12.1.6.5: at least 6D.

    Args:
        penetration: m, of the nail in the main member, tip and all.
        diameter: m.

    Returns:
        l_m, m.

    Raises:
        ScopeError: penetration under 6D.
    """
    ratio = penetration / diameter
    if ratio < LEAST_PENETRATION - 1e-9:
        raise ScopeError(
            "NDS 2018 12.1.6.5", "penetration, diameters", ratio, "at least 6"
        )
    tip = 0.0 if ratio >= 10 - 1e-9 else _TIP * diameter
    return penetration - tip


def lateral_value(
    fastener: Nail,
    side_thickness: float,
    main_thickness: float,
    G_side: float,
    G_main: float,
) -> LateralValue:
    """Return the reference lateral design value of a nail in single shear.

    Source: NDS 2018 12.3.1, Table 12.3.1A, Eq. 12.3-1 to 12.3-10.

    Args:
        fastener: the nail, driven through the side member.
        side_thickness: m.
        main_thickness: m, holds the point; the nail may pass through.
        G_side: specific gravity of the side member.
        G_main: specific gravity of the main member.

    Returns:
        Z in N with its governing mode.

    Raises:
        ScopeError: less than 6D penetration, or a nail outside the tables.
    """
    D = fastener.diameter
    point = fastener.length - side_thickness
    penetration = min(point, main_thickness)
    through = point > main_thickness + _TIP * D
    length = penetration if through else bearing_length(penetration, D)
    modes = _yield_modes(
        D, side_thickness, length, dowel_bearing_strength(G_side),
        dowel_bearing_strength(G_main),
    )  # fmt: skip
    mode = min(modes, key=lambda name: modes[name])
    return LateralValue(Z=modes[mode], mode=mode, modes=modes, penetration=penetration)


def _yield_modes(
    D: float, ls: float, lm: float, Fes: float, Fem: float
) -> dict[YieldMode, float]:
    """Return Z of every yield mode, N."""
    Fyb, Rd = bending_yield_strength(D), reduction_term(D)
    Re, Rt = Fem / Fes, lm / ls
    k1 = (
        math.sqrt(Re + 2 * Re**2 * (1 + Rt + Rt**2) + Rt**2 * Re**3) - Re * (1 + Rt)
    ) / (1 + Re)
    hinge = 2 * Fyb * D**2 / (3 * Fem)
    k2 = math.sqrt(2 * (1 + Re) + hinge * (1 + 2 * Re) / lm**2) - 1
    k3 = math.sqrt(2 * (1 + Re) / Re + hinge * (2 + Re) / ls**2) - 1
    return {
        YieldMode.MAIN_BEARING: D * lm * Fem / Rd,
        YieldMode.SIDE_BEARING: D * ls * Fes / Rd,
        YieldMode.ROTATION: k1 * D * ls * Fes / Rd,
        YieldMode.MAIN_HINGE: k2 * D * lm * Fem / ((1 + 2 * Re) * Rd),
        YieldMode.SIDE_HINGE: k3 * D * ls * Fem / ((2 + Re) * Rd),
        YieldMode.TWO_HINGES: D**2 / Rd * math.sqrt(2 * Fem * Fyb / (3 * (1 + Re))),
    }


def withdrawal_per_length(specific_gravity: float, diameter: float) -> float:
    """Return the reference withdrawal design value of a smooth nail in side grain.

    Source: NDS 2018 12.2.3, Eq. 12.2-3: 1380 G^2.5 D, lb per inch of penetration.

    Args:
        specific_gravity: G of the member that holds the point.
        diameter: m.

    Returns:
        W, N/m.
    """
    lb_per_inch = 1380 * specific_gravity**2.5 * (diameter / INCH)
    return lb_per_inch * 12 * PLF


@lru_cache(maxsize=1)
def _nails() -> dict[str, Nail]:
    """Return the nails of the table by name."""
    with _NAILS.open(newline="", encoding="utf-8") as file:
        return {
            row["name"]: Nail(
                row["name"],
                float(row["diameter_in"]) * INCH,
                float(row["length_in"]) * INCH,
            )
            for row in csv.DictReader(file)
        }
