"""The shed roof: one plane, from a low eave to a wall as high as it ends."""

from __future__ import annotations

from .model import RoofForm
from .rectangle import roof_from_rectangle
from .spec import EdgeSpec


def shed_roof(
    length: float, width: float, pitch: float, overhang: float = 0.0, rake: float = 0.0
) -> RoofForm:
    """Return the shed roof over a rectangle, its eave along y = 0.

    Args:
        length: along the eave, m.
        width: across, m.
        pitch: rise over run.
        overhang: of the eave, on plan, m.
        rake: overhang at the two rakes and the high wall, on plan, m.
    """
    wall = EdgeSpec(None, rake=rake)
    return roof_from_rectangle(
        length, width, EdgeSpec(pitch, overhang), wall, wall, wall
    )
