"""Libraries that only some files on the command line need, loaded when one is written.

The solver itself runs on NumPy alone; what is missing here is said with its remedy.
"""

from __future__ import annotations

from importlib import import_module
from importlib.util import find_spec
from typing import Any

from .errors import SolverError

Library = Any  # a module without types of its own
_KINDS = {
    "reportlab": ("PDF files", "pdf"),
    "ezdxf": ("DXF drawings", "dxf"),
    "ifcopenshell": ("IFC models", "ifc"),
}


class ExtraError(SolverError):
    """A file was asked for whose library is not installed.

    Attributes:
        package: the library.
    """

    def __init__(self, package: str):
        self.package = package
        kind, group = _KINDS[package]
        super().__init__(
            f"{kind} need the package {package}, which this Python does not have. "
            f"Install it (pip install {package}, or pip install loadfall[{group}]); "
            "everything else works without it."
        )


def has_extra(package: str) -> bool:
    """Return whether an optional library is installed."""
    return find_spec(package) is not None


def extra(module: str) -> Library:
    """Return a module of an optional library.

    Args:
        module: dotted name; its first part is the library.

    Raises:
        ExtraError: the library is not installed.
    """
    package = module.partition(".")[0]
    if not has_extra(package):
        raise ExtraError(package)
    return import_module(module)
