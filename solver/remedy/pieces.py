"""What a remedy brings into the house and takes out of it, piece by piece."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..basis.sections import Section, section
from ..framing.model import Member, Role
from ..framing.plan import line_of
from ..schedule.pieces import of_ply
from ..solve import Solution
from ..units import INCH
from .stock import Lot, lots

Place = tuple[Any, ...]  # role, one ply, species, grade, two ends, length
Floats = NDArray[np.float64]
_TOUCH = 1e-3
_STUD, _STUDS = 92.625 * INCH, 16 * INCH  # precut for an 8 ft wall, common practice
_STUD_LUMBER, _PLATE_LUMBER = (("Spruce-Pine-Fir", g) for g in ("Stud", "No.2"))
_LINES = (Role.PLATE,)  # drawn as one, there already


@dataclass(frozen=True, kw_only=True)
class Pieces:
    """Lumber that goes in and comes out.

    Attributes:
        added: what to carry in, the longest first.
        removed: what is taken out.
    """

    added: tuple[Lot, ...]
    removed: tuple[Lot, ...]

    @property
    def board_feet(self) -> float:
        """Board feet to buy, by nominal size, as cut."""
        return sum(lot.board_feet for lot in self.added)

    @property
    def count(self) -> int:
        """Pieces to carry in."""
        return sum(lot.pieces for lot in self.added)

    @property
    def longest(self) -> float:
        """Longest piece to carry in, m, as bought; 0 where there is none."""
        return max((lot.bought for lot in self.added), default=0.0)


def pieces(before: Solution, after: Solution) -> Pieces:
    """Return the pieces in which two roofs differ.

    A member that is in the same place with more plies of the same lumber brings the
    plies alone; one that is a part of what stood there is cut from it.
    """
    there, here = _lumber(before), _lumber(after)
    fresh, gone = here - there, there - here
    added = (*_listed(_uncut(fresh, gone)), *_wall_lumber(before, after))
    longest_first = sorted(added, key=lambda t: (-t.length, t.size))
    return Pieces(added=tuple(longest_first), removed=_listed(gone))


def _wall_lumber(before: Solution, after: Solution) -> list[Lot]:
    """Return studs and plates of new bearing walls, 8 ft high.

    Studs 16 in apart with one more at the end, two top plates and one bottom plate
    (IRC 2018 R602.3, common framing); plates of the wall's length, cut as they come.
    """
    known = {wall.name for wall in before.brief.walls}
    out: list[Lot] = []
    for wall in after.brief.walls:
        if wall.name in known or not wall.bearing:
            continue
        line = line_of(wall)
        length = line.high - line.low
        studs = math.ceil(length / _STUDS - 1e-9) + 1
        stud, plate = section("2x4"), section("2x4", 3)
        one = lots(stud, *_STUD_LUMBER, _STUD)
        out.append(replace(one, pieces=studs, board_feet=one.board_feet * studs))
        out.append(lots(plate, *_PLATE_LUMBER, length))
    return out


def _uncut(fresh: Counter[Place], gone: Counter[Place]) -> Counter[Place]:
    """Return what is not cut, in its place, from what is taken out."""
    by_kind: dict[Place, list[Place]] = {}
    for place in gone:
        by_kind.setdefault(place[:4], []).append(place[4:6])
    stood = {kind: np.array(ends) for kind, ends in by_kind.items()}  # (k, 2, 3)
    return Counter(
        {
            place: count
            for place, count in fresh.items()
            if not _lies_in(np.array(place[4:6]), stood.get(place[:4]))
        }
    )


def _lies_in(ends: Floats, stood: Floats | None) -> bool:
    """Return whether (2, 3) ends both lie on the line of one of (k, 2, 3) pieces."""
    if stood is None:
        return False
    along = stood[:, 1] - stood[:, 0]
    gap = ends[None] - stood[:, None, 0]  # (k, 2, 3)
    t = np.einsum("kei,ki->ke", gap, along) / (along**2).sum(axis=1)[:, None]
    off = np.linalg.norm(gap - t[..., None] * along[:, None], axis=2)
    on_it = (t >= -_TOUCH) & (t <= 1 + _TOUCH) & (off < _TOUCH)
    return bool(on_it.all(axis=1).any())


@lru_cache(maxsize=4)
def _lumber(solution: Solution) -> Counter[Place]:
    """Return how many plies stand in each place, by size, species and grade."""
    framing = solution.framing
    points = framing.points
    rounded = list(map(tuple, np.round(points, 3).tolist()))
    out: Counter[Place] = Counter()
    for member in framing.members.values():
        if member.role in _LINES:
            continue
        first, last = member.nodes[0], member.nodes[-1]
        ends = sorted((rounded[first], rounded[last]))
        length = round(math.dist(points[first], points[last]), 4)
        out[(*_ply(member, 0), *ends, length)] += member.section.plies
        if member.section.plate is not None:
            out[(*_ply(member, None), *ends, length)] += 1
    return out


def _ply(member: Member, ply: int | None) -> Place:
    """Return what a ply is, or the plate between them where None."""
    made, species, grade = of_ply(member, ply)
    return member.role, _one_ply(made), species, grade


@lru_cache(maxsize=64)
def _one_ply(made: Section) -> Section:
    """Return a section with one of its plies."""
    return replace(made, plies=1)


def _listed(places: Counter[Place]) -> tuple[Lot, ...]:
    """Return pieces, alike ones together, longest first."""
    found: dict[tuple[str, str, str, float], Lot] = {}
    for place, plies in places.items():
        _, made, species, grade, *_, length = place
        lot = lots(made, species, grade, length)
        name = (lot.size, lot.species, lot.grade, round(lot.length, 3))
        known = found.get(name, replace(lot, pieces=0, board_feet=0.0))
        found[name] = replace(
            known,
            pieces=known.pieces + plies * lot.pieces,
            board_feet=known.board_feet + plies * lot.board_feet,
        )
    return tuple(sorted(found.values(), key=lambda t: (-t.length, t.size)))
