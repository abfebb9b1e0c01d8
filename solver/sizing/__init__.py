"""Sizing and its reverse: how far, how much, how close, by the same checks.

Reads a solved roof or plain spans; computes no statics of its own but simple beams.
"""

from .simple_span import ALL, TABULATED, LargestSpans, SpanCase, largest_spans

__all__ = ["ALL", "TABULATED", "LargestSpans", "SpanCase", "largest_spans"]
