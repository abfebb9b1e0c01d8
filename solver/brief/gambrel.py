"""What a brief states of a gambrel: its upper slopes, and what holds its breaks."""

from __future__ import annotations

from dataclasses import dataclass

from . import fields as f
from .fields import stated
from .stock import SIZE, Stock


@dataclass(frozen=True, kw_only=True)
class Gambrel(Stock):
    """Upper slopes of a gambrel; the stock is that of the curb between two slopes.

    Source: common practice for all three ways to hold a break; IRC R802 has no
    section on gambrels.
    """

    size: str = stated(SIZE, "2x10")
    upper_pitch: float = stated(f.pitch("rise in 12 of run above the break"))
    from_plate: float = stated(
        f.length("plan distance of the break from the plate", above=0.0)
    )
    knee_walls: bool = stated(
        f.flag("true: studs stand on the ceiling joists under the curb"), True
    )
    ties: bool = stated(
        f.flag("true: a tie from break to break at every rafter pair"), False
    )
    gussets: bool = stated(
        f.flag("true: plywood gussets make the two rafters at a break one stiff piece"),
        False,
    )
    lined: bool = stated(
        f.flag("true: boards or blocking hold the knee-wall studs sideways"), True
    )
    piece_size: str = stated(
        f.text("size of the knee-wall studs and of the ties, such as 2x4", "2x4"), "2x4"
    )
