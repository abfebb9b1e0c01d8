"""Form: roof planes, ridges, hips, valleys, rakes and eaves from a plan outline.

Pure geometry; knows neither members nor loads. Lengths in m, pitches as rise over run.
"""

from .dutch_gable import clipped_gable_end, dutch_gable_end, dutch_gable_roof
from .gambrel import gambrel_roof, gambrel_side
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
from .rectangle import roof_from_rectangle
from .shed import shed_roof
from .wing import Wing, winged_roof

__all__ = [
    "EdgeSpec",
    "LineKind",
    "Outline",
    "RoofForm",
    "RoofLine",
    "RoofPlane",
    "RoofWall",
    "Tier",
    "Wing",
    "clipped_gable_end",
    "dutch_gable_end",
    "dutch_gable_roof",
    "gambrel_roof",
    "gambrel_side",
    "read_outline",
    "roof_from_outline",
    "roof_from_rectangle",
    "shed_roof",
    "winged_roof",
]
