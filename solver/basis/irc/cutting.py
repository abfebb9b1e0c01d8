"""Prescriptive rules on bearing, notches, holes and lateral support."""

from __future__ import annotations

from ...units import INCH, show_small_length
from .rule import RECALLED, SEEN, RuleResult, at_least, at_most, is_so

BEARING = "IRC 2018 R802.6"
CUTTING = "IRC 2018 R802.7.1"
LATERAL = "IRC 2018 R802.8"
BEARING_ON_WOOD = 1.5 * INCH
BEARING_ON_MASONRY = 3 * INCH
_HOLE_CLEAR = 2 * INCH
_TAIL_DEPTH = 3.5 * INCH
_TAIL_LENGTH = 24 * INCH


def bearing_length(length: float, on_masonry: bool = False) -> RuleResult:
    """Return whether the end of a rafter or joist bears far enough.

    Source: IRC 2018 R802.6: 1.5 in on wood or metal, 3 in on masonry or concrete.

    Args:
        length: m.
        on_masonry: True on masonry or concrete.
    """
    least = BEARING_ON_MASONRY if on_masonry else BEARING_ON_WOOD
    return at_least(
        BEARING, "bearing length", length, least,
        (show_small_length(length), show_small_length(least)),
        "Ends of rafters and joists bear 1.5 in on wood, 3 in on masonry.",
    )  # fmt: skip


def notch_depth(depth: float, member_depth: float, at_end: bool) -> RuleResult:
    """Return whether a notch is shallow enough.

    Source: IRC 2018 R802.7.1: d/6, at the ends d/4 (the latter from memory).

    Args:
        depth: m, of the notch.
        member_depth: m.
        at_end: over the end bearing.
    """
    limit = member_depth / (4 if at_end else 6)
    name = "d/4" if at_end else "d/6"
    return at_most(
        CUTTING, "notch depth", depth, limit,
        (show_small_length(depth), f"{show_small_length(limit)} ({name})"),
        f"A notch {'at the end' if at_end else 'in the span'} is at most {name} deep.",
        RECALLED if at_end else SEEN,
    )  # fmt: skip


def notch_length(length: float, member_depth: float) -> RuleResult:
    """Return whether a notch is short enough.

    Source: IRC 2018 R802.7.1: d/3 (from memory).

    Args:
        length: m, along the member.
        member_depth: m.
    """
    limit = member_depth / 3
    return at_most(
        CUTTING, "notch length", length, limit,
        (show_small_length(length), f"{show_small_length(limit)} (d/3)"),
        "A notch is at most d/3 long.", RECALLED,
    )  # fmt: skip


def notch_place(in_middle_third: bool) -> RuleResult:
    """Return whether a notch keeps out of the middle third of the span.

    Source: IRC 2018 R802.7.1.

    Args:
        in_middle_third: where the notch is.
    """
    shown = "middle third" if in_middle_third else "outer thirds"
    return is_so(
        CUTTING, "place of notch", not in_middle_third, (shown, "outer thirds"),
        "No notch in the middle third of the span.",
    )  # fmt: skip


def rafter_tail(remaining: float, cantilever: float) -> RuleResult:
    """Return whether a birdsmouth leaves enough of a rafter that runs past its plate.

    Source: IRC 2018 R802.7.1.1: 3.5 in left, at most 24 in past the plate.

    Args:
        remaining: m, left of the rafter, square to it.
        cantilever: m, of the tail on plan.
    """
    shown = f"{show_small_length(remaining)} left, {show_small_length(cantilever)} past"
    enough = remaining >= _TAIL_DEPTH - 1e-6 and cantilever <= _TAIL_LENGTH + 1e-6
    asked = f"{show_small_length(_TAIL_DEPTH)} left, {show_small_length(_TAIL_LENGTH)}"
    return is_so(
        "IRC 2018 R802.7.1.1", "rafter tail", enough, (shown, f"{asked} past at most"),
        "A notched rafter tail keeps 3.5 in and is at most 24 in long.",
    )  # fmt: skip


def joist_taper(cut: float, member_depth: float) -> RuleResult:
    """Return whether the sloping cut of a ceiling joist's end is shallow enough.

    Source: IRC 2018 R802.7.1.2: d/4, measured here over the inner face of the plate.

    Args:
        cut: m, taken off the depth there.
        member_depth: m.
    """
    limit = member_depth / 4
    return at_most(
        "IRC 2018 R802.7.1.2", "taper of the joist end", cut, limit,
        (show_small_length(cut), f"{show_small_length(limit)} (d/4)"),
        "The end of a ceiling joist is tapered at most d/4.",
    )  # fmt: skip


def hole(diameter: float, edge_distance: float, member_depth: float) -> RuleResult:
    """Return whether a hole is small enough and clear of the edges.

    Source: IRC 2018 R802.7.1: at most d/3, 2 in from edges and notches.

    Args:
        diameter: m.
        edge_distance: m, to the nearest edge or notch.
        member_depth: m.
    """
    small = diameter <= member_depth / 3 + 1e-9
    clear = edge_distance >= _HOLE_CLEAR - 1e-9
    place = f"{show_small_length(edge_distance)} from an edge"
    shown = f"{show_small_length(diameter)}, {place}"
    return is_so(
        CUTTING, "hole", small and clear,
        (shown, f"at most {show_small_length(member_depth / 3)} (d/3), 2 in clear"),
        "A hole is at most d/3 wide and 2 in clear of edges and notches.",
    )  # fmt: skip


def lateral_support(nominal_ratio: float, ends_held: bool, bridged: bool) -> RuleResult:
    """Return whether a rafter or joist is held sideways as its proportions ask.

    Source: IRC 2018 R802.8: ends held over 5:1, bridging at most 8 ft apart over 6:1
    (from memory).

    Args:
        nominal_ratio: nominal depth over nominal breadth.
        ends_held: blocking, hangers or a header at the ends.
        bridged: bridging or blocking at most 8 ft apart.
    """
    needed = "nothing"
    passed = True
    if nominal_ratio > 6 + 1e-9:
        needed, passed = "bridging at most 8 ft apart", bridged
    elif nominal_ratio > 5 + 1e-9:
        needed, passed = "ends held against turning", ends_held
    return is_so(
        LATERAL, "lateral support", passed, (f"{nominal_ratio:.3g}:1", needed),
        "Deep thin rafters and joists are held sideways.", RECALLED,
    )  # fmt: skip
