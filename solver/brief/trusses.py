"""Contradictions of site-built trusses, each refused by the name of its field."""

from __future__ import annotations

from ..basis.nds.nails import LEAST_PENETRATION, nail
from ..basis.sections import section
from ..errors import BriefError, TableError
from ..units import show_length
from .choices import JoistDirection
from .model import Brief
from .truss_parts import Truss

_TOUCH = 1e-6


def check_trusses(brief: Brief) -> None:
    """Check names, places, chords and nails of trusses.

    Raises:
        BriefError: for the first that cannot be.
    """
    names = [truss.name for truss in brief.trusses]
    for k, truss in enumerate(brief.trusses):
        field = f"trusses[{k}]"
        if truss.name in names[:k]:
            raise BriefError(
                f"{field}.name", truss.name, "a name that no other entry has"
            )
        joists = brief.ceiling_joists
        if joists is None or joists.direction is not JoistDirection.ACROSS:
            raise BriefError(
                field,
                truss.name,
                "trusses over ceiling joists that run across",
                "The joists from plate to plate are the bottom chords.",
            )
        _check_place(brief, truss, field)
        _check_gusset(truss, field)


def _check_place(brief: Brief, truss: Truss, field: str) -> None:
    """Check where along the ridge the trusses stand."""
    length = brief.footprint.length
    low, high = truss.start or 0.0, length if truss.end is None else truss.end
    if high < low - _TOUCH or high > length + _TOUCH:
        raise BriefError(
            f"{field}.end",
            show_length(high),
            f"from its start to the length of the house ({show_length(length)})",
        )


def _check_gusset(truss: Truss, field: str) -> None:
    """Check that a gusset's nails are known and go into the lumber."""
    try:
        held = nail(truss.gusset_nail)
    except TableError as error:
        raise BriefError(
            f"{field}.gusset_nail", truss.gusset_nail, error.allowed, error.remedy
        ) from error
    into = min(held.length - truss.gusset, section(truss.size).breadth)
    if into < LEAST_PENETRATION * held.diameter - _TOUCH:
        raise BriefError(
            f"{field}.gusset_nail",
            truss.gusset_nail,
            "a nail that goes 6 diameters into the lumber behind the gusset",
        )
