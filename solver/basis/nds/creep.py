"""Deflection over the years: the creep factor, and a labelled curve towards it."""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from ...errors import ScopeError
from ..arrays import Floats, Real, floats

CREEP_EXPONENT = 0.21
LAST_YEARS = 50.0
TEST_YEARS = 10.0
RECOVERED_PART = 0.5
NARROW_BAND = (0.25, 1.0)
WIDE_BAND = (0.0, 2.0)
CURVE_LABEL = (
    "Between day one and fifty years the curve is Toratti's power law of time "
    "(exponent 0.21), scaled to the creep factor of the code at fifty years; the "
    "code states no date. Tests range from no added creep to twice the elastic sag; "
    "some doubled the sag within ten years."
)


class Condition(StrEnum):
    """Seasoning and service, as the creep factor sees them."""

    SEASONED_DRY = "seasoned lumber or composite lumber, dry"
    UNSEASONED_OR_WET = "unseasoned lumber, or wet use"


def creep_factor(condition: Condition) -> float:
    """Return the creep factor K_cr on the deflection of long-term load.

    Source: NDS 2018 3.5.2.

    Args:
        condition: seasoning and service.

    Returns:
        1.5 dry, 2.0 unseasoned or wet, dimensionless.
    """
    return 1.5 if condition is Condition.SEASONED_DRY else 2.0


def long_term_deflection(sustained: Real, short_term: Real, K_cr: Real) -> Floats:
    """Return the long-term deflection.

    Source: NDS 2018 3.5.2, Eq. 3.5-1.

    Args:
        sustained: m, immediate deflection of the long-term load.
        short_term: m, deflection of the rest.
        K_cr: creep factor.

    Returns:
        K_cr sustained + short-term, m.
    """
    return floats(K_cr) * sustained + floats(short_term)


def creep_share(years: Real) -> Floats:
    """Return the part of the creep at fifty years that is there after some years.

    Source: Toratti's law of creep in a constant climate, (t / 29 500 days)^0.21 (from
    memory), scaled to 1 at fifty years, the working life that k_def of EN 1995-1-1
    stands for; NDS 3.5.2 states no time. Collected wood creep data follow a power law
    (Tong et al., Holzforschung 2020).

    Args:
        years: since loading, 0 to 50.

    Returns:
        0 at once, 0.71 at ten years, 1 at fifty, dimensionless.

    Raises:
        ScopeError: a time before loading or past fifty years.
    """
    years = floats(years)
    if np.any(years < 0) or np.any(years > LAST_YEARS * (1 + 1e-9)):
        raise ScopeError(
            "creep curve", "years", float(np.max(years)), "from 0 to 50 years"
        )
    return (years / LAST_YEARS) ** CREEP_EXPONENT


def deflection_at(sustained: Real, short_term: Real, years: Real, K_cr: Real) -> Floats:
    """Return the deflection some years after loading.

    Source: NDS 2018 3.5.2 at fifty years, the curve of ``creep_share`` up to it.

    Args:
        sustained: m, immediate deflection of the long-term load.
        short_term: m, deflection of the rest, present at that time.
        years: since loading, 0 to 50.
        K_cr: creep factor.

    Returns:
        Deflection, m, broadcast shape.
    """
    creep = (floats(K_cr) - 1) * creep_share(years)
    return (1 + creep) * sustained + floats(short_term)


def deflection_band(
    sustained: Real, short_term: Real, years: Real
) -> tuple[Floats, Floats]:
    """Return the band that honest pictures of creep show around the curve.

    Source: test range of added creep (AWC answer on creep; Wood Handbook FPL-GTR-190
    chapter 5): a quarter to the whole of the elastic part in ten years.

    Args:
        sustained: m.
        short_term: m.
        years: since loading, 0 to 50.

    Returns:
        Lower and upper deflection, m.
    """
    low, high = (
        (1 + k) * floats(sustained) + floats(short_term) for k in band_creep(years)
    )
    return low, high


def band_creep(years: Real) -> tuple[Floats, Floats]:
    """Return the least and the most creep of tests after some years.

    Source: see ``deflection_band``; the law of ``creep_share`` through the tests' ten
    years.

    Args:
        years: since loading, 0 to 50.

    Returns:
        Parts of the elastic sag; 0.25 and 1 at ten years.
    """
    share = creep_share(years) / creep_share(TEST_YEARS)
    low, high = (k * share for k in NARROW_BAND)
    return low, high


def deflection_after_unloading(
    removed_sustained: Real, years_loaded: Real, K_cr: Real
) -> Floats:
    """Return the set that stays when a sustained load is taken away.

    Source: about half the creep part recovers (Wood Handbook FPL-GTR-190 chapter 5).

    Args:
        removed_sustained: m, immediate deflection of the load taken away.
        years_loaded: how long it stood, 0 to 50.
        K_cr: creep factor.

    Returns:
        Permanent set, m.
    """
    creep = (floats(K_cr) - 1) * creep_share(years_loaded)
    return (1 - RECOVERED_PART) * creep * floats(removed_sustained)
