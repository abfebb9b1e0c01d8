"""Contradictions of a hip roof, each refused by the name of its field."""

from __future__ import annotations

from ..errors import BriefError
from ..units import FOOT, show_length
from .braces import check_foot, hip_inset
from .model import Brief, HipBrace, RidgeKind, RoofForm
from .outline import is_outline

_SHORTEST_RIDGE = 1 * FOOT
_LEAST = 0.05 - 1e-9


def check_hips(brief: Brief) -> None:
    """Check that a hip roof leaves a ridge, and what stands under its hips.

    Raises:
        BriefError: for the first that cannot be.
    """
    for k, brace in enumerate(brief.hip_braces):
        _check_brace(brief, brace, f"hip_braces[{k}]")
    if is_outline(brief):
        return
    for k, brace in enumerate(brief.hip_braces):
        if brace.under is not None or brace.at < _LEAST:
            name = "at" if brace.under is None else "under"
            raise BriefError(
                f"hip_braces[{k}].{name}",
                getattr(brace, name),
                "left out over a rectangle" if name == "under" else "0.05 to 1",
            )
    if brief.roof.form is not RoofForm.HIP:
        return
    least = 2 * hip_inset(brief) + _SHORTEST_RIDGE
    if brief.footprint.length < least:
        raise BriefError(
            "footprint.length",
            show_length(brief.footprint.length),
            f"at least {show_length(least)}, so that a ridge is left between the hips",
            "Let the longer side be the length, or make the ends steeper.",
        )
    if brief.ridge.kind is RidgeKind.BEAM:
        raise BriefError(
            "ridge.kind",
            brief.ridge.kind.value,
            "a board for a hip roof, with hip_braces under the ridge ends",
        )


def _check_brace(brief: Brief, brace: HipBrace, field: str) -> None:
    """Check the foot of a hip brace."""
    check_foot(brief, brace, field)
    if brace.foot.from_plate is not None:
        raise BriefError(
            f"{field}.foot.from_plate",
            show_length(brace.foot.from_plate),
            "left out: the foot stands plumb, or on the wall that is named",
        )
