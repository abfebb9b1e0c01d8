"""Modification, deformation, size and system factors of solid timber."""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum, StrEnum

from ...errors import TableError
from ..arrays import Floats, Real, floats

PARTIAL_FACTOR = 1.3  # solid timber, EN 1995-1-1 Table 2.3
SYSTEM_STRENGTH = 1.1  # EN 1995-1-1 6.6
REDISTRIBUTION = 0.7  # km of rectangles, EN 1995-1-1 6.1.6
STRAIGHTNESS = 0.2  # beta_c of solid timber, EN 1995-1-1 6.3.2
_SIZE_REFERENCE = 0.150  # m


class ServiceClass(IntEnum):
    """Moisture of the surroundings, EN 1995-1-1 2.3.1.3."""

    DRY = 1
    SHELTERED = 2
    EXPOSED = 3


class Duration(StrEnum):
    """Load duration classes, EN 1995-1-1 2.3.1.2, longest first."""

    PERMANENT = "permanent"
    LONG = "long"
    MEDIUM = "medium"
    SHORT = "short"
    INSTANT = "instantaneous"


_MODIFICATION = {
    Duration.PERMANENT: (0.60, 0.60, 0.50),
    Duration.LONG: (0.70, 0.70, 0.55),
    Duration.MEDIUM: (0.80, 0.80, 0.65),
    Duration.SHORT: (0.90, 0.90, 0.70),
    Duration.INSTANT: (1.10, 1.10, 0.90),
}
_DEFORMATION = {
    ServiceClass.DRY: 0.6,
    ServiceClass.SHELTERED: 0.8,
    ServiceClass.EXPOSED: 2.0,
}
_CASE_DURATION = {
    "D": Duration.PERMANENT,
    "L": Duration.MEDIUM,
    "Lr": Duration.SHORT,
    "S": Duration.SHORT,
    "SuS": Duration.SHORT,
    "SuN": Duration.SHORT,
    "SuE": Duration.SHORT,
    "SuW": Duration.SHORT,
    "W": Duration.INSTANT,
}


def modification_factor(duration: Duration, service: ServiceClass) -> float:
    """Return k_mod of solid timber.

    Source: EN 1995-1-1:2004 Table 3.1.

    Args:
        duration: of the shortest action in the combination.
        service: service class.
    """
    return _MODIFICATION[duration][service - 1]


def deformation_factor(service: ServiceClass) -> float:
    """Return k_def of solid timber.

    Source: EN 1995-1-1:2004 Table 3.2.

    Args:
        service: service class.
    """
    return _DEFORMATION[service]


def shortest_duration(cases: Iterable[str]) -> Duration:
    """Return the duration class of the shortest action in a combination.

    Source: EN 1995-1-1:2004 2.3.1.2 and 3.1.3(2); national annexes may differ.

    Args:
        cases: names of the load cases present, at least one.

    Raises:
        TableError: an unknown load case, or none at all.
    """
    names = tuple(cases)
    for name in names:
        if name not in _CASE_DURATION:
            raise TableError("load case", name, ", ".join(_CASE_DURATION))
    if not names:
        raise TableError("load cases", names, "at least one load case")
    order = list(Duration)
    return max((_CASE_DURATION[name] for name in names), key=order.index)


def size_factor(size: float) -> float:
    """Return k_h of solid timber on bending and tension strength.

    Source: EN 1995-1-1:2004 Eq. 3.1: (150 mm / h)^0.2, at most 1.3, below 150 mm.

    Args:
        size: m, depth in bending, width in tension.
    """
    return min(max(_SIZE_REFERENCE / size, 1.0) ** 0.2, 1.3)


def design_value(characteristic: Real, k_mod: Real) -> Floats:
    """Return the design value of a strength.

    Source: EN 1995-1-1:2004 Eq. 2.14.

    Args:
        characteristic: Pa.
        k_mod: dimensionless.

    Returns:
        Pa.
    """
    return floats(k_mod) * characteristic / PARTIAL_FACTOR
