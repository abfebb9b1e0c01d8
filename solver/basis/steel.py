"""Steel plates between wood plies: reference values and allowable stresses.

Values from memory. Knows no wood; how both share a moment is in ``flitch``.
"""

from __future__ import annotations

from ..units import PCF, PSI

SPECIES, GRADE = "Steel", "A36"
E = 29_000_000.0 * PSI  # AISC 360-16, Symbols
FY = 36_000.0 * PSI  # ASTM A36
DENSITY = 490.0 * PCF
LONGEST_FT = 20  # flat bars are sold in 20 ft lengths, common practice, no source
_OMEGA_BENDING = 1.67  # AISC 360-16 F1
_OMEGA_SHEAR = 1.67  # AISC 360-16 G1


def plate_bending_stress(Fy: float = FY) -> float:
    """Return the allowable bending stress of a plate on edge, Pa.

    Source: AISC 360-16 F11.1 with Omega_b of F1, from memory, held to first yield, Fy
    S / 1.67, where the clause goes on to the plastic moment: wood and steel share a
    moment as their stiffnesses say only while both are elastic. The plate is held
    sideways all along by the plies that it is bolted between, so F11.2 does not ask
    for less. The older allowable 0.66 Fy (AISC ASD, 9th edition) is 10 % more.

    Args:
        Fy: Pa, yield stress.
    """
    return Fy / _OMEGA_BENDING


def plate_shear_stress(Fy: float = FY) -> float:
    """Return the allowable shear stress of a plate, Pa.

    Source: AISC 360-16 G4 with C_v = 1 and Omega_v of G1: 0.6 Fy / 1.67, on the mean
    stress over the plate; from memory.

    Args:
        Fy: Pa, yield stress.
    """
    return 0.6 * Fy / _OMEGA_SHEAR
