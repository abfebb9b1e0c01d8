"""Sizing and its reverse: how far, how much, how close, by the same checks.

Reads a solved roof or plain spans; computes no statics of its own but simple beams.
"""

from .allowed import AllowedLoad, allowed_loads
from .braces import PurlinReach, StrutReach, purlin_reaches, strut_reaches
from .joist_span import PassesUpTo, joist_spans
from .purlin_place import PurlinPlaces, purlin_places
from .simple_span import ALL, TABULATED, LargestSpans, SpanCase, largest_spans
from .sizes import Sizing, joist_sizing, rafter_sizing

__all__ = [
    "ALL",
    "TABULATED",
    "AllowedLoad",
    "LargestSpans",
    "PassesUpTo",
    "PurlinPlaces",
    "PurlinReach",
    "Sizing",
    "SpanCase",
    "StrutReach",
    "allowed_loads",
    "joist_sizing",
    "joist_spans",
    "largest_spans",
    "purlin_places",
    "purlin_reaches",
    "rafter_sizing",
    "strut_reaches",
]
