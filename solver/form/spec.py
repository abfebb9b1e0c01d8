"""What is stated of the roof over one edge of the outline.

Every edge has a profile: the pitches that its roof takes on the way up, from its plate.
An eave has one pitch, a gable stands plumb, a gambrel changes pitch, a Dutch gable is
a hip that turns plumb, a clipped gable turns back. Holds no geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeGuard

from ..errors import BriefError

LEAST_PITCH = 1e-3
GREATEST_PITCH = 10.0
PITCH_ALLOWED = (
    f"a rise over run from {LEAST_PITCH:g} to {GREATEST_PITCH:g}, "
    "or none for a gable (a plumb wall)"
)


@dataclass(frozen=True)
class Tier:
    """The pitch of an edge's roof from a height on.

    Attributes:
        start: height above the edge's plate, m, above 0.
        pitch: rise over run from there on, or None where it stands plumb.
    """

    start: float
    pitch: float | None


@dataclass(frozen=True)
class EdgeSpec:
    """The roof over one edge of the outline.

    Attributes:
        pitch: rise over run at the plate, or None for a gable.
        overhang: of the eave, on plan, m.
        rake: overhang past the wall where the edge is a gable, on plan, m.
        plate: height of the plate above the datum, m.
        above: changes of pitch on the way up, lowest first.
    """

    pitch: float | None
    overhang: float = 0.0
    rake: float = 0.0
    plate: float = 0.0
    above: tuple[Tier, ...] = ()

    @property
    def is_gable(self) -> bool:
        """Return whether the roof ends plumb over this edge, all the way up."""
        return self.pitch is None and not self.above

    @property
    def profile(self) -> tuple[tuple[float, float | None], ...]:
        """Return (height above the datum, pitch) of every tier, lowest first."""
        tiers = [(self.plate, self.pitch)]
        tiers += [(self.plate + tier.start, tier.pitch) for tier in self.above]
        return tuple(tiers)


def check_spec(spec: EdgeSpec, field: str) -> None:
    """Refuse a spec that no roof can have.

    Args:
        spec: what is stated.
        field: its name in the brief, such as ``edges[2]``.

    Raises:
        BriefError: naming the field within the spec.
    """
    _check_pitch(spec.pitch, f"{field}.pitch")
    for name in ("overhang", "rake"):
        value = getattr(spec, name)
        if not (_is_number(value) and 0 <= value <= 10):
            raise BriefError(f"{field}.{name}", value, "a length from 0 to 10 m")
    if not (_is_number(spec.plate) and abs(spec.plate) <= 100):
        raise BriefError(f"{field}.plate", spec.plate, "a height within 100 m of 0")
    below = 0.0
    for index, tier in enumerate(spec.above):
        name = f"{field}.above[{index}]"
        if not (_is_number(tier.start) and below + 1e-3 <= tier.start <= 1000):
            raise BriefError(
                f"{name}.start",
                tier.start,
                "a height above the plate, each at least 1 mm above the one before",
            )
        _check_pitch(tier.pitch, f"{name}.pitch")
        below = tier.start


def _check_pitch(pitch: object, field: str) -> None:
    """Refuse a pitch that is no slope."""
    if pitch is None:
        return
    if not (_is_number(pitch) and LEAST_PITCH <= pitch <= GREATEST_PITCH):
        raise BriefError(
            field, pitch, PITCH_ALLOWED, "A level roof is a deck, not a rafter roof."
        )


def _is_number(value: object) -> TypeGuard[float]:
    """Return whether a value is a finite real number."""
    return (
        isinstance(value, int | float)
        and not isinstance(value, bool)
        and math.isfinite(value)
    )
