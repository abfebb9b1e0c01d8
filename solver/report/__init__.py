"""Reports: what is handed over, read from a Solution and computed nowhere here."""

from .results import results

__all__ = ["results"]
