"""Prescriptive rules on purlins and their braces, and on rafters over a purlin."""

from __future__ import annotations

import math

from ...units import DEGREE, FOOT, INCH, show_length, show_small_length
from .rule import RECALLED, SEEN, RuleResult, at_least, at_most, is_so

SECTION = "IRC 2018 R802.4.5"
BRACE_SPACING = 4 * FOOT
BRACE_LENGTH = 8 * FOOT
BRACE_ANGLE = 45 * DEGREE
BRACE_BREADTH, BRACE_DEPTH = 1.5 * INCH, 3.5 * INCH


def purlin_size(purlin_depth: float, rafter_depth: float) -> RuleResult:
    """Return whether a purlin is as deep as the rafters that it holds.

    Source: IRC 2018 R802.4.5.

    Args:
        purlin_depth: m.
        rafter_depth: m.
    """
    return at_least(
        SECTION, "purlin depth", purlin_depth, rafter_depth,
        (show_small_length(purlin_depth), show_small_length(rafter_depth)),
        "A purlin is at least as deep as the rafters that it holds.",
    )  # fmt: skip


def brace_size(breadth: float, depth: float) -> RuleResult:
    """Return whether a purlin brace is a 2x4 or larger.

    Source: IRC 2018 R802.4.5.

    Args:
        breadth: m, all plies.
        depth: m.
    """
    passed = breadth >= BRACE_BREADTH - 1e-6 and depth >= BRACE_DEPTH - 1e-6
    shown = f"{breadth / INCH:.4g} x {depth / INCH:.4g} in"
    return is_so(
        SECTION, "brace size", passed, (shown, "at least 2x4 (1.5 x 3.5 in)"),
        "A purlin brace is at least a 2x4.",
    )  # fmt: skip


def brace_spacing(spacing: float) -> RuleResult:
    """Return whether braces along a purlin stand close enough.

    Source: IRC 2018 R802.4.5.

    Args:
        spacing: m, on centre along the purlin.
    """
    return at_most(
        SECTION, "brace spacing", spacing, BRACE_SPACING,
        (show_length(spacing), show_length(BRACE_SPACING)),
        "Braces stand at most 4 ft apart along the purlin.",
    )  # fmt: skip


def brace_angle(angle: float) -> RuleResult:
    """Return whether a brace is steep enough.

    Source: IRC 2018 R802.4.5.

    Args:
        angle: rad, from horizontal.
    """
    return at_least(
        SECTION, "brace angle from level", angle, BRACE_ANGLE,
        (f"{math.degrees(angle):.1f} deg", "45 deg"),
        "A brace is no flatter than 45 degrees.",
    )  # fmt: skip


def brace_unbraced_length(length: float) -> RuleResult:
    """Return whether a brace is short enough between its supports.

    Source: IRC 2018 R802.4.5.

    Args:
        length: m, longest part that nothing holds.
    """
    return at_most(
        SECTION, "unbraced length of brace", length, BRACE_LENGTH,
        (show_length(length), show_length(BRACE_LENGTH)),
        "The unbraced length of a brace is at most 8 ft.",
    )  # fmt: skip


def brace_foot(stands_on: str, is_bearing_wall: bool) -> RuleResult:
    """Return whether a brace stands on a bearing wall.

    Source: IRC 2018 R802.4.5.

    Args:
        stands_on: what is under its foot, in words.
        is_bearing_wall: True for a bearing wall.
    """
    return is_so(
        SECTION, "foot of brace", is_bearing_wall, (stands_on, "a bearing wall"),
        "A brace goes down to a bearing wall.",
    )  # fmt: skip


def purlin_continuous(is_continuous: bool) -> RuleResult:
    """Return whether a purlin line runs through.

    Source: IRC 2018 R802.4.5; the word is from memory.

    Args:
        is_continuous: one line without gaps from end to end.
    """
    shown = "runs through" if is_continuous else "interrupted"
    return is_so(
        SECTION, "purlin line", is_continuous, (shown, "continuous"),
        "Purlins are continuous.", RECALLED,
    )  # fmt: skip


def rafter_span_between_supports(
    span: float, allowed: float, table: str = "IRC 2018 R802.4.1"
) -> RuleResult:
    """Return whether a rafter spans no farther than the tables allow.

    The span is the plan distance between supports; a braced purlin is one.

    Source: IRC 2018 R802.4.1 and R802.4.5.

    Args:
        span: m, on plan.
        allowed: m, from `spans`.
        table: where the limit comes from.
    """
    return at_most(
        table, "rafter span on plan", span, allowed,
        (show_length(span), show_length(allowed)),
        "A rafter spans no farther on plan than its size, grade and spacing allow.",
        SEEN,
    )  # fmt: skip
