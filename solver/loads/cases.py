"""Load cases on the surfaces of the roof and the ceiling.

Pressures in Pa, each on its own surface; what they put on members comes after.
"""

from __future__ import annotations

from enum import StrEnum

ROOF_SOUTH, ROOF_NORTH, CEILING = "roof S", "roof N", "ceiling"
ROOF_WEST, ROOF_EAST, ROOF_AT_HIP = "roof W", "roof E", "roof at hips"
ROOFS = (ROOF_SOUTH, ROOF_NORTH, ROOF_WEST, ROOF_EAST, ROOF_AT_HIP)
SURFACES = (*ROOFS, CEILING)


class Case(StrEnum):
    """Load cases; the names are those of ASCE 7 where it has one."""

    DEAD = "D"
    ATTIC_LIVE = "L"
    ROOF_LIVE = "Lr"
    SNOW = "S"
    SNOW_SOUTH = "SuS"  # unbalanced, the south slope loaded
    SNOW_NORTH = "SuN"  # unbalanced, the north slope loaded
    SNOW_EAST = "SuE"  # unbalanced, the slopes that fall east loaded
    SNOW_WEST = "SuW"  # unbalanced, the slopes that fall west loaded
    WIND = "W"


CASES = tuple(Case)
DRIFTS = {
    "S": Case.SNOW_SOUTH,
    "N": Case.SNOW_NORTH,
    "E": Case.SNOW_EAST,
    "W": Case.SNOW_WEST,
}  # by the way that the lee slopes fall
