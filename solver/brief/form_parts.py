"""What a brief states of plan and form: the footprint, and the roof over it."""

from __future__ import annotations

from dataclasses import dataclass

from ..units import FOOT, INCH
from . import fields as f
from .choices import RoofForm, Shape
from .fields import stated
from .gambrel import Gambrel
from .outline_parts import Corner
from .wings import Wing

FROM_OUTLINE = 0.0  # a length that the outline gives


@dataclass(frozen=True, kw_only=True)
class Footprint:
    """Plan of the house between the bearing lines of its outer walls."""

    shape: Shape = stated(f.choice(Shape, "plan shape"), Shape.RECTANGLE)
    length: float = stated(
        f.length(
            "along the ridge, between end walls; of an outline: its extent along x, "
            "which need not be stated",
            low=4 * FOOT,
            high=400 * FOOT,
        ),
        FROM_OUTLINE,
    )
    width: float = stated(
        f.length(
            "across the ridge, plate to plate; of an outline: its extent along y",
            low=4 * FOOT,
            high=400 * FOOT,
        ),
        FROM_OUTLINE,
    )
    outline: tuple[Corner, ...] = stated(
        f.many(
            f.record(Corner, "a corner"),
            "corners of a drawn outline in order, not closed; the westmost at x = 0, "
            "the southmost at y = 0",
            most=100,
        ),
        (),
    )
    wings: tuple[Wing, ...] = stated(
        f.many(
            f.record(Wing, "a wing"),
            "wings of the rectangle; a brief with wings is read as the drawn outline "
            "that they make, every place in it measured from the whole plan's corner",
        ),
        (),
    )


@dataclass(frozen=True, kw_only=True)
class Roof:
    """Form of the roof."""

    form: RoofForm = stated(
        f.choice(
            RoofForm,
            "roof form; shed: one slope from the south eave up to a high wall to the "
            "north; gambrel: two long sides that go on flatter above a break; "
            "dutch_gable: a hip roof with a small gable over either end; outline: as "
            "its sides say",
        ),
        RoofForm.GABLE,
    )
    pitch: float = stated(f.pitch("rise in 12 of run, both slopes"))
    end_pitch: float | None = stated(
        f.pitch("rise in 12 of run of the hip ends; left out: as the slopes"), None
    )
    overhang: float = stated(
        f.length("eave overhang on plan", low=0.0, high=4 * FOOT), 16 * INCH
    )
    rake_overhang: float = stated(
        f.length("overhang past the gable ends", low=0.0, high=2 * FOOT), 0.0
    )
    setback: float = stated(
        f.length(
            "of the small gable of a Dutch gable: its plan distance from the plate",
            low=1 * FOOT,
        ),
        4 * FOOT,
    )
    gambrel: Gambrel | None = stated(
        f.record(Gambrel, "upper slopes of a gambrel; left out: there is none"), None
    )
