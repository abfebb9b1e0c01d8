"""The strip of plan where a purlin can have legal braces at all.

From walls and pitch alone, before anything is framed: a brace may be no flatter than
45 degrees, no longer than 8 ft unbraced, and must stand on a bearing wall (IRC 2018
R802.4.5). Plan distances are from the plate of the slope.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ..basis.irc.purlins import BRACE_LENGTH
from ..brief.hips import hip_inset
from ..brief.model import Brief, RoofForm
from ..brief.outline import is_outline
from ..framing.plan import gaps_of, line_of, wall_owner
from ..units import INCH

_CLEAR_OF_RIDGE = 3 * INCH


@dataclass(frozen=True, kw_only=True)
class ZoneStrip:
    """Where a purlin of one slope could be braced to one wall.

    Attributes:
        slope: ``"S"`` or ``"N"``.
        wall: owner of the bearing wall.
        wall_from_plate: m, plan distance of that wall from the plate of the slope.
        start, end: m along the ridge, where the wall stands.
        nearest, farthest: m from the plate; both None where no place is legal.
        why_none: the rule that leaves nothing, in words, or None.
        nearest_any_length: m from the plate where 45 degrees begins, were length no
            matter; None where the roof never gets there.
    """

    slope: str
    wall: str
    wall_from_plate: float
    start: float
    end: float
    nearest: float | None
    farthest: float | None
    why_none: str | None
    nearest_any_length: float | None


def purlin_zone(brief: Brief) -> tuple[ZoneStrip, ...]:
    """Return the strips of both slopes for every bearing wall along the ridge.

    The outer wall of the slope itself is among them: a purlin near the plate could
    be braced to it. Struts are drawn plumb under the slope to the ceiling line.
    """
    if is_outline(brief):  # no purlin lines are framed over it
        return ()
    size = brief.footprint
    strips = []
    for slope in "SN":
        own = ("W-SOUTH", 0.0) if slope == "S" else ("W-NORTH", 0.0)
        strips.append(_strip(brief, slope, own[0], own[1], 0.0, size.length))
        for wall in brief.walls:
            line = line_of(wall)
            if not wall.bearing or line.along != 0:  # one at an angle has no strip
                continue
            away = line.at if slope == "S" else size.width - line.at
            edges = [line.low, *(v for gap in gaps_of(wall) for v in gap), line.high]
            for low, high in zip(edges[::2], edges[1::2], strict=True):
                if high - low > INCH:
                    strips.append(
                        _strip(brief, slope, wall_owner(wall), away, low, high)
                    )
    if brief.roof.form is RoofForm.HIP:
        strips = [found for strip in strips for found in _between_hips(brief, strip)]
    return tuple(strips)


def _between_hips(brief: Brief, strip: ZoneStrip) -> list[ZoneStrip]:
    """Return a strip cut off where its farthest line meets the hips, if any is left."""
    if strip.farthest is None:
        return [strip]
    low = hip_inset(brief) * strip.farthest / (brief.footprint.width / 2)
    start = max(strip.start, low)
    end = min(strip.end, brief.footprint.length - low)
    return [replace(strip, start=start, end=end)] if end > start + INCH else []


def _strip(
    brief: Brief, slope: str, wall: str, away: float, start: float, end: float
) -> ZoneStrip:
    """Return the legal strip for one wall and one slope.

    With the purlin at plan distance p its height is t p, so 45 degrees needs
    ``t p >= |p - a|`` and the length rule ``(t p)^2 + (p - a)^2 <= 8 ft squared``.
    """
    t = brief.roof.pitch
    run = brief.footprint.width / 2
    top = run - _CLEAR_OF_RIDGE
    low = away / (1 + t)
    high = away / (1 - t) if t < 1 else math.inf
    reach = low if low <= top else None
    common = {
        "slope": slope,
        "wall": wall,
        "wall_from_plate": away,
        "start": start,
        "end": end,
        "nearest_any_length": reach,
    }
    if low > top or high <= low + INCH:
        return ZoneStrip(
            nearest=None,
            farthest=None,
            why_none="no brace to this wall reaches 45 degrees under this slope",
            **common,
        )
    a, b, c = 1 + t * t, -2 * away, away * away - BRACE_LENGTH**2
    root = b * b - 4 * a * c
    if root < 0:
        return ZoneStrip(
            nearest=None,
            farthest=None,
            why_none="every brace to this wall is longer than 8 ft",
            **common,
        )
    short = ((-b - math.sqrt(root)) / (2 * a), (-b + math.sqrt(root)) / (2 * a))
    nearest, farthest = max(low, short[0], 0.0), min(high, short[1], top)
    if nearest > farthest - INCH:
        return ZoneStrip(
            nearest=None,
            farthest=None,
            why_none="braces steep enough to this wall are longer than 8 ft",
            **common,
        )
    return ZoneStrip(nearest=nearest, farthest=farthest, why_none=None, **common)
