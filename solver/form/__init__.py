"""Form: roof planes, ridges, hips, valleys, rakes and eaves from a plan outline.

Pure geometry; knows neither members nor loads. Lengths in m, pitches as rise over run.
"""

from .model import (
    EdgeSpec,
    LineKind,
    Outline,
    RoofForm,
    RoofLine,
    RoofPlane,
    RoofWall,
    Tier,
)
from .outline import read_outline
from .polygon import roof_from_outline

__all__ = [
    "EdgeSpec",
    "LineKind",
    "Outline",
    "RoofForm",
    "RoofLine",
    "RoofPlane",
    "RoofWall",
    "Tier",
    "read_outline",
    "roof_from_outline",
]
