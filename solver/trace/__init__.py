"""The trace: who loads whom, from any patch of roof to the foundation and back."""

from .flow import Flow, HandOver
from .shares import Shares, support_shares

__all__ = ["Flow", "HandOver", "Shares", "support_shares"]
