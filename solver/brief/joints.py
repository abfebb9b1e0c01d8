"""What a brief states of nailed joints."""

from __future__ import annotations

from dataclasses import dataclass

from . import fields as f
from .choices import Slip
from .fields import stated

TOE_NAIL = f.text("nail driven aslant through the end", "10d common")


@dataclass(frozen=True, kw_only=True)
class HeelJoint:
    """Nails between rafter foot and tie."""

    nail: str = stated(f.text("nail, such as 16d common", "16d common"), "16d common")
    count: int | None = stated(f.whole("nails in place, where known", 1, 200), None)
    lap_count: int | None = stated(
        f.whole("nails in each joist lap over a wall, where known", 1, 200), None
    )
    slip: Slip = stated(
        f.choice(
            Slip, "none: a joint without slip; eurocode_5: K_ser of each nail; stated"
        ),
        Slip.NONE,
    )
    slip_stiffness: float | None = stated(
        f.stiffness("slip stiffness of one nail, where slip is stated"), None
    )
