"""What a brief states of one member that is unlike the others of its kind."""

from __future__ import annotations

from dataclasses import dataclass

from . import fields as f
from .fields import stated
from .purlin_parts import FROM_PLATE
from .stock import GRADE, PLIES, SIZE, SPECIES, Foot


@dataclass(frozen=True, kw_only=True)
class Override:
    """A change of one member, by its key."""

    member: str = stated(f.text("member key", "CJ-05-1"))
    near: tuple[float, float] | None = stated(
        f.point(
            "plan point that the member passed when the change was stated: the change "
            "stays with the stick of its row that passes there, whatever number it "
            "has by now; left out: the key alone counts"
        ),
        None,
    )
    size: str | None = stated(SIZE, None)
    species: str | None = stated(SPECIES, None)
    grade: str | None = stated(GRADE, None)
    plies: int | None = stated(PLIES, None)
    removed: bool = stated(f.flag("take the member out"), False)
    foot: Foot | None = stated(
        f.record(Foot, "of a strut or a hip brace: where it stands instead"), None
    )
    from_plate: float | None = stated(FROM_PLATE, None)
