"""Lateral buckling of beams and buckling of columns."""

from __future__ import annotations

import numpy as np

from ..arrays import Floats, Real, floats
from .factors import STRAIGHTNESS

_LEAST_LENGTH = 1e-6  # m; below it a held edge or column


def beam_effective_length(length: Real, depth: Real) -> Floats:
    """Return the effective length of a beam loaded on its pressed edge.

    Source: EN 1995-1-1:2004 Table 6.1, simply supported, uniform load: 0.9 l, with 2 h
    more where the load is on the compression edge.

    Args:
        length: m, between supports of the pressed edge; 0 held throughout.
        depth: m.

    Returns:
        m.
    """
    return 0.9 * floats(length) + 2 * floats(depth)


def critical_bending_stress(
    breadth: Real, depth: Real, E_05: Real, effective_length: Real
) -> Floats:
    """Return the critical bending stress of a rectangle of softwood.

    Source: EN 1995-1-1:2004 Eq. 6.32.

    Args:
        breadth: m.
        depth: m.
        E_05: Pa.
        effective_length: m, above 0.

    Returns:
        Pa.
    """
    length = np.maximum(effective_length, _LEAST_LENGTH)
    return 0.78 * floats(breadth) ** 2 * E_05 / (depth * length)


def lateral_buckling_factor(strength: Real, critical: Real) -> Floats:
    """Return k_crit.

    Source: EN 1995-1-1:2004 Eq. 6.30 and 6.34.

    Args:
        strength: Pa, characteristic bending strength.
        critical: Pa, critical bending stress.

    Returns:
        0 to 1.
    """
    slenderness = np.sqrt(floats(strength) / critical)
    middle = 1.56 - 0.75 * slenderness
    long = 1 / np.maximum(slenderness, 1e-9) ** 2
    slender = np.where(slenderness <= 1.4, middle, long)
    return np.where(slenderness <= 0.75, 1.0, slender)


def relative_slenderness(length: Real, depth: Real, fc_0: Real, E_05: Real) -> Floats:
    """Return the relative slenderness of a column in one plane.

    Source: EN 1995-1-1:2004 Eq. 6.21 and 6.22, radius of gyration h / sqrt(12).

    Args:
        length: m, effective length; 0 held.
        depth: m, in that plane.
        fc_0: Pa, characteristic.
        E_05: Pa.

    Returns:
        Dimensionless.
    """
    slenderness = floats(length) * np.sqrt(12) / depth
    return slenderness / np.pi * np.sqrt(floats(fc_0) / E_05)


def buckling_factor(relative: Real) -> Floats:
    """Return k_c of solid timber.

    Source: EN 1995-1-1:2004 Eq. 6.25 to 6.29; 1 up to a relative slenderness of 0.3.

    Args:
        relative: relative slenderness.

    Returns:
        0 to 1.
    """
    relative = floats(relative)
    k = 0.5 * (1 + STRAIGHTNESS * (relative - 0.3) + relative**2)
    root = np.sqrt(np.maximum(k**2 - relative**2, 0.0))
    return np.where(relative <= 0.3, 1.0, np.minimum(1 / (k + root), 1.0))
