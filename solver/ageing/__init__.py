"""Time: what sags and who carries it, from day one to fifty years.

Receives a solved roof; adds nothing to it. Only the load that stays creeps: the dead
load and the lasting part of what is stored in the attic. Everything else comes and
goes, and sags as it does on the first day.
"""

from .model import Ageing, Neighbours, Redistribution, SpanAges
from .roof import age_roof
from .shapes import MemberShape, Shapes, deflected_shapes, lasting_shapes
from .winter import Winters, drift_combinations, snow_pair, winters

__all__ = [
    "Ageing",
    "MemberShape",
    "Neighbours",
    "Redistribution",
    "Shapes",
    "SpanAges",
    "Winters",
    "age_roof",
    "deflected_shapes",
    "drift_combinations",
    "lasting_shapes",
    "snow_pair",
    "winters",
]
