"""Which size a span needs: the rafters and the ceiling joists of a brief.

Reads the brief; takes each span between two supports as a simple one, and a purlin for
a support, as the published tables do. The frame analysis has the last word on a roof.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from ..basis.load_duration import load_duration_factor
from ..basis.materials import reference_values
from ..basis.nds.adjustment import may_be_repetitive
from ..basis.protocol import Check
from ..basis.sections import Section, section
from ..brief.model import Brief, CeilingFinish, Stock, Surface
from ..errors import TableError
from ..framing.cuts import birdsmouth_depth
from ..framing.model import Framing, Role
from ..framing.spans import spans
from ..loads.cases import Case
from ..loads.surface import roof_pressures
from ..units import GRAVITY
from ..verdict.limits import role_sag_limits
from .simple_span import ALL, LargestSpans, SpanCase, largest_spans

SIZES = ("2x4", "2x6", "2x8", "2x10", "2x12")


@dataclass(frozen=True, kw_only=True)
class SizeRow:
    """How far one size reaches.

    Attributes:
        size: nominal.
        span: m on plan, by all checks.
        limit: check that stops it, None where none does within reach.
        held: m on plan, how far it would reach with its top edge held sideways.
    """

    size: str
    span: float
    limit: Check | None
    held: float


@dataclass(frozen=True, kw_only=True)
class Sizing:
    """Rafters or ceiling joists of a brief.

    Attributes:
        role: which.
        size: as the brief states it.
        plies: likewise.
        span: m on plan, the longest between two supports.
        largest: m, how far the stated size reaches.
        limit: check that stops it.
        by_check: m, how far it reaches by each check alone.
        sizes: other sizes of the same species and grade, small to large.
    """

    role: Role
    size: str
    plies: int
    span: float
    largest: float
    limit: Check | None
    by_check: dict[Check, float]
    sizes: tuple[SizeRow, ...]

    @property
    def smallest(self) -> str | None:
        """Smallest size that reaches the span, None where none does."""
        return next((r.size for r in self.sizes if r.span >= self.span), None)

    @property
    def next_below(self) -> str | None:
        """The size just below it, which does not; None where there is none."""
        names = [row.size for row in self.sizes]
        at = len(names) if self.smallest is None else names.index(self.smallest)
        return names[at - 1] if at else None


def rafter_sizing(brief: Brief, framing: Framing) -> Sizing | None:
    """Return how far rafters reach, None where there are none.

    Under every roof load in turn: roof live and balanced snow, each with its duration.

    Args:
        brief: of the roof.
        framing: of the roof.
    """
    rafters = framing.of_role(Role.RAFTER)
    if not rafters:
        return None
    span = _longest(framing, Role.RAFTER)
    return _sizing(
        Role.RAFTER, brief.rafters, span, lambda s: _rafter(brief, framing, s)
    )


def joist_sizing(brief: Brief, framing: Framing) -> Sizing | None:
    """Return how far ceiling joists reach, None where there are none.

    Ceiling and attic load alone: what struts bring is not in it.

    Args:
        brief: of the roof.
        framing: of the roof.
    """
    joists = brief.ceiling_joists
    if joists is None or not framing.of_role(Role.CEILING_JOIST):
        return None
    span = _longest(framing, Role.CEILING_JOIST)
    return _sizing(
        Role.CEILING_JOIST, joists, span, lambda s: _joist(brief, framing, s)
    )


def _longest(framing: Framing, role: Role) -> float:
    """Return the longest span on plan between two supports, m."""
    longest = 0.0
    for key, found in spans(framing).items():
        member = framing.members[key]
        if member.role is not role:
            continue
        start, end = framing.ends(key)
        flat = float(np.hypot(*(end - start)[:2])) / float(np.linalg.norm(end - start))
        between = [s.length for s in found if not s.whole]
        longest = max(longest, flat * max(between, default=0.0))
    return longest


def _sizing(
    role: Role,
    stock: Stock,
    span: float,
    cases: Callable[[Section], list[SpanCase]],
) -> Sizing:
    """Return the stated size and all others, worked at once."""
    made = [section(stock.size, stock.plies)]
    for name in SIZES:
        try:
            piece = section(name, stock.plies)
            reference_values(stock.species, stock.grade, piece)
        except TableError:
            continue
        made.append(piece)
    listed = [(n, case) for n, piece in enumerate(made) for case in cases(piece)]
    found = largest_spans([case for _, case in listed])
    held = found
    if not all(case.top_held for _, case in listed):
        held = largest_spans([replace(case, top_held=True) for _, case in listed])
    owner = np.array([n for n, _ in listed])
    rows = [
        _governing(found, held, np.flatnonzero(owner == n), piece)
        for n, piece in enumerate(made)
    ]
    own = np.flatnonzero(owner == 0)
    return Sizing(
        role=role,
        size=stock.size,
        plies=stock.plies,
        span=span,
        largest=rows[0].span,
        limit=rows[0].limit,
        by_check={c: float(found.by_check[c][own].min()) for c in ALL},
        sizes=tuple(rows[1:]),
    )


def _governing(
    found: LargestSpans, held: LargestSpans, at: np.ndarray, piece: Section
) -> SizeRow:
    """Return the load case that stops a size first."""
    first = int(at[int(found.span[at].argmin())])
    return SizeRow(
        size=piece.name,
        span=float(found.span[first]),
        limit=found.limit[first],
        held=float(held.span[at].min()),
    )


def _rafter(brief: Brief, framing: Framing, piece: Section) -> list[SpanCase]:
    """Return a rafter of one section under each roof load."""
    stock, loads = brief.rafters, brief.loads
    steep = math.hypot(1.0, brief.roof.pitch)
    dead = loads.roof_dead * (steep if loads.roof_dead_on is Surface.SLOPE else 1.0)
    dead += _own_weight(brief, stock, piece) * steep / stock.spacing
    limits = role_sag_limits(brief, Role.RAFTER)
    pressures = roof_pressures(brief)
    live = {Case.ROOF_LIVE: pressures.roof_live}
    if pressures.snow is not None:
        live[Case.SNOW] = pressures.snow.balanced
    return [
        SpanCase(
            section=piece,
            species=stock.species,
            grade=stock.grade,
            spacing=stock.spacing,
            dead=dead,
            live=pressure,
            live_duration=load_duration_factor(["D", case.value]),
            sag_live=limits.live,
            sag_total=limits.total,
            repetitive=may_be_repetitive(stock.spacing, len(framing.rafter_stations)),
            slope=brief.roof.pitch,
            remaining=max(piece.depth - birdsmouth_depth(brief), 0.0)
            if brief.roof.pitch and brief.rafters.seat_depth
            else 0.0,
        )
        for case, pressure in live.items()
    ]


def _joist(brief: Brief, framing: Framing, piece: Section) -> list[SpanCase]:
    """Return a ceiling joist of one section under ceiling and attic load."""
    stock, loads = brief.ceiling_joists, brief.loads
    assert stock is not None
    limits = role_sag_limits(brief, Role.CEILING_JOIST)
    boarded = brief.checks.ceiling_finish is not CeilingFinish.NONE
    dead = loads.ceiling_dead + _own_weight(brief, stock, piece) / stock.spacing
    return [
        SpanCase(
            section=piece,
            species=stock.species,
            grade=stock.grade,
            spacing=stock.spacing,
            dead=dead,
            live=loads.attic_live,
            live_duration=load_duration_factor(["D", "L"]),
            sag_live=limits.live,
            sag_total=limits.total,
            repetitive=may_be_repetitive(stock.spacing, len(framing.joist_stations)),
            top_held=False,
            bottom_held=boarded,
        )
    ]


def _own_weight(brief: Brief, stock: Stock, piece: Section) -> float:
    """Return the weight of a piece where the brief adds it, N/m."""
    if not brief.loads.self_weight:
        return 0.0
    values = reference_values(stock.species, stock.grade, piece)
    return values.density * piece.area * GRAVITY
