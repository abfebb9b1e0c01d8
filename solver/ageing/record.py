"""Ageing as JSON data, in the units of results.json: in, ft, lb and lb-ft."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from ..framing.model import Role
from ..trace.solved import Solved
from ..units import FOOT, INCH, POUND, POUND_FOOT
from .finish import SOURCE
from .model import Ageing, Neighbours, Redistribution
from .roof import age_roof

AS_FRAMED = "as framed"
STIFF_BEAMS = "if the beams did not creep, as steel does not"
_WORTH_TELLING = 0.005  # of a member's load


def ageing_record(solved: Solved) -> dict[str, Any]:
    """Return everything that ageing says of a roof, JSON-ready.

    Returns:
        Keys as ``docs/results.md`` describes them; empty where nothing was analysed.
    """
    found = age_roof(solved)
    if found is None:
        return {}
    return {
        "times": list(found.names),
        "years": _numbers(found.years),
        "creep_share": _numbers(found.share),
        "label": found.label,
        "creep_at_fifty_years": found.creep,
        "spans": _spans(found),
        "neighbours": [_pair(pair) for pair in found.neighbours],
        "cracking": SOURCE,
        "refusal": found.refusal,
        "redistribution": _moved(solved, found),
    }


def _numbers(values: Iterable[float], unit: float = 1.0) -> list[float]:
    """Return finite numbers in a unit."""
    out = [float(value) / unit for value in values]
    if not all(map(math.isfinite, out)):
        raise ValueError(f"a result is not finite: {out}")
    return out


def _spans(found: Ageing) -> dict[str, list[dict[str, Any]]]:
    """Return the spans of every member, in order."""
    s = found.spans
    out: dict[str, list[dict[str, Any]]] = {}
    for n, key in enumerate(s.member):
        start, end, where = _numbers((s.start[n], s.end[n], s.where[n]), FOOT)
        rest, lasting = _numbers((s.rest[n], s.lasting[n]), INCH)
        out.setdefault(key, []).append(
            {
                "start": start,
                "end": end,
                "where": where,
                "combination": s.combination[n],
                "rest": rest,
                "lasting": lasting,
                "sag": _numbers(s.sag[:, n], INCH),
                "low": _numbers(s.low[:, n], INCH),
                "high": _numbers(s.high[:, n], INCH),
            }
        )
    return out


def _pair(pair: Neighbours) -> dict[str, Any]:
    """Return two members side by side."""
    limit = None if pair.limit is None else pair.limit / INCH
    return {
        "members": [pair.first, pair.second],
        "apart": pair.apart / FOOT,
        "lasting": _numbers(pair.lasting, INCH),
        "worst": _numbers(pair.worst, INCH),
        "growth": _numbers(pair.growth, INCH),
        "limit": limit,
        "may_crack": list(pair.may_crack),
    }


def _moved(solved: Solved, found: Ageing) -> dict[str, Any] | None:
    """Return what creep moves; where all creep alike, what it would at the most.

    The bound takes the beams for members without creep; a roof without beams has none.
    """
    case, moved = AS_FRAMED, found.redistribution
    if moved is None and not found.refusal:
        assert solved.model is not None
        analysed = set(solved.model.members)
        beams = [m.key for m in solved.framing.of_role(Role.BEAM, Role.RIDGE_BEAM)]
        stiff = {key: 0.0 for key in beams if key in analysed}
        if not stiff:
            return None
        bound = age_roof(solved, by_member=stiff)
        case, moved = STIFF_BEAMS, bound.redistribution if bound else None
    if moved is None:
        return None
    return {"case": case, **_loads(moved)}


def _loads(moved: Redistribution) -> dict[str, Any]:
    """Return loads at once and after so long, of members that gain or lose."""
    told = [
        key
        for key, load in moved.carried.items()
        if abs(load[-1] - load[0]) > _WORTH_TELLING * abs(load[0])
    ]
    return {
        "members": {
            key: {
                "carried": _numbers(moved.carried[key], POUND),
                "moment": _numbers(moved.moment[key], POUND_FOOT),
            }
            for key in told
        },
        "reactions": {
            owner: _numbers(load, POUND) for owner, load in moved.reactions.items()
        },
    }
