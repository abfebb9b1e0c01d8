"""From framed members to a frame of elements: what is stiff, pinned, held and loose."""

from .drift import drifting
from .heels import with_heel_slip
from .model import GroundRow, Model, build_model, with_loads

__all__ = [
    "GroundRow",
    "Model",
    "build_model",
    "drifting",
    "with_heel_slip",
    "with_loads",
]
