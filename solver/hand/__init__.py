"""The hand method, beside the frame analysis: rigid purlins and tributary areas."""

from .method import hand_method
from .model import HandJoist, HandResult, HandStrut

__all__ = ["HandJoist", "HandResult", "HandStrut", "hand_method"]
