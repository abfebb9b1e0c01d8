"""Bolts of steel plates between plies, in words and as results.json holds them.

Reads a Solution and computes nothing of its own.
"""

from __future__ import annotations

from typing import Any

from ..connections.plate_bolts import PlateBolts
from ..solve import Solution
from ..units import INCH, POUND
from .show import Show


def plate_results(solution: Solution) -> dict[str, Any]:
    """Return the bolts of every beam with a plate by the beam's key."""
    return {
        b.beam: {
            "diameter": b.diameter / INCH,
            "each": b.each / POUND,
            "plate_takes": b.part,
            "at_each_end": b.ends,
            "end_force": b.end_force / POUND,
            "at_heaviest_place": b.places,
            "place_force": b.place_force / POUND,
            "spacing": b.spacing / INCH,
            "clause": b.clause,
        }
        for b in solution.plate_bolts
    }


def bolt_words(b: PlateBolts, show: Show) -> str:
    """Return the bolts of one beam in a sentence or two."""
    placed = (
        f", {b.places} at the heaviest place between them for "
        f"{show.force(b.place_force)}"
        if b.places
        else ""
    )
    return (
        f"Bolts of {b.beam}, {show.small(b.diameter)}: {b.ends} at each end for "
        f"{show.force(b.end_force)}{placed}, the others {show.small(b.spacing)} apart "
        f"at most, staggered. The plate takes {b.part:.0%} of the load once the wood "
        f"has crept; one bolt is worth {show.force(b.each)} ({b.clause}). Edge and end "
        "distances, holes and the plate's own bearing are for its designer."
    )
