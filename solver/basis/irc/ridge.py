"""Prescriptive rules on ridges, hips and valleys."""

from __future__ import annotations

import math

from ...units import INCH, show_pitch, show_small_length
from .rule import RuleResult, at_least, is_so

RIDGE_BOARD = "IRC 2018 R802.4.2"
HIP_VALLEY = "IRC 2018 R802.4.3"
LOW_PITCH = "IRC 2018 R802.4.4"
LEAST_PITCH_FOR_BOARD = 3 / 12
_BOARD_THICKNESS = 0.75 * INCH  # 1 in nominal
_HIP_THICKNESS = 1.5 * INCH  # 2 in nominal


def plumb_cut(rafter_depth: float, slope: float) -> float:
    """Return the length of a rafter's plumb cut.

    Source: geometry.

    Args:
        rafter_depth: m.
        slope: rise over run.

    Returns:
        m.
    """
    return rafter_depth * math.hypot(1.0, slope)


def ridge_board_depth(
    board_depth: float, rafter_depth: float, slope: float
) -> RuleResult:
    """Return whether a ridge board is as deep as the cut end of the rafters.

    Source: IRC 2018 R802.4.2.

    Args:
        board_depth: m.
        rafter_depth: m.
        slope: rise over run.
    """
    cut = plumb_cut(rafter_depth, slope)
    return at_least(
        RIDGE_BOARD, "ridge board depth", board_depth, cut,
        (show_small_length(board_depth), show_small_length(cut)),
        "A ridge board is at least as deep as the cut end of the rafters.",
    )  # fmt: skip


def ridge_board_thickness(thickness: float) -> RuleResult:
    """Return whether a ridge board is 1 in nominal or thicker.

    Source: IRC 2018 R802.4.2.

    Args:
        thickness: m, dressed.
    """
    return at_least(
        RIDGE_BOARD, "ridge board thickness", thickness, _BOARD_THICKNESS,
        (show_small_length(thickness), "1 in nominal (0.75 in)"),
        "A ridge board is at least 1 in nominal thick.",
    )  # fmt: skip


def ridge_may_be_board(slope: float) -> RuleResult:
    """Return whether a roof is steep enough to have a ridge board and no beam.

    Source: IRC 2018 R802.4.4.

    Args:
        slope: rise over run.
    """
    return at_least(
        LOW_PITCH, "pitch", slope, LEAST_PITCH_FOR_BOARD,
        (show_pitch(slope), "3:12, or a ridge beam"),
        "Under 3:12 ridges, hips and valleys that carry rafters are beams.",
    )  # fmt: skip


def hip_valley_depth(depth: float, rafter_depth: float, slope: float) -> RuleResult:
    """Return whether a hip or valley rafter is as deep as the cut rafters.

    Source: IRC 2018 R802.4.3.

    Args:
        depth: m, of the hip or valley rafter.
        rafter_depth: m, of the jack rafters.
        slope: rise over run of their roof plane.
    """
    cut = plumb_cut(rafter_depth, slope)
    return at_least(
        HIP_VALLEY, "hip or valley rafter depth", depth, cut,
        (show_small_length(depth), show_small_length(cut)),
        "A hip or valley rafter is at least as deep as the cut end of the rafters.",
    )  # fmt: skip


def hip_valley_thickness(thickness: float) -> RuleResult:
    """Return whether a hip or valley rafter is 2 in nominal or thicker.

    Source: IRC 2018 R802.4.3.

    Args:
        thickness: m, dressed.
    """
    return at_least(
        HIP_VALLEY, "hip or valley rafter thickness", thickness, _HIP_THICKNESS,
        (show_small_length(thickness), "2 in nominal (1.5 in)"),
        "A hip or valley rafter is at least 2 in nominal thick.",
    )  # fmt: skip


def hip_valley_held_at_ridge(held: bool, how: str) -> RuleResult:
    """Return whether a hip or valley is held at the ridge.

    Source: IRC 2018 R802.4.3.

    Args:
        held: braced there to a bearing partition, or designed for the load.
        how: what holds it, in words.
    """
    return is_so(
        HIP_VALLEY, "hip or valley at the ridge", held,
        (how, "a brace to a bearing partition, or designed for the load"),
        "Hips and valleys are held at the ridge down to a bearing partition.",
    )  # fmt: skip
