"""Where the section across the roof is taken, and which members it meets."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..framing.model import Member, Role
from ..solve import Solution
from ..units import FOOT, INCH
from ..verdict.model import Verdict

NEAR = 4 * INCH
_ACROSS = (
    Role.RAFTER,
    Role.CEILING_JOIST,
    Role.COLLAR_TIE,
    Role.RAFTER_TIE,
    Role.WEB,
)
_SPACED = (Role.COLLAR_TIE, Role.RAFTER_TIE, Role.WEB)
_ALONG = (
    Role.PURLIN,
    Role.RIDGE_BOARD,
    Role.RIDGE_BEAM,
    Role.BEAM,
    Role.HEADER,
    Role.PLATE,
)


@dataclass(frozen=True)
class Cut:
    """Where the section is taken.

    Attributes:
        x: m along the ridge.
        combination: whose forces are drawn, "" where nothing is analysed.
        about: key of the strut or member that chose the place.
    """

    x: float
    combination: str
    about: str


def worst_cut(solution: Solution) -> Cut:
    """Return the section through the strut whose carrier is used most.

    A strut without load path comes before all others; without struts it is the worst
    rafter or joist.
    """
    found: list[tuple[bool, float, str]] = []
    for key, m in solution.members.items():
        if m.role == "strut" and solution.framing.members[key].slope in ("W", "E"):
            continue  # it stands along the ridge, in no section across it
        if m.role == "strut":
            on = m.stands_on.name if m.stands_on is not None else ""
            carrier = solution.members.get(on)
            uses = [m.utilisation or 0.0]
            uses += [carrier.utilisation or 0.0] if carrier is not None else []
            found.append((m.verdict is Verdict.NO_LOAD_PATH, max(uses), key))
    if not found:
        found = [
            (m.verdict is Verdict.NO_LOAD_PATH, m.utilisation or 0.0, key)
            for key, m in solution.members.items()
            if m.role in ("rafter", "ceiling_joist")
        ]
    _, _, about = max(found, key=lambda one: (one[0], one[1]))
    start, end = solution.framing.ends(about)
    place = end if solution.members[about].role == "strut" else (start + end) / 2
    on = solution.members[about].stands_on
    under = solution.members.get(on.name) if on is not None else None
    names = [
        m.combination
        for m in (under, solution.members[about])
        if m is not None and m.combination
    ]
    combination = names[0] if names else ""
    if not combination and solution.frame is not None:
        combination = solution.main_combination
    return Cut(float(place[0]), combination, about)


def cut_members(solution: Solution, cut: Cut) -> list[Member]:
    """Return the members that the section shows, the far ones first."""
    framing, out = solution.framing, list[Member]()
    for role in (*_ALONG, *_ACROSS, Role.STRUT, Role.POST):
        members = framing.of_role(role)
        if role in _ACROSS or role in (Role.STRUT, Role.POST):
            away = {m.key: abs(framing.ends(m.key)[-1][0] - cut.x) for m in members}
            least = min(away.values(), default=math.inf)
            limit = NEAR if role in (Role.STRUT, Role.POST) else least + INCH
            if role in _SPACED and least > 4 * FOOT:
                continue
            if role is Role.CEILING_JOIST and runs_along(solution):
                out += [m for m in members if _covers(solution, m, cut.x)]
                continue
            out += [m for m in members if away[m.key] <= limit]
        else:
            out += [m for m in members if _covers(solution, m, cut.x)]
    return out


def runs_along(solution: Solution) -> bool:
    """Return whether the ceiling joists run along the ridge."""
    joists = solution.brief.ceiling_joists
    return joists is not None and joists.direction.value == "along"


def _covers(solution: Solution, member: Member, x: float) -> bool:
    """Return whether a member passes through the section."""
    a, b = (float(p[0]) for p in solution.framing.ends(member.key))
    return min(a, b) - NEAR <= x <= max(a, b) + NEAR
