"""What a brief states of trusses built on the site from rafters and joists."""

from __future__ import annotations

from dataclasses import dataclass

from ..units import FOOT, INCH
from . import fields as f
from .choices import TrussWebs
from .fields import stated
from .stock import GRADE, SIZE, Stock


@dataclass(frozen=True, kw_only=True)
class Truss(Stock):
    """Webs that turn rafter pairs and their ceiling joists into trusses."""

    size: str = stated(SIZE, "2x4")
    grade: str = stated(GRADE, "Stud")
    name: str = stated(f.text("name of the group of trusses", "middle"))
    webs: TrussWebs = stated(
        f.choice(
            TrussWebs,
            "king_post: from the peak to the joist; king_post_and_struts: and from "
            "its foot to the purlin, or the middle, of each rafter",
        ),
        TrussWebs.KING_POST_AND_STRUTS,
    )
    spacing: float = stated(
        f.length("greatest spacing along the ridge", low=6 * INCH, high=20 * FOOT),
        2 * FOOT,
    )
    start: float | None = stated(
        f.length("no truss before this, along the ridge", low=0.0), None
    )
    end: float | None = stated(
        f.length("no truss beyond this, along the ridge", low=0.0), None
    )
    held_at_mid: bool = stated(
        f.flag("webs held at mid-length the weak way by a runner between trusses"),
        False,
    )
    gusset: float = stated(
        f.length("thickness of the plywood gussets", low=0.25 * INCH, high=1.5 * INCH),
        0.5 * INCH,
    )
    gusset_nail: str = stated(
        f.text("nail through the gussets, such as 8d common", "8d common"), "8d common"
    )
    gusset_nails: int | None = stated(
        f.whole("nails through a gusset into each piece, both sides together", 1, 200),
        None,
    )
