"""Verdicts: rule and analysis on every member, side by side and never merged."""
