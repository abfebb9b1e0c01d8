"""Horizontal shear, whole and notched on the tension side."""

from __future__ import annotations

import numpy as np

from ...errors import ScopeError
from ..arrays import Floats, Real, floats


def shear_stress(V: Real, b: Real, d: Real) -> Floats:
    """Return the shear stress parallel to grain of a rectangular section.

    Source: NDS 2018 3.4.2, Eq. 3.4-2.

    Args:
        V: N, shear force, either sign.
        b: m, total breadth.
        d: m, depth.

    Returns:
        f_v, Pa, not negative.
    """
    return 1.5 * np.abs(V) / (floats(b) * d)


def reduced_end_shear(reaction: Real, uniform_load: Real, d: Real) -> Floats:
    """Return the end shear without the uniform load within a depth of the support.

    Source: NDS 2018 3.4.3.1(a). Valid for loads on one face of a member that bears on
    the opposite face and has no notch.

    Args:
        reaction: N, shear at the face of the support.
        uniform_load: N/m.
        d: m, depth.

    Returns:
        V, N, not negative.
    """
    return np.maximum(np.abs(reaction) - np.abs(uniform_load) * d, 0.0)


def point_load_share(x: Real, d: Real) -> Floats:
    """Return the part of a point load near a support that counts for shear.

    Source: NDS 2018 3.4.3.1(a): x/d of loads within a depth of the support.

    Args:
        x: m, distance from the face of the support.
        d: m, depth.

    Returns:
        0 to 1, dimensionless.
    """
    return np.clip(floats(x) / d, 0.0, 1.0)


def notched_shear_capacity(Fv: Real, b: Real, d: Real, d_n: Real) -> Floats:
    """Return the shear force that a beam notched on its tension side may carry.

    Source: NDS 2018 3.4.3.2(a), Eq. 3.4-3.

    Args:
        Fv: Pa, adjusted shear design value.
        b: m, total breadth.
        d: m, depth of the whole section.
        d_n: m, depth that remains at the notch, above 0 and at most d.

    Returns:
        V_r', N.

    Raises:
        ScopeError: nothing remains, or more than the whole.
    """
    d, d_n = floats(d), floats(d_n)
    if np.any(d_n <= 0) or np.any(d_n > d * (1 + 1e-9)):
        raise ScopeError(
            "NDS 2018 3.4.3.2", "d_n, m", float(np.min(d_n)), "above 0, at most d"
        )
    return (2 / 3) * floats(Fv) * b * d_n * (d_n / d) ** 2


def sloped_notch_depth(d: Real, d_n: Real, e: Real) -> Floats:
    """Return the depth to use for a notch on the compression side at an end.

    Source: NDS 2018 3.4.3.2(e), Eq. 3.4-5: V = (2/3) Fv' b [d - ((d - d_n)/d_n) e] for
    e not longer than d_n.

    Args:
        d: m, depth of the whole section.
        d_n: m, depth that remains.
        e: m, length of the notch past the inner face of the support, at most d_n.

    Returns:
        Effective depth, m.

    Raises:
        ScopeError: the notch is longer than the depth that remains.
    """
    d, d_n, e = floats(d), floats(d_n), floats(e)
    if np.any(e > d_n * (1 + 1e-9)):
        raise ScopeError("NDS 2018 3.4.3.2(e)", "e, m", float(np.max(e)), "at most d_n")
    return d - (d - d_n) / d_n * e
