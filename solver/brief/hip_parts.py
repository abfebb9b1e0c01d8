"""What a brief states of hip rafters and the braces under them."""

from __future__ import annotations

from dataclasses import dataclass

from . import fields as f
from .choices import HipPlace
from .fields import stated
from .joints import TOE_NAIL
from .stock import SIZE, Foot, Stock


@dataclass(frozen=True, kw_only=True)
class Hips(Stock):
    """Hip rafters of a hip roof."""

    size: str = stated(SIZE, "2x8")
    stub_joists: bool = stated(
        f.flag(
            "true: stub joists from the end plates hold the feet of the end rafters, "
            "strapped over the ceiling joists; false: the plates alone"
        ),
        False,
    )


@dataclass(frozen=True, kw_only=True)
class HipBrace(Stock):
    """A brace or post under hips, or under the ridge end where they meet."""

    size: str = stated(SIZE, "4x4")
    hip: HipPlace = stated(f.choice(HipPlace, "the hips it holds"), HipPlace.ALL)
    under: str | None = stated(
        f.text(
            "over a drawn outline: key of the hip, valley or ridge it holds", "VL-5"
        ),
        None,
    )
    at: float = stated(
        f.ratio("place as a part of the hip's plan length; 1: the ridge end", 0.0),
        1.0,
    )
    foot: Foot = stated(f.record(Foot, "where it stands, plumb or on a wall nearby"))
    held_at_mid: bool = stated(
        f.flag("held at mid-length the weak way by other framing"), False
    )
    stiffener: bool = stated(
        f.flag("a second piece of the same size nailed on as a T, full length"), False
    )
    toe_nail: str = stated(TOE_NAIL, "10d common")
    foot_nails: int | None = stated(
        f.whole("toe-nails at the foot, where known", 1, 50), None
    )
    top_nails: int | None = stated(
        f.whole("toe-nails at the top, where known", 1, 50), None
    )
