"""Ends that change on the way up: the Dutch gable and the clipped gable."""

from __future__ import annotations

from ..errors import BriefError
from .model import RoofForm
from .rectangle import roof_from_rectangle
from .spec import EdgeSpec, Tier


def dutch_gable_end(
    pitch: float, setback: float, overhang: float = 0.0, rake: float = 0.0
) -> EdgeSpec:
    """Return the spec of a hip end that turns into a small gable.

    Args:
        pitch: of the hip end, rise over run.
        setback: plan distance of the small gable from the plate, m.
        overhang: of the eave, on plan, m.
        rake: overhang of the small gable, on plan, m.
    """
    return EdgeSpec(pitch, overhang, rake, above=(Tier(pitch * setback, None),))


def clipped_gable_end(height: float, pitch: float, rake: float = 0.0) -> EdgeSpec:
    """Return the spec of a gable whose top is cut back by a hip.

    Args:
        height: of the hip's eave above the plate, m.
        pitch: of the hip, rise over run.
        rake: overhang at the wall, rakes and hip alike, on plan, m.
    """
    return EdgeSpec(None, rake=rake, above=(Tier(height, pitch),))


def dutch_gable_roof(
    length: float,
    width: float,
    pitch: float,
    setback: float,
    overhang: float = 0.0,
    rake: float = 0.0,
) -> RoofForm:
    """Return the roof over a rectangle with a Dutch gable at either end of x.

    Args:
        length: along the ridge, m.
        width: across, m.
        pitch: of all four sides, rise over run.
        setback: plan distance of the small gables from the plate, m.
        overhang: of the eaves, on plan, m.
        rake: overhang of the small gables, on plan, m.

    Raises:
        BriefError: the small gable would lie beyond the ridge's end.
    """
    if not 0 < setback < min(width, length) / 2:
        raise BriefError(
            "setback", setback, "more than 0 and less than half of either side"
        )
    side = EdgeSpec(pitch, overhang)
    end = dutch_gable_end(pitch, setback, overhang, rake)
    return roof_from_rectangle(length, width, side, end, side, end)
