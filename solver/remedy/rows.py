"""The rows of struts that stand on ceiling joists, and how to give them other feet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from ..brief.model import Brief, Foot, FootOn, Struts
from ..framing.model import Role
from ..framing.struts import is_hip_brace, strut_group
from ..solve import Solution
from ..units import FOOT


@dataclass(frozen=True, kw_only=True)
class FootRow:
    """Struts of one group of the brief that stand on ceiling joists.

    Attributes:
        part: number of the group in the brief.
        purlin: name of the purlin line that they hold.
        keys: of the struts, in order along the ridge.
        x: (k,) m, places of the feet along the ridge, in order.
        y: m, place across; the feet of one group stand in one row.
    """

    part: int
    purlin: str
    keys: tuple[str, ...]
    x: tuple[float, ...]
    y: float


def foot_rows(solution: Solution) -> list[FootRow]:
    """Return the rows of strut feet on ceiling joists, as framed.

    A strut that was added by itself is in no row: its foot stays where it was put.
    """
    brief, framing = solution.brief, solution.framing
    rows: dict[int, list[tuple[float, float, str]]] = {}
    for strut in framing.of_role(Role.STRUT):
        group = strut_group(brief, strut)
        if is_hip_brace(strut) or group.foot.on is not FootOn.CEILING_JOIST:
            continue
        assert strut.part is not None
        if strut.part >= len(brief.struts):
            continue
        x, y, _ = framing.points[strut.nodes[0]]
        rows.setdefault(strut.part, []).append((float(x), float(y), strut.key))
    return [
        FootRow(
            part=part,
            purlin=brief.struts[part].purlin,
            keys=tuple(key for _, _, key in sorted(found)),
            x=tuple(x for x, _, _ in sorted(found)),
            y=found[0][1],
        )
        for part, found in rows.items()
    ]


def strut_keys(rows: Iterable[FootRow]) -> tuple[str, ...]:
    """Return the keys of all struts of some rows."""
    return tuple(key for row in rows for key in row.keys)


def with_feet(brief: Brief, feet: dict[int, Foot]) -> Brief:
    """Return a brief whose strut groups, by number, have other feet."""
    struts = tuple(
        replace(group, foot=feet.get(n, group.foot))
        for n, group in enumerate(brief.struts)
    )
    return replace(brief, struts=struts)


def one_by_one(group: Struts, x: float, foot: Foot) -> Struts:
    """Return a group of a single strut at a place along the ridge."""
    return replace(group, start=x, end=x, spacing=max(group.spacing, FOOT), foot=foot)


def without_struts(brief: Brief, parts: Iterable[int]) -> Brief:
    """Return a brief without some groups of struts, or purlins that they leave bare."""
    gone = set(parts)
    struts = tuple(s for n, s in enumerate(brief.struts) if n not in gone)
    bare = {brief.struts[n].purlin for n in gone} - {s.purlin for s in struts}
    purlins = tuple(p for p in brief.purlins if p.name not in bare)
    return replace(brief, struts=struts, purlins=purlins)


def fresh(wanted: str, taken: Iterable[str]) -> str:
    """Return a name that no other entry has."""
    names, n = set(taken), 1
    name = wanted
    while name in names:
        n += 1
        name = f"{wanted} {n}"
    return name
