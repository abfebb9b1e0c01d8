"""Bolts in double shear by the yield limits of the NDS.

Pure; units in every docstring. Group, edge and end distances are for who details them.
"""

from __future__ import annotations

import math

from ...units import INCH, PSI

FYB = 45_000.0 * PSI  # NDS 2018 Table I1, bolts; from memory
STEEL_BEARING = 87_000.0 * PSI  # NDS 2018 12.3.3, A36 plate, from memory


def bolt_bearing_along(specific_gravity: float) -> float:
    """Return the bearing strength of wood under a bolt, parallel to grain, Pa.

    Source: NDS 2018 Table 12.3.3, 11200 G psi, to the nearest 50 psi.
    """
    return round(11_200 * specific_gravity / 50) * 50 * PSI


def bolt_bearing_across(specific_gravity: float, diameter: float) -> float:
    """Return the bearing strength of wood under a bolt, across the grain, Pa.

    Source: NDS 2018 Table 12.3.3, 6100 G^1.45 / sqrt(D) psi, D in inches, to the
    nearest 50 psi.

    Args:
        specific_gravity: G, oven-dry.
        diameter: m.
    """
    D = diameter / INCH
    return round(6_100 * specific_gravity**1.45 / math.sqrt(D) / 50) * 50 * PSI


def double_shear_value(
    diameter: float, main: float, side: float, Fem: float, Fes: float, angle: float
) -> float:
    """Return the reference design value of one bolt through three members, N.

    Source: NDS 2018 12.3.1, Table 12.3.1A (modes I_m, I_s, III_s, IV) and Table 12.3.1B
    (reduction terms with K_theta = 1 + 0.25 angle / 90), for bolts of 1/4 to 1 in.

    Args:
        diameter: m.
        main: m, thickness of the middle member.
        side: m, thickness of each outer member.
        Fem: Pa, bearing strength of the middle member.
        Fes: Pa, of the outer ones.
        angle: degrees, largest angle of load to grain of any member.
    """
    D, K = diameter, 1 + 0.25 * angle / 90
    Re = Fem / Fes
    inner = 2 * (1 + Re) / Re + 2 * FYB * (2 + Re) * D**2 / (3 * Fem * side**2)
    k3 = math.sqrt(inner) - 1
    return min(
        D * main * Fem / (4 * K),
        2 * D * side * Fes / (4 * K),
        2 * k3 * D * side * Fem / ((2 + Re) * 3.2 * K),
        2 * D**2 / (3.2 * K) * math.sqrt(2 * Fem * FYB / (3 * (1 + Re))),
    )
