"""From framed members to a frame of elements: what is stiff, pinned, held and loose."""

from .model import GroundRow, Model, build_model

__all__ = ["GroundRow", "Model", "build_model"]
