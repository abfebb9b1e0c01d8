"""What a brief states of purlin lines and of the struts that hold them."""

from __future__ import annotations

from dataclasses import dataclass

from ..units import FOOT, INCH
from . import fields as f
from .choices import Orientation, Slope
from .fields import stated
from .joints import TOE_NAIL
from .stock import GRADE, SIZE, Foot, Stock

FROM_PLATE = f.length(
    "plan distance from the plate line of the same slope", low=0.0, above=0.0
)


@dataclass(frozen=True, kw_only=True)
class Purlin(Stock):
    """A purlin line under the rafters of one slope."""

    name: str = stated(f.text("name of the purlin line", "S"))
    slope: Slope = stated(
        f.choice(
            Slope,
            "the slope it runs under; over a drawn outline a line under every plane "
            "that falls that way, all: under every plane",
        )
    )
    plane: str | None = stated(
        f.text(
            "over a drawn outline: name of the one plane instead, that of its side",
            "S1",
        ),
        None,
    )
    from_plate: float | None = stated(FROM_PLATE, None)
    height: float | None = stated(
        f.length("height above the plate line, instead of from_plate", above=0.0), None
    )
    orientation: Orientation = stated(
        f.choice(Orientation, "plumb, or square to the slope"), Orientation.PLUMB
    )
    start: float | None = stated(
        f.length(
            "where the line begins, along the eave of its slope; over a drawn outline "
            "from the west or south end of the whole line under its plane",
            low=0.0,
        ),
        None,
    )
    end: float | None = stated(f.length("where the line ends, likewise", low=0.0), None)


@dataclass(frozen=True, kw_only=True)
class Strut(Stock):
    """What every strut (purlin brace) states, in a group or added alone."""

    size: str = stated(SIZE, "2x4")
    grade: str = stated(GRADE, "Stud")
    purlin: str = stated(
        f.text(
            "name of the purlin line that it holds; over a drawn outline a purlin "
            "named ring has the lines ring-S1, ring-E1, ..., ring is all of them",
            "S",
        )
    )
    foot: Foot = stated(f.record(Foot, "where the foot stands"))
    held_at_mid: bool = stated(
        f.flag("held at mid-length the weak way by a runner between struts"), False
    )
    stiffener: bool = stated(
        f.flag("a second piece of the same size nailed on as a T, full length"), False
    )
    toe_nail: str = stated(TOE_NAIL, "10d common")
    foot_nails: int | None = stated(
        f.whole("toe-nails at each foot, where known", 1, 50), None
    )
    top_nails: int | None = stated(
        f.whole("toe-nails at each top, where known", 1, 50), None
    )


@dataclass(frozen=True, kw_only=True)
class Struts(Strut):
    """A group of struts at one spacing with feet of one kind."""

    spacing: float = stated(
        f.length("spacing along the purlin", low=6 * INCH, high=20 * FOOT), 4 * FOOT
    )
    start: float | None = stated(
        f.length(
            "where the first strut stands, along the ridge; over a drawn outline from "
            "the west or south end of its line",
            low=0.0,
        ),
        None,
    )
    end: float | None = stated(
        f.length("no strut of the group beyond this, likewise", low=0.0), None
    )


@dataclass(frozen=True, kw_only=True)
class AddedStrut(Strut):
    """One strut more, with a name and so a key of its own."""

    name: str = stated(f.text("name, the last part of its key; not a number", "extra"))
    at: float = stated(
        f.length(
            "where it stands, along the ridge; over a drawn outline from the west or "
            "south end of its line",
            low=0.0,
        )
    )
