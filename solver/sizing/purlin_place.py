"""Where a purlin line passes: the roof framed and solved again at place after place.

Everything else of the brief stays, struts with plumb feet go along. Only what the line
has to do with is asked: rafters over it, the purlin, its struts and what they stand on.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ..brief.model import Brief
from ..errors import BriefError
from ..framing.model import Role
from ..solve import Solution, solve
from ..units import FOOT, INCH

_FIRST = 2 * FOOT  # from the plate, and half of it from the ridge
_CLOSE = INCH


@dataclass(frozen=True, kw_only=True)
class Place:
    """One place of a purlin line.

    Attributes:
        from_plate: m on plan.
        use: worst of what the line has to do with; None where it cannot be framed or
            something of it has no load path.
        member: key of the worst.
    """

    from_plate: float
    use: float | None
    member: str

    @property
    def passes(self) -> bool:
        """Whether everything asked passes."""
        return self.use is not None and self.use <= 1


@dataclass(frozen=True, kw_only=True)
class PurlinPlaces:
    """Where a purlin line passes.

    Attributes:
        purlin: name in the brief.
        places: solved, from the plate to the ridge.
        passes: m on plan, (nearest, farthest) of each stretch that passes.
        best: place of the smallest use, None where none could be framed.
    """

    purlin: str
    places: tuple[Place, ...]
    passes: tuple[tuple[float, float], ...]
    best: Place | None


def purlin_places(brief: Brief, name: str, count: int = 9) -> PurlinPlaces:
    """Return where a purlin line passes, each end of a stretch to within an inch.

    Args:
        brief: a validated brief.
        name: of the purlin line.
        count: places tried at first, 3 or more.

    Raises:
        BriefError: the brief has no purlin of this name.
    """
    names = [purlin.name for purlin in brief.purlins]
    if name not in names:
        raise BriefError("purlins", name, "one of " + ", ".join(names))
    run = brief.footprint.width / 2
    low, high = min(_FIRST, run / 3), run - min(_FIRST / 2, run / 6)
    places = [_solved(brief, name, float(x)) for x in np.linspace(low, high, count)]
    for left, right in zip(list(places), places[1:], strict=False):
        if left.passes != right.passes:
            places += _edge(brief, name, left, right)
    places.sort(key=lambda place: place.from_plate)
    framed = [place for place in places if place.use is not None]
    return PurlinPlaces(
        purlin=name,
        places=tuple(places),
        passes=tuple(_stretches(places)),
        best=min(framed, key=lambda place: place.use or 0.0, default=None),
    )


def _edge(brief: Brief, name: str, left: Place, right: Place) -> list[Place]:
    """Return the places solved to find where passing ends between two places."""
    found = []
    while right.from_plate - left.from_plate > _CLOSE:
        middle = _solved(brief, name, (left.from_plate + right.from_plate) / 2)
        found.append(middle)
        left, right = (
            (middle, right) if middle.passes == left.passes else (left, middle)
        )
    return found


def _stretches(places: list[Place]) -> list[tuple[float, float]]:
    """Return nearest and farthest of each run of places that pass."""
    out: list[tuple[float, float]] = []
    before = False
    for place in places:
        if place.passes:
            low = out[-1][0] if before else place.from_plate
            if before:
                out.pop()
            out.append((low, place.from_plate))
        before = place.passes
    return out


def _solved(brief: Brief, name: str, x: float) -> Place:
    """Return the roof's use with a purlin line at a plan distance from its plate."""
    moved = tuple(
        replace(purlin, from_plate=x, height=None) if purlin.name == name else purlin
        for purlin in brief.purlins
    )
    try:
        solution = solve(replace(brief, purlins=moved))
    except BriefError:
        return Place(from_plate=x, use=None, member="")
    keys = _concerned(solution, name)
    worst, member = 0.0, ""
    for key in keys:
        record = solution.members[key]
        if key in solution.path.faults or solution.refusal:
            return Place(from_plate=x, use=None, member=key)
        if (record.utilisation or 0.0) > worst:
            worst, member = record.utilisation or 0.0, key
    return Place(from_plate=x, use=worst, member=member)


def _concerned(solution: Solution, name: str) -> list[str]:
    """Return the members that a purlin line has to do with."""
    framing, purlin = solution.framing, f"P-{name}"
    found = [purlin] if purlin in framing.members else []
    found += [c.upper for c in framing.contacts if c.lower == purlin]
    for strut in framing.of_role(Role.STRUT):
        if strut.group == name:
            found.append(strut.key)
            on = solution.members[strut.key].stands_on
            if on is not None and on.name in framing.members:
                found.append(on.name)
    return list(dict.fromkeys(found))
