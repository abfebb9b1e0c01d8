"""Prescriptive rules on rafter ties, collar ties and heel joints."""

from __future__ import annotations

import math

from ...errors import ScopeError
from ...units import FOOT, INCH, PSF, show_length, show_small_length
from ..nds.nail_joints import nails_needed
from .rule import RECALLED, RuleResult, at_least, at_most, is_so

COLLAR_TIES = "IRC 2018 R802.4.6"
RAFTER_TIES = "IRC 2018 R802.5.2.2"
JOIST_LAP = "IRC 2018 R802.5.2.1"
HEEL_JOINT = "IRC 2018 Table R802.5.2"
TIE_SPACING = 4 * FOOT
LEAST_JOIST_LAP = 3 * INCH
LEAST_HEEL_NAILS = 3
# Rafter to ridge, hip or valley: four toe-nails (as the text is quoted in reference
# works on framing; seen at second hand).
TOP_NAILS = "IRC 2018 Table R602.3(1)"
LEAST_TOP_NAILS = 4
TABLE_DEAD = 10 * PSF
TABLE_SNOW_SHARE = 0.77  # of the ground snow: 0.7 and a thermal factor of 1.1
_LARGEST_TIE_HEIGHT = 1 / 3
_NO_REDUCTION_BELOW = 1 / 7.5


def collar_tie_spacing(spacing: float) -> RuleResult:
    """Return whether collar ties (or ridge straps) are close enough.

    Source: IRC 2018 R802.4.6.

    Args:
        spacing: m, on centre along the ridge.
    """
    return at_most(
        COLLAR_TIES, "collar tie spacing", spacing, TIE_SPACING,
        (show_length(spacing), show_length(TIE_SPACING)),
        "Collar ties or ridge straps are at most 4 ft apart.",
    )  # fmt: skip


def collar_tie_height(height_ratio: float) -> RuleResult:
    """Return whether a collar tie is in the upper third of the attic.

    Source: IRC 2018 R802.4.6.

    Args:
        height_ratio: height above the plate over the rise.
    """
    return at_least(
        COLLAR_TIES, "collar tie height", height_ratio, 2 / 3,
        (f"{height_ratio:.2f} of the rise", "2/3 of the rise"),
        "Collar ties are in the upper third of the attic.",
    )  # fmt: skip


def rafter_tie_spacing(spacing: float) -> RuleResult:
    """Return whether rafter ties are close enough.

    Source: IRC 2018 R802.5.2.2 (the number is from memory).

    Args:
        spacing: m, on centre along the ridge.
    """
    return at_most(
        RAFTER_TIES, "rafter tie spacing", spacing, TIE_SPACING,
        (show_length(spacing), show_length(TIE_SPACING)),
        "Rafter ties are at most 4 ft apart.", RECALLED,
    )  # fmt: skip


def rafter_tie_height(height_ratio: float) -> RuleResult:
    """Return whether a rafter tie is low enough for the table's factors.

    Source: IRC 2018 Tables R802.4.1, footnote a, which ends at a third of the rise.

    Args:
        height_ratio: H_C / H_R, height above the plate over the rise.
    """
    return at_most(
        RAFTER_TIES, "rafter tie height", height_ratio, _LARGEST_TIE_HEIGHT,
        (f"{height_ratio:.2f} of the rise", "1/3 of the rise"),
        "Rafter ties are in the lower third of the attic.",
    )  # fmt: skip


def ridge_carries_without_ties(has_ties: bool, has_ridge_beam: bool) -> RuleResult:
    """Return whether a roof has ties, or a ridge that carries.

    Source: IRC 2018 R802.5.2 (the number is from memory).

    Args:
        has_ties: ceiling joists or rafter ties hold the rafters together.
        has_ridge_beam: the ridge is designed as a beam.
    """
    shown = "tied" if has_ties else "a ridge beam" if has_ridge_beam else "neither"
    return is_so(
        "IRC 2018 R802.5.2", "what takes the thrust", has_ties or has_ridge_beam,
        (shown, "ceiling joists or rafter ties, or a ridge beam"),
        "With neither ceiling joists nor rafter ties the ridge is a beam.", RECALLED,
    )  # fmt: skip


def joist_lap(lap: float) -> RuleResult:
    """Return whether ceiling joists overlap enough over a bearing wall.

    Source: IRC 2018 R802.5.2.1.

    Args:
        lap: m.
    """
    return at_least(
        JOIST_LAP, "joist lap", lap, LEAST_JOIST_LAP,
        (show_small_length(lap), show_small_length(LEAST_JOIST_LAP)),
        "Ceiling joists lap at least 3 in, or are butted and spliced over bearing.",
        RECALLED,
    )  # fmt: skip


def raised_tie_span_factor(height_ratio: float) -> float:
    """Return the factor on tabulated rafter spans for ties above the plate.

    The moment at the tie is w R^2 (a - a^2/2), against w R^2/8 at plate level, which
    reproduces the footnote's 0.67, 0.76, 0.83, 0.90 and 1.00.

    Source: IRC 2018 Tables R802.4.1, footnote a, as statics.

    Args:
        height_ratio: H_C / H_R, 0 to 1/3.

    Returns:
        Factor, at most 1.

    Raises:
        ScopeError: a tie above a third of the rise.
    """
    if height_ratio > _LARGEST_TIE_HEIGHT + 1e-9:
        raise ScopeError(
            "IRC 2018 Table R802.4.1, footnote a", "H_C/H_R", height_ratio, "up to 1/3"
        )
    if height_ratio <= _NO_REDUCTION_BELOW:
        return 1.0
    return min(1.0, 1 / math.sqrt(8 * (height_ratio - height_ratio**2 / 2)))


def raised_tie_heel_factor(height_ratio: float) -> float:
    """Return the factor on heel joint nails for ties above the plate.

    Source: IRC 2018 Table R802.5.2, footnote, as statics: the tie force about the
    ridge grows as 1 / (1 - H_C/H_R).

    Args:
        height_ratio: H_C / H_R, 0 to 1/3.

    Returns:
        Factor, at least 1.

    Raises:
        ScopeError: a tie above a third of the rise.
    """
    if height_ratio > _LARGEST_TIE_HEIGHT + 1e-9:
        raise ScopeError(
            "IRC 2018 Table R802.5.2, footnotes", "H_C/H_R", height_ratio, "up to 1/3"
        )
    return 1 / (1 - height_ratio)


def heel_joint_thrust(
    load: float, spacing: float, roof_span: float, slope: float
) -> float:
    """Return the thrust of a rafter pair at plate level.

    Source: statics of a three-hinged frame, w L^2 / (8 rise) with rise = L slope / 2.

    Args:
        load: Pa on plan.
        spacing: m, rafters tied by one joint.
        roof_span: m, plate to plate.
        slope: rise over run.

    Returns:
        H, N.
    """
    return load * spacing * roof_span / (4 * slope)


def heel_joint_nails(thrust: float, nail_value: float) -> int:
    """Return the nails of a heel joint.

    With a dead load of 10 psf, 0.77 of the ground snow and the 120 lb of a 16d common
    nail in spruce-pine-fir times C_D this reproduces the table.

    Source: IRC 2018 Table R802.5.2, whose basis was found by matching its cells.

    Args:
        thrust: N.
        nail_value: N, adjusted value of one nail.

    Returns:
        Number of nails, at least three.
    """
    return nails_needed(thrust, nail_value, LEAST_HEEL_NAILS)


def heel_joint_count(count: int, needed: int) -> RuleResult:
    """Return whether a heel joint has the nails that it needs.

    Source: IRC 2018 Table R802.5.2.

    Args:
        count: nails in place.
        needed: from `heel_joint_nails`.
    """
    return at_least(
        HEEL_JOINT, "heel joint nails", float(count), float(needed),
        (f"{count} nails", f"{needed} nails"),
        "The heel joint has the nails that its thrust asks for.", RECALLED,
    )  # fmt: skip
