"""A steel plate sandwiched between wood plies: how both share what bends them.

Wood and steel bend to one curve, so each takes the part of moment and shear that its
stiffness is of the whole (transformed section; Ambrose, Simplified Engineering
for Architects and Builders, flitched beams; any text on strength of materials).
"""

from __future__ import annotations

from . import steel
from .sections import Section


def wood_share(E_wood: float, made: Section, creep: float = 1.0) -> float:
    """Return the part of moment and shear that the wood takes, 1 without a plate.

    Source: E_w I_w / (E_w I_w + E_s I_s). Wood creeps and steel does not: in the long
    run the wood is worth E_w over the creep factor of NDS 2018 3.5.2, and the plate
    takes more.

    Args:
        E_wood: Pa.
        made: plies and plate.
        creep: 1 for day one, else the factor on the wood's sag.
    """
    if made.plate is None:
        return 1.0
    wood = E_wood / creep * made.I_strong
    return wood / (wood + steel.E * made.plate.I_strong)


def stiffness_on_edge(E_wood: float, made: Section) -> float:
    """Return E I on edge of plies and plate together, N m2."""
    whole = E_wood * made.I_strong
    return whole if made.plate is None else whole + steel.E * made.plate.I_strong


def mass_per_length(wood_density: float, made: Section) -> float:
    """Return the mass of plies and plate, kg/m."""
    mass = wood_density * made.area
    return mass if made.plate is None else mass + steel.DENSITY * made.plate.area
