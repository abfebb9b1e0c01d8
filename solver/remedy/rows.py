"""Rows of struts that stand on ceiling joists or on nothing, and other feet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from ..brief.model import Brief, Foot, FootOn, Override
from ..brief.outline import is_outline
from ..framing.model import Member, Role
from ..framing.struts import all_struts, is_hip_brace
from ..solve import Solution
from ..units import FOOT

_ONE_LINE = 1e-3  # m
Place = tuple[float, float]
Stand = tuple[float, Foot]  # m along the ridge, and what a strut stands on there


@dataclass(frozen=True, kw_only=True)
class FootRow:
    """Struts of one group of the brief that stand on ceiling joists, or nowhere.

    Attributes:
        part: number of the group among all groups of the brief, added struts last.
        purlin: name of the purlin line that they hold.
        keys: of the struts, in order along the ridge.
        points: (k, 2) m, places of the feet on plan, in order.
        lines: the same places by straight line: one for each slope of the roof.
        on_joists: false: no wall is in their reach, and they stand on nothing.
    """

    part: int
    purlin: str
    keys: tuple[str, ...]
    points: tuple[Place, ...]
    lines: tuple[tuple[Place, ...], ...]
    on_joists: bool = True

    @property
    def x(self) -> tuple[float, ...]:
        """Places of the feet along the ridge, m."""
        return tuple(x for x, _ in self.points)

    @property
    def y(self) -> float:
        """Place across of a row that runs along the ridge, m."""
        return self.points[0][1]

    @property
    def is_level(self) -> bool:
        """Whether the feet stand in a row along the ridge."""
        return all(abs(y - self.y) < _ONE_LINE for _, y in self.points)


def stands_badly(strut: Member) -> bool:
    """Return whether a strut stands on a ceiling joist, or found no wall."""
    on = None if strut.foot is None else strut.foot.on
    return on in (FootOn.CEILING_JOIST, FootOn.NEAREST_WALL)


def foot_rows(solution: Solution) -> list[FootRow]:
    """Return the rows of strut feet on ceiling joists or on nothing, as framed."""
    brief, framing = solution.brief, solution.framing
    rows: dict[int, list[tuple[float, float, Member]]] = {}
    for strut in framing.of_role(Role.STRUT):
        if is_hip_brace(strut) or not stands_badly(strut):
            continue
        assert strut.part is not None
        x, y, _ = framing.points[strut.nodes[0]]
        rows.setdefault(strut.part, []).append((float(x), float(y), strut))
    return [_row(brief, part, found) for part, found in rows.items()]


def _row(brief: Brief, part: int, found: list[tuple[float, float, Member]]) -> FootRow:
    """Return one row of feet from places and struts in any order."""
    found = sorted(found, key=lambda one: one[:2])
    return FootRow(
        part=part,
        purlin=all_struts(brief)[part].purlin,
        keys=tuple(strut.key for _, _, strut in found),
        points=tuple((x, y) for x, y, _ in found),
        lines=tuple(
            tuple((x, y) for x, y, strut in found if strut.slope == slope)
            for slope in dict.fromkeys(strut.slope for _, _, strut in found)
        ),
        on_joists=all(
            strut.foot is not None and strut.foot.on is FootOn.CEILING_JOIST
            for _, _, strut in found
        ),
    )


def rows_along_ridge(solution: Solution) -> list[FootRow]:
    """Return the rows of feet of a rectangular house that all run along its ridge.

    None where one of them does not: what is laid along the feet would leave it out.
    """
    rows = foot_rows(solution)
    if is_outline(solution.brief) or not all(row.is_level for row in rows):
        return []
    return rows


def strut_keys(rows: Iterable[FootRow]) -> tuple[str, ...]:
    """Return the keys of all struts of some rows."""
    return tuple(key for row in rows for key in row.keys)


def with_feet(brief: Brief, rows: Sequence[FootRow], feet: Sequence[Foot]) -> Brief:
    """Return a brief whose rows of struts stand on other feet, one for each row."""
    by_part = {row.part: foot for row, foot in zip(rows, feet, strict=True)}
    first = len(brief.struts)
    struts = tuple(
        replace(group, foot=by_part.get(n, group.foot))
        for n, group in enumerate(brief.struts)
    )
    added = tuple(
        replace(one, foot=by_part.get(n, one.foot))
        for n, one in enumerate(brief.added_struts, start=first)
    )
    changed = replace(brief, struts=struts, added_struts=added)
    return _without_stated_feet(changed, strut_keys(rows))


def with_each_foot(
    brief: Brief, rows: Sequence[FootRow], stands: Mapping[str, Stand]
) -> Brief:
    """Return a brief whose struts of some rows stand each on a foot of its own.

    Args:
        brief: of the roof.
        rows: whose struts are placed anew; those of others stay.
        stands: of every key of the rows, where it holds its purlin and its foot.
    """
    by_part, struts = {row.part: row for row in rows}, []
    for n, group in enumerate(brief.struts):
        row = by_part.get(n)
        if row is None:
            struts.append(group)
            continue
        for x, foot in (stands[key] for key in row.keys):
            spacing = max(group.spacing, FOOT)
            struts.append(replace(group, start=x, end=x, spacing=spacing, foot=foot))
    added = list(brief.added_struts)
    for n, one in enumerate(added):
        row = by_part.get(len(brief.struts) + n)
        if row is not None:
            x, foot = stands[row.keys[0]]
            added[n] = replace(one, at=x, foot=foot)
    changed = replace(brief, struts=tuple(struts), added_struts=tuple(added))
    return _without_stated_feet(changed, strut_keys(rows))


def _without_stated_feet(brief: Brief, keys: Iterable[str]) -> Brief:
    """Return a brief whose overrides no longer place the feet of some struts."""
    gone = set(keys)
    changed = [
        replace(o, foot=None) if o.member in gone else o for o in brief.overrides
    ]
    says = [o for o in changed if o != Override(member=o.member, near=o.near)]
    return replace(brief, overrides=tuple(says))


def without_struts(brief: Brief, parts: Iterable[int]) -> Brief:
    """Return a brief without some groups of struts, or purlins that they leave bare."""
    gone, first = set(parts), len(brief.struts)
    every = (*brief.struts, *brief.added_struts)
    left = [s for n, s in enumerate(every) if n not in gone]
    bare = {every[n].purlin for n in gone} - {s.purlin for s in left}
    return replace(
        brief,
        struts=tuple(s for n, s in enumerate(brief.struts) if n not in gone),
        added_struts=tuple(
            s for n, s in enumerate(brief.added_struts, first) if n not in gone
        ),
        purlins=tuple(p for p in brief.purlins if p.name not in bare),
    )


def fresh(wanted: str, taken: Iterable[str]) -> str:
    """Return a name that no other entry has."""
    names, n = set(taken), 1
    name = wanted
    while name in names:
        n += 1
        name = f"{wanted} {n}"
    return name
