"""Where members will lie, told from two roofs framed already: quick enough for a drag.

Corners move almost in straight lines while one number of a brief changes, so a third
roof on the line through two others needs no framing to be shown. What is foreseen is
only ever a picture: it is framed exactly as soon as the hand rests. Pure.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from ...solver.brief import Brief
from ...solver.framing.solids import Solid
from .shape import Shape

Floats = NDArray[np.float64]
REACH = 2.0  # how far past two known roofs a third is told, in their distance
_LEAST = 1e-6  # m or slope that counts as a change; steps of 1/64 in are larger
_ROUNDED = 2e-4  # m by which numbers that go together may be rounded apart


def foreseen(brief: Brief, known: Mapping[Brief, Shape]) -> Shape | None:
    """Return where the members of a brief will lie, about.

    Args:
        brief: that is not framed yet.
        known: exact shapes by their briefs; these say no more than ``brief`` does.

    Returns:
        None where no two of them are in line with it and have the same members.
    """
    form, at = numbers(brief)
    alike = [
        (shape, where)
        for known_brief, shape in known.items()
        for other, where in [numbers(known_brief)]
        if other == form
    ]
    found = [
        (abs(part - 0.5), part, first[0], second[0])
        for first, second in combinations(alike, 2)
        if (part := _part(at, first[1], second[1])) is not None
        and _have_same_members(first[0], second[0])
    ]
    if not found:
        return None
    _, part, first, second = min(found, key=lambda one: one[0])
    return _between(brief, first, second, part)


def numbers(brief: Brief) -> tuple[object, Floats]:
    """Return a brief with its decimal numbers taken out, and these in their order."""
    out: list[float] = []
    return _taken_apart(brief, out), np.array(out)


def _taken_apart(value: object, out: list[float]) -> object:
    """Return a value without its decimal numbers, which go into a list."""
    if isinstance(value, float):
        out.append(value)
        return float
    if isinstance(value, tuple):
        return tuple(_taken_apart(one, out) for one in value)
    if is_dataclass(value) and not isinstance(value, type):
        made = (_taken_apart(getattr(value, f.name), out) for f in fields(value))
        return (type(value), *made)
    return value


def _part(at: Floats, first: Floats, second: Floats) -> float | None:
    """Return where numbers lie on the line through two others: 0 and 1 at these.

    Returns:
        None where they do not lie on it, or too far out.
    """
    along = second - first
    most = int(np.argmax(np.abs(along)))
    if abs(along[most]) < _LEAST:
        return None
    part = float((at[most] - first[most]) / along[most])
    aside = np.abs(first + part * along - at).max()
    is_near = -REACH <= part <= 1.0 + REACH
    return part if is_near and aside < _ROUNDED else None


def _have_same_members(first: Shape, second: Shape) -> bool:
    """Return whether two shapes have the same members with as many corners."""
    return list(first.roles) == list(second.roles) and np.array_equal(
        first.ends, second.ends
    )


def _between(brief: Brief, first: Shape, second: Shape, part: float) -> Shape:
    """Return the shape on the line through two others."""
    every = first.corners + part * (second.corners - first.corners)
    pieces = np.split(every, first.ends[:-1])
    solids = {
        key: Solid(points, piece.faces, piece.along)
        for (key, piece), points in zip(first.solids.items(), pieces, strict=True)
    }
    return Shape(brief, first.roles, solids)
