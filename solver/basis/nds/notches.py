"""Where and how deep sawn bending members may be notched."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from ...units import INCH

_TENSION_SIDE_BREADTH = 3.5 * INCH


class NotchPlace(StrEnum):
    """Where along the span a notch is."""

    END = "end"  # over the bearing
    OUTER_THIRD = "outer third"
    MIDDLE_THIRD = "middle third"


@dataclass(frozen=True, kw_only=True)
class NotchFinding:
    """One rule on one notch.

    Attributes:
        clause: where the rule stands.
        depth: m, of the notch.
        limit: m, deepest allowed; 0 where none is allowed.
        passed: True where the rule is kept.
        words: the rule in words.
    """

    clause: str
    depth: float
    limit: float
    passed: bool
    words: str


def notch_limit(
    depth: float,
    breadth: float,
    member_depth: float,
    place: NotchPlace,
    on_tension_side: bool,
) -> NotchFinding:
    """Return whether a notch in a sawn bending member is allowed.

    Source: NDS 2018 4.4.3.

    Args:
        depth: m, of the notch.
        breadth: m, one ply.
        member_depth: m.
        place: where along the span.
        on_tension_side: True for the tension side.

    Returns:
        The finding.
    """
    if place is NotchPlace.END:
        limit, words = member_depth / 4, "a notch at a bearing is at most d/4 deep"
    elif place is NotchPlace.MIDDLE_THIRD:
        limit, words = 0.0, "no notch in the middle third of the span"
    elif on_tension_side and breadth >= _TENSION_SIDE_BREADTH - 1e-6:
        limit = 0.0
        words = "pieces 3.5 in thick or more have tension side notches at ends only"
    else:
        limit, words = member_depth / 6, "a notch outside the ends is at most d/6 deep"
    return NotchFinding(
        clause="NDS 2018 4.4.3",
        depth=depth,
        limit=limit,
        passed=depth <= limit + 1e-9,
        words=words,
    )
