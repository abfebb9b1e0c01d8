"""International Residential Code 2006, header spans over openings in interior walls.

The tables up to 2012 allow Douglas fir-larch, Hem-Fir, southern pine and
spruce-pine-fir of grade No.2; Hem-Fir's 850 psi is the least of them, without a factor
for repetition. A wall in the middle of a house carries half its width of one floor.
"""

from __future__ import annotations

import math

from ..basis.materials import reference_values
from ..basis.protocol import Check
from ..basis.sections import section
from ..sizing.simple_span import SpanCase, largest_spans
from ..units import FOOT, INCH, PSF
from .model import Record

TABLE = "IRC 2006 Table R502.5(2), headers in interior bearing walls, one floor"
FLOOR_LIVE, FLOOR_DEAD = 40 * PSF, 10 * PSF
_SPECIES, _GRADE = "Hem-Fir", "No.2"

# size -> building width, ft -> span, in, and jack studs under each end
SPANS = {
    "2x4": {28: (32, 1), 36: (29, 1)},
    "2x6": {28: (47, 1), 36: (42, 1)},
    "2x8": {28: (60, 2), 36: (53, 2)},
    "2x10": {28: (73, 2), 36: (65, 2)},
    "2x12": {28: (84, 2), 36: (75, 2)},
}


def header_span(size: str, building: float) -> float:
    """Return the farthest span of a double header by bending, m.

    Args:
        size: of each of its two plies.
        building: m, width of the building that it stands in the middle of.
    """
    case = SpanCase(
        section=section(size, 2),
        species=_SPECIES,
        grade=_GRADE,
        spacing=building / 2,
        dead=FLOOR_DEAD,
        live=FLOOR_LIVE,
        live_duration=1.0,
        repetitive=False,
    )
    return float(largest_spans([case], (Check.BENDING,)).span[0])


def spans_of_double_headers(out: Record) -> None:
    """Ten cells; print rounds to an inch, in both directions."""
    for size, row in SPANS.items():
        for width, (printed, _) in row.items():
            found = header_span(size, width * FOOT) / INCH
            what = f"2-{size}, building {width} ft wide"
            out.check("CV-340", TABLE, "memory", what, printed, found, tol=2.0,
                      unit="in")  # fmt: skip


def jack_studs_of_double_headers(out: Record) -> None:
    """The widest building: as many jack studs as bearing across the grain asks for."""
    for size, row in SPANS.items():
        span, printed = row[36]
        made = section(size, 2)
        push = (FLOOR_DEAD + FLOOR_LIVE) * 18 * FOOT * span * INCH / 2
        strength = reference_values(_SPECIES, _GRADE, made).Fc_perp
        one = strength * made.total_breadth * section("2x4").breadth
        what = f"2-{size}, building 36 ft wide, jack studs"
        out.check("CV-341", TABLE, "memory", what, printed, math.ceil(push / one))


GROUPS = (spans_of_double_headers, jack_studs_of_double_headers)
