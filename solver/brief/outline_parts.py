"""What a brief states of a drawn outline: its corners and the sides between them."""

from __future__ import annotations

from dataclasses import dataclass

from . import fields as f
from .choices import EdgeKind
from .fields import stated


@dataclass(frozen=True, kw_only=True)
class Corner:
    """A corner of the outline and the side from it to the next corner."""

    at: tuple[float, float] = stated(f.point("place of the corner on plan"))
    edge: EdgeKind = stated(
        f.choice(
            EdgeKind,
            "the side from this corner to the next: eave; gable; high_wall, which a "
            "slope climbs up to and ends on; gambrel, an eave whose slope breaks; "
            "dutch_gable, a hip end that ends under a small gable",
        ),
        EdgeKind.EAVE,
    )
    pitch: float | None = stated(
        f.pitch("rise in 12 of run over that side; left out: the roof's own"), None
    )
