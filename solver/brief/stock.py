"""What a brief states of any stick: its lumber, and where a strut stands."""

from __future__ import annotations

from dataclasses import dataclass

from . import fields as f
from .choices import FootOn, Otherwise, OverWalls
from .fields import stated

SPECIES = f.text(
    "species group of the NDS Supplement, or an engineered-lumber family",
    "Spruce-Pine-Fir",
)
GRADE = f.text("grade within the species group", "No.2")
SIZE = f.text(
    "nominal size such as 2x6, or dressed such as 1.75x11.875; of a beam also with a "
    "steel plate between its plies, 2x10+3/8x9, thickness by depth, A36",
    "2x6",
)
PLIES = f.whole("plies side by side", 1, 6)
JOISTS_OVER = f.choice(
    OverWalls, "what ceiling joists do over it, where not as over other walls"
)


@dataclass(frozen=True, kw_only=True)
class Stock:
    """Lumber of one kind of member."""

    size: str = stated(SIZE)
    species: str = stated(SPECIES, "Spruce-Pine-Fir")
    grade: str = stated(GRADE, "No.2")
    plies: int = stated(PLIES, 1)


@dataclass(frozen=True, kw_only=True)
class Foot:
    """Where a strut stands, or the struts of one group."""

    on: FootOn = stated(
        f.choice(
            FootOn,
            "what the foot stands on; nearest_wall: each on the nearest bearing wall "
            "that IRC R802.4.5 allows, with a lateral brace where longer than 8 ft",
        )
    )
    name: str | None = stated(f.text("name of the wall, beam or post"), None)
    from_plate: float | None = stated(
        f.length(
            "plan distance of the foot from the plate of the same slope; "
            "left out: plumb under the purlin",
            low=0.0,
        ),
        None,
    )
    otherwise: Otherwise = stated(
        f.choice(
            Otherwise, "where it stands instead if nearest_wall finds none in reach"
        ),
        Otherwise.NOTHING,
    )
    at: tuple[float, float] | None = stated(
        f.point(
            "plan point instead: the foot stands there, or on the place of the wall, "
            "beam or joist that is nearest to it"
        ),
        None,
    )
