"""Sizing as results.json holds it, and as a short table to read.

Reads a Solution; the numbers are those of the sizing stage.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from ..basis.protocol import Check
from ..sizing import (
    PurlinPlaces,
    Sizing,
    allowed_loads,
    joist_sizing,
    joist_spans,
    purlin_reaches,
    rafter_sizing,
    strut_reaches,
)
from ..sizing.allowed import MOST
from ..sizing.joist_span import LONGEST
from ..sizing.simple_span import LONGEST as FARTHEST
from ..solve import Solution
from ..units import FOOT, INCH, PSF, System, show_length, show_pressure
from .cautions import CAUTION


def sizing_results(solution: Solution) -> dict[str, Any]:
    """Return spans, sizes, loads and spacings that pass, in ft and psf."""
    brief, framing = solution.brief, solution.framing
    return {
        "rafters": _sizing(rafter_sizing(brief, framing)),
        "ceiling_joists": _sizing(joist_sizing(brief, framing)),
        "joists": _joists(solution),
        "purlins": {
            key: {
                "spacing": p.spacing / FOOT,
                "largest_simple": p.simple / FOOT,
                "largest_continuous": p.continuous / FOOT,
                "stopped_simple": p.simple_check.value,
                "stopped_continuous": p.continuous_check.value,
                "rule": p.rule / FOOT,
            }
            for key, p in purlin_reaches(solution).items()
        },
        "struts": {
            key: {
                "tributary": s.tributary / FOOT,
                "largest": s.largest / FOOT,
                "stopped_by": s.check.value,
            }
            for key, s in strut_reaches(solution).items()
        },
        "most_load_tried": MOST / PSF,
        "longest_span_tried": LONGEST / FOOT,
    }


def _sizing(sizing: Sizing | None) -> dict[str, Any] | None:
    """Return rafters or joists by size."""
    if sizing is None:
        return None
    return {
        "size": sizing.size,
        "plies": sizing.plies,
        "span": sizing.span / FOOT,
        "largest_span": sizing.largest / FOOT,
        "stopped_by": _name(sizing.limit),
        "by_check": {c.value: far / FOOT for c, far in sizing.by_check.items()},
        "sizes": {
            row.size: {
                "largest_span": row.span / FOOT,
                "stopped_by": _name(row.limit),
                "with_top_held": row.held / FOOT,
            }
            for row in sizing.sizes
        },
        "smallest_size": sizing.smallest,
        "next_below": sizing.next_below,
    }


def _joists(solution: Solution) -> dict[str, Any]:
    """Return what every joist may bear, and how far it passes."""
    reach, out = joist_spans(solution), {}
    for key, load in allowed_loads(solution).items():
        far = reach.get(key)
        out[key] = {
            "load_by_strength": load.by_strength / PSF,
            "strength_stopped_by": _name(load.strength_check),
            "load_by_sag": load.by_sag / PSF,
            "sag_stopped_by": _name(load.sag_check),
            "span": far.span / FOOT if far else None,
            "passes_up_to": far.largest / FOOT if far else None,
            "span_stopped_by": _name(far.check) if far else None,
        }
    return out


def _name(check: Check | None) -> str | None:
    """Return the name of a check."""
    return None if check is None else check.value


def sizing_lines(
    solution: Solution, places: tuple[PurlinPlaces, ...] = ()
) -> Iterator[str]:
    """Yield the sizing of a roof as lines of text, in the units of its brief.

    Args:
        solution: a solved roof.
        places: where its purlin lines pass, as far as they were tried.
    """
    system = solution.brief.units
    for title, sizing in (
        ("Rafters", rafter_sizing(solution.brief, solution.framing)),
        ("Ceiling joists", joist_sizing(solution.brief, solution.framing)),
    ):
        if sizing is not None:
            yield from _size_lines(title, sizing, system)
    yield from _joist_lines(solution, system)
    yield from _brace_lines(solution, system)
    for found in places:
        yield from _place_lines(found, system)
    yield CAUTION


def _size_lines(title: str, sizing: Sizing, system: System) -> Iterator[str]:
    """Yield one kind of member, span by size."""
    made = f"{sizing.plies}-{sizing.size}" if sizing.plies > 1 else sizing.size
    needed = f"smallest that reaches: {sizing.smallest or 'none of these'}"
    yield (
        f"{title}, {made}: longest span {show_length(sizing.span, system)}, passes up "
        f"to {_reach(sizing.largest, system)} as a simple span "
        f"({_words(sizing.limit)}); {needed}."
    )
    yield "  " + ", ".join(
        f"{row.size} {_reach(min(row.span, FARTHEST), system)}" for row in sizing.sizes
    )
    for below, row in pairwise(sizing.sizes):
        if row.span < below.span < row.held:
            yield (
                f"  {row.size} reaches less than {below.size}: so deep a piece buckles "
                "sideways at its free top edge; with that edge held it reaches "
                f"{_reach(min(row.held, FARTHEST), system)}."
            )


def _joist_lines(solution: Solution, system: System) -> Iterator[str]:
    """Yield what the joists may bear, alike ones on one line."""
    reach, rows = joist_spans(solution), {}
    for key, load in allowed_loads(solution).items():
        far = reach.get(key)
        up_to = _reach(far.largest, system) if far else "not a simple span"
        row = (
            _load(load.by_strength, system),
            _words(load.strength_check),
            _load(load.by_sag, system),
            up_to,
        )
        rows.setdefault(row, []).append(key)
    if rows:
        yield "Attic load on the whole ceiling that each joist allows:"
        yield f"  {'by strength':<31}{'by sag':<11}{'passes up to':<14}joists"
    for (strength, check, sag, up_to), keys in sorted(
        rows.items(), key=lambda item: item[1][0]
    ):
        shown = keys[0] if len(keys) == 1 else f"{keys[0]} and {len(keys) - 1} more"
        yield f"  {f'{strength} ({check})':<31}{sag:<11}{up_to:<14}{shown}"


def _reach(length: float, system: System) -> str:
    """Return a length rounded down to a whole inch or centimetre."""
    step = INCH if system is System.IMPERIAL else 0.01
    return show_length(math.floor(length / step + 1e-6) * step, system)


def _load(value: float, system: System) -> str:
    """Return a load, or that it is the most that was tried."""
    text = show_pressure(value, system)
    return f"{text}+" if value >= MOST * (1 - 1e-9) else text


def _brace_lines(solution: Solution, system: System) -> Iterator[str]:
    """Yield how far apart braces may stand, by the hand method."""
    for key, p in purlin_reaches(solution).items():
        yield (
            f"{key}: braces {show_length(p.spacing, system)} apart; it allows "
            f"{_reach(p.simple, system)} cut over them, "
            f"{_reach(p.continuous, system)} run through, the code "
            f"{show_length(p.rule, system)}."
        )
    rows: dict[str, list[str]] = {}
    for key, s in strut_reaches(solution).items():
        text = (
            "too slender to count"
            if s.check is Check.SLENDERNESS
            else f"carries {_reach(s.largest, system)} of purlin"
        )
        rows.setdefault(text, []).append(key)
    for text, keys in rows.items():
        shown = keys[0] if len(keys) == 1 else f"{keys[0]} and {len(keys) - 1} more"
        yield f"{shown}: {text} by its own strength."


def _place_lines(found: PurlinPlaces, system: System) -> Iterator[str]:
    """Yield where a purlin line passes."""
    if found.passes:
        runs = " and ".join(
            f"{show_length(a, system)} to {show_length(b, system)}"
            for a, b in found.passes
        )
        yield f"Purlin {found.purlin} passes at {runs} from its plate."
    elif found.best is not None:
        yield (
            f"Purlin {found.purlin} passes nowhere tried; least is "
            f"{found.best.use:.2f} x the limit ({found.best.member}), "
            f"{show_length(found.best.from_plate, system)} from its plate."
        )


def _words(check: Check | None) -> str:
    """Return a check as a reader says it."""
    return "nothing here" if check is None else check.value.replace("_", " ")
