"""Limits of the prescriptive rules that the audit applies."""

from __future__ import annotations

from ..units import FOOT

PURLINS = "IRC 2018 R802.4.5"
RIDGE_BOARD = "IRC 2018 R802.4.2"
LOW_SLOPE = "IRC 2018 R802.4.4"
TIES = "IRC 2018 R802.5.2"
LEAST_BRACE = "2x4"
BRACE_SPACING = 4 * FOOT
BRACE_ANGLE = 45.0
BRACE_LENGTH = 8 * FOOT
TIE_SPACING = 4 * FOOT
LEAST_PITCH_OF_A_BOARD = 3 / 12
