"""The audit of what is special to a drawn outline: its ridges, its ties, its mouths."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..basis import irc
from ..basis.sections import section
from ..brief.model import Brief
from ..brief.outline import flattest
from ..framing.model import Framing, Role
from ..framing.outline.plan import OutlinePlan
from ..units import INCH, System, show_length
from .model import Finding, FindingKind, key_range


def outline_rules(brief: Brief, framing: Framing) -> Iterator[Finding]:
    """Yield the findings of a drawn outline; none over a rectangle."""
    plan = framing.plan
    if plan is None:
        return
    yield from _ridges(brief, framing)
    yield from _ties(brief, framing, plan)
    yield from _mouths(brief, framing, plan)


def _rule(
    rule: str, members: tuple[str, ...], result: irc.RuleResult, more: str = ""
) -> Finding:
    """Return a finding of one rule of the code."""
    verb = "keeps" if result.passed else "breaks"
    words = (
        f"{key_range(members)}: {result.quantity} {result.value}, {result.limit} "
        f"asked; {verb} {result.section}."
    )
    return Finding(
        kind=FindingKind.RULE,
        rule=rule,
        section=result.section,
        members=members,
        passed=result.passed,
        value=result.value,
        limit=result.limit,
        words=f"{words} {more}".strip(),
    )


def _ridges(brief: Brief, framing: Framing) -> Iterator[Finding]:
    """Yield the rules on ridge boards: depth, thickness, and the least pitch."""
    boards = framing.of_role(Role.RIDGE_BOARD)
    if not boards:
        return
    keys = tuple(board.key for board in boards)
    pitch, rafter = flattest(brief), section(brief.rafters.size).depth
    assert framing.plan is not None
    form = framing.plan.form
    steep = max(form.planes[n].pitch for line in form.ridges for n in line.planes)
    least = min(boards, key=lambda m: m.section.depth).section
    depth = irc.ridge_board_depth(least.depth, rafter, steep)
    yield _rule("ridge_depth", keys, depth)
    yield _rule("ridge_thickness", keys, irc.ridge_board_thickness(least.breadth))
    yield _rule("ridge_may_be_board", keys, irc.ridge_may_be_board(pitch))


def _ties(brief: Brief, framing: Framing, plan: OutlinePlan) -> Iterator[Finding]:
    """Yield the spacing of ties along each wall that commons lean from."""
    leaning = {n for line in plan.form.ridges for n in line.planes}
    for number, name in enumerate(plan.planes):
        if number not in leaning:
            continue
        commons = [
            m
            for m in framing.of_role(Role.RAFTER)
            if m.slope == name and m.key in plan.tied
        ]
        if len(commons) < 2:
            continue
        along = plan.edge(name).way
        place = {m.key: float(framing.ends(m.key)[1][:2] @ along) for m in commons}
        tied = sorted(at for key, at in place.items() if plan.tied[key])
        ends = [min(place.values()), max(place.values())]
        marks = np.unique([ends[0], *tied, ends[1]]) if tied else np.array(ends)
        widest = float(np.diff(marks).max())
        keys = tuple(m.key for m in commons)
        where = (
            f"Where no joist runs square to side {name} its plate alone hands the push "
            "along."
        )
        found = irc.rafter_tie_spacing(widest)
        yield _rule("tie_spacing", keys, found, "" if found.passed else where)


def _mouths(brief: Brief, framing: Framing, plan: OutlinePlan) -> Iterator[Finding]:
    """Yield a note for each bearing wall that was taken to stand in a mouth."""
    for owner, (start, end) in plan.mouths.items():
        joists = tuple(s.member for s in framing.supports if s.owner == owner)
        places = " to ".join(
            "(" + ", ".join(_length(v, brief.units) for v in point) + ")"
            for point in (start, end)
        )
        yield Finding(
            kind=FindingKind.NOTE,
            rule="mouth_wall",
            section="brief",
            members=joists,
            passed=None,
            value=owner,
            limit="a bearing wall or beam that is stated",
            words=f"A bearing wall {owner.removeprefix('W-')} is taken to stand across "
            f"the mouth of a wing from {places}; joists {key_range(joists)} end on it. "
            "If none does, state a beam there or ceiling_joists.mouths as open.",
        )


def _length(value: float, units: System) -> str:
    """Return a length as text; what is nearer to nothing than arithmetic is 0."""
    return show_length(value if abs(value) > INCH / 100 else 0.0, units)
