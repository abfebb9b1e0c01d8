"""For every brace that breaks the rule: where the nearest legal landing is, if any."""

from __future__ import annotations

import math

import numpy as np

from ..brief.model import Brief
from ..framing.landing import Landing, nearest_landing, no_landing
from ..framing.model import Framing, Member
from ..units import show_length


def landing_of(brief: Brief, framing: Framing, strut: Member) -> Landing | None:
    """Return the landing nearest to plumb under a strut, a legal one if there is any.

    Source: IRC 2018 R802.4.5.
    """
    return nearest_landing(brief, framing.ends(strut.key)[1])


def from_foot(framing: Framing, strut: Member, landing: Landing) -> float:
    """Return how far a landing lies from where the strut stands now, m on plan."""
    foot = framing.ends(strut.key)[0]
    return float(np.hypot(*(foot[:2] - np.array(landing.point))))


def landing_words(brief: Brief, framing: Framing, strut: Member) -> str:
    """Return the nearest legal landing of a strut, or why it has none, in words."""
    found = landing_of(brief, framing, strut)
    if found is None or not found.legal:
        return f"It has no legal landing: {no_landing(brief, found)}."
    far = show_length(from_foot(framing, strut, found), brief.units)
    long = show_length(found.length, brief.units)
    held = ", with a lateral brace at mid-length" if found.held else ""
    return (
        f"The nearest legal landing is wall {found.wall}, {far} from this foot: "
        f"{math.degrees(found.angle):.0f} degrees from level, {long} long{held}."
    )
