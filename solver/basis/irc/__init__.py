"""IRC 2018 chapter 8: prescriptive rules, one function each, and the span tables.

A rule says what the code asks of common construction; it says nothing of stress, and
a roof may keep a rule and fail by analysis, or the other way round.
"""

from .cutting import (
    bearing_length,
    hole,
    joist_taper,
    lateral_support,
    notch_depth,
    notch_length,
    notch_place,
    rafter_tail,
)
from .limits import SagLimits, SagUse, minimum_roof_live_load, sag_limits
from .purlins import (
    brace_angle,
    brace_foot,
    brace_size,
    brace_spacing,
    brace_unbraced_length,
    purlin_continuous,
    purlin_size,
    rafter_span_between_supports,
)
from .ridge import (
    hip_valley_depth,
    hip_valley_held_at_ridge,
    hip_valley_thickness,
    plumb_cut,
    ridge_board_depth,
    ridge_board_thickness,
    ridge_may_be_board,
)
from .rule import RuleResult
from .spans import AllowableSpan, SpanLimit, ceiling_joist_span, rafter_span
from .ties import (
    collar_tie_height,
    collar_tie_spacing,
    heel_joint_count,
    heel_joint_nails,
    heel_joint_thrust,
    joist_lap,
    rafter_tie_height,
    rafter_tie_spacing,
    raised_tie_heel_factor,
    raised_tie_span_factor,
    ridge_carries_without_ties,
)

__all__ = [
    "AllowableSpan",
    "RuleResult",
    "SagLimits",
    "SagUse",
    "SpanLimit",
    "bearing_length",
    "brace_angle",
    "brace_foot",
    "brace_size",
    "brace_spacing",
    "brace_unbraced_length",
    "ceiling_joist_span",
    "collar_tie_height",
    "collar_tie_spacing",
    "heel_joint_count",
    "heel_joint_nails",
    "heel_joint_thrust",
    "hip_valley_depth",
    "hip_valley_held_at_ridge",
    "hip_valley_thickness",
    "hole",
    "joist_lap",
    "joist_taper",
    "lateral_support",
    "minimum_roof_live_load",
    "notch_depth",
    "notch_length",
    "notch_place",
    "plumb_cut",
    "purlin_continuous",
    "purlin_size",
    "rafter_span",
    "rafter_span_between_supports",
    "rafter_tail",
    "rafter_tie_height",
    "rafter_tie_spacing",
    "raised_tie_heel_factor",
    "raised_tie_span_factor",
    "ridge_board_depth",
    "ridge_board_thickness",
    "ridge_carries_without_ties",
    "ridge_may_be_board",
    "sag_limits",
]
