"""IFC4 of a solved roof: its members, and the structural analysis model beside them.

Reads a Solution; computes no statics.
"""

from .write import NO_IFC, ifc_text

__all__ = ["NO_IFC", "ifc_text"]
