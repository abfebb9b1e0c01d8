"""What remedies are compared by; every number is read off a solved roof."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from ..ageing import Ageing, age_roof
from ..audit.model import FindingKind
from ..framing.model import Role
from ..framing.plan import line_of, wall_owner
from ..solve import Solution
from ..trace.reactions import reactions
from ..units import INCH
from .headroom import clear_height
from .pieces import Pieces, pieces
from .trouble import failures

WALL_THICKNESS = 4.5 * INCH  # 2x4 studs and board on both sides, common practice
TEN_YEARS = "10 years"
_CEILING = (Role.CEILING_JOIST, Role.BEAM)
_SLOPING = (
    Role.RAFTER,
    Role.JACK_RAFTER,
    Role.HIP_RAFTER,
    Role.VALLEY_RAFTER,
)
_WORTH_TELLING = 1.0  # N


@dataclass(frozen=True, kw_only=True)
class Sag:
    """The largest sag of a group of members, m, down positive.

    Attributes:
        now: at once, worst combination.
        ten_years: after ten years of creep, worst combination of each span.
        long_term: at the end of creep, after fifty years, worst combination.
        member: key of the member that sags most in the long term, "" where none bends.
    """

    now: float = 0.0
    ten_years: float = 0.0
    long_term: float = 0.0
    member: str = ""


@dataclass(frozen=True, kw_only=True)
class Measures:
    """What one remedy is compared by, against the roof as it is.

    Attributes:
        utilisation: worst of all members; None where nothing is checked.
        worst: key of that member.
        check: its governing check.
        failing: number of members that fail or have no load path.
        ceiling, roof: sags of joists and beams, and of rafters.
        beside: m, largest growth of the difference between neighbours at the ceiling
            in ten years; None where nothing stands side by side.
        beside_members: those two.
        may_crack: whether that is over the limit of the finish.
        pieces: what goes in and comes out.
        headroom: m, clear walking envelope of the attic.
        headroom_lost: m against the roof as it is; negative where it is gained.
        walls: m of new wall.
        posts: number of new posts in the rooms below.
        floor_lost: m2 that new walls and posts stand on.
        foundations: support owner to N of new load on it, the largest combination.
        rules_broken: sections of the rules that are broken, in order.
    """

    utilisation: float | None
    worst: str
    check: str
    failing: int
    ceiling: Sag
    roof: Sag
    beside: float | None
    beside_members: tuple[str, str]
    may_crack: bool
    pieces: Pieces
    headroom: float
    headroom_lost: float
    walls: float
    posts: int
    floor_lost: float
    foundations: Mapping[str, float] = field(default_factory=dict[str, float])
    rules_broken: tuple[str, ...] = ()

    @property
    def foundation(self) -> float:
        """Largest new load on one wall or footing, N."""
        return max(self.foundations.values(), default=0.0)


@lru_cache(maxsize=4)
def aged_roof(solution: Solution) -> Ageing | None:
    """Return the roof through the years; asked for several times of one roof."""
    return age_roof(solution)


def measure(before: Solution, after: Solution, headroom: float) -> Measures:
    """Return the measures of a changed roof.

    Args:
        before: the roof as it is.
        after: with the remedy.
        headroom: of the roof as it is, m.
    """
    worst = after.worst
    beside, pair, crack = beside_in_ten_years(after)
    clear = clear_height(after)
    walls, posts, floor = _floor(before, after)
    broken = [
        f.section
        for f in after.findings
        if f.kind is FindingKind.RULE and f.passed is False
    ]
    return Measures(
        utilisation=None if worst is None else worst.utilisation,
        worst="" if worst is None else worst.key,
        check="" if worst is None else worst.governing_check,
        failing=len(failures(after)),
        ceiling=largest_sag(after, _CEILING),
        roof=largest_sag(after, _SLOPING),
        beside=beside,
        beside_members=pair,
        may_crack=crack,
        pieces=pieces(before, after),
        headroom=clear,
        headroom_lost=headroom - clear,
        walls=walls,
        posts=posts,
        floor_lost=floor,
        foundations=new_loads(before, after),
        rules_broken=tuple(dict.fromkeys(broken)),
    )


def largest_sag(solution: Solution, roles: tuple[Role, ...]) -> Sag:
    """Return the largest sag of the members of some roles."""
    sags = {
        member.key: found
        for member in solution.framing.of_role(*roles)
        for found in [solution.members.sags(member.key)]
        if found is not None
    }
    if not sags:
        return Sag()
    worst = max(sags, key=lambda key: sags[key][1])
    return Sag(
        now=max(now for now, _ in sags.values()),
        ten_years=_in_ten_years(solution, set(sags)),
        long_term=sags[worst][1],
        member=worst,
    )


def _in_ten_years(solution: Solution, keys: set[str]) -> float:
    """Return the largest sag of some members after ten years, m."""
    aged = aged_roof(solution)
    if aged is None:
        return 0.0
    spans = aged.spans
    row = spans.sag[aged.names.index(TEN_YEARS)]
    mine = [float(row[n]) for n, key in enumerate(spans.member) if key in keys]
    return max(mine, default=0.0)


def beside_in_ten_years(
    solution: Solution,
) -> tuple[float | None, tuple[str, str], bool]:
    """Return the largest growth between neighbours, m, of which, and whether it cracks.

    Where a limit applies the pair that is worst against it is meant.
    """
    aged = aged_roof(solution)
    if aged is None or not aged.neighbours:
        return None, ("", ""), False
    at = aged.names.index(TEN_YEARS)

    def use(n: int) -> float:
        pair = aged.neighbours[n]
        return float(pair.growth[at]) / (pair.limit or 1.0)

    pair = aged.neighbours[max(range(len(aged.neighbours)), key=use)]
    return float(pair.growth[at]), (pair.first, pair.second), pair.may_crack[at]


def new_loads(before: Solution, after: Solution) -> dict[str, float]:
    """Return support owner to the load that it has more than before, N, if any.

    The largest difference over the combinations.
    """
    was, now = reactions(before), reactions(after)
    out: dict[str, float] = {}
    for owner, (up, _) in now.items():
        if owner.startswith("H-"):
            continue  # the ceiling holds sideways alone
        known = was.get(owner)
        same = known is not None and len(known[0]) == len(up)
        more = up - known[0] if known is not None and same else up
        if (most := float(np.max(more, initial=0.0))) > _WORTH_TELLING:
            out[owner] = most
    return dict(sorted(out.items(), key=lambda item: -item[1]))


def _floor(before: Solution, after: Solution) -> tuple[float, int, float]:
    """Return m of new wall, new posts in rooms, and m2 that both stand on."""
    known = {wall_owner(wall) for wall in before.brief.walls}
    length = sum(
        line.high - line.low - sum(g.end - g.start for g in wall.openings)
        for wall in after.brief.walls
        if wall_owner(wall) not in known
        for line in [line_of(wall)]
    )
    there = {m.key for m in before.framing.of_role(Role.POST) if m.counted}
    posts = [
        m for m in after.framing.of_role(Role.POST) if m.counted and m.key not in there
    ]
    area = length * WALL_THICKNESS + sum(m.section.area for m in posts)
    return length, len(posts), area
