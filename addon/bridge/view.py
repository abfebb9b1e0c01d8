"""What panels and overlay read of a roof: plain values, computed once.

Never writes Blender data, so that it may be asked while drawing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import bpy

from ...solver.report.cautions import CAUTION, CAUTIONS, NOT_CHECKED
from ...solver.trace.naming import named
from ...solver.trace.wording import counted, owner_word, role_word
from ...solver.units import System, show_length
from ...solver.verdict.model import MemberResult, Verdict
from ..properties import roof_of
from . import kept
from .pipeline import Outcome
from .session import SESSION
from .shape import Shape
from .words import Story, story_of

__all__ = ["CAUTION", "CAUTIONS", "NOT_CHECKED", "named", "role_word"]

LINKED = (
    "Linked from another file. To change it, make it a library override: Object menu, "
    "Library Override"
)
_ICONS = {
    Verdict.NO_LOAD_PATH: "CANCEL",
    Verdict.OVER_LIMIT: "ERROR",
    Verdict.KEEPS_RULE_FAILS: "ERROR",
    Verdict.BREAKS_RULE: "INFO",
    Verdict.PASSES: "CHECKMARK",
    Verdict.NOT_COUNTED: "DOT",
}


_SEVERAL = {
    Verdict.OVER_LIMIT: "over their limit",
    Verdict.KEEPS_RULE_FAILS: "keep the rule but fail by analysis",
    Verdict.BREAKS_RULE: "break the rule but pass by analysis",
}


@dataclass(frozen=True)
class Line:
    """One line of findings: what to show, and the member that it leads to."""

    words: str
    icon: str
    key: str = ""
    detail: str = ""


@dataclass(frozen=True)
class Summary:
    """What a panel says of a roof.

    Attributes:
        verdict: the worst of all, as a sentence.
        icon: of the verdict.
        worst: key of the member with the highest use, or "".
        use: its use, 0 where there is none.
        groups: members that do not pass, by role and verdict.
        rules: broken rules.
        refusal: why nothing could be analysed, or "".
        count: number of members.
    """

    verdict: str
    icon: str
    worst: str
    use: float
    groups: tuple[Line, ...]
    rules: tuple[Line, ...]
    refusal: str
    count: int


def outcome_of(roof: bpy.types.Object) -> Outcome | None:
    """Return the last good outcome of a roof."""
    return SESSION.outcome(roof)


def is_out_of_date(roof: bpy.types.Object) -> bool:
    """Return whether a roof has moved on since its numbers were found."""
    return SESSION.moved(roof) is not None


def moved_of(roof: bpy.types.Object) -> Shape | None:
    """Return where the members of a roof lie, None where its numbers say it."""
    return SESSION.moved(roof)


def serial() -> int:
    """Return a number that changes with every change of any outcome."""
    return SESSION.serial


def summary(outcome: Outcome) -> Summary:
    """Return what a panel says of a roof."""
    return outcome.once("summary", lambda: _summary(outcome))


def _summary(outcome: Outcome) -> Summary:
    """Return what a panel says of a roof, from its solution."""
    solution = outcome.solution
    verdict, worst = solution.overall, solution.worst
    results = list(solution.members.values())
    rules = tuple(
        Line(f.words, "INFO", f.members[0] if f.members else "", f.section)
        for f in solution.findings
        if f.passed is False
    )
    words = str(verdict)
    return Summary(
        verdict=words[0].upper() + words[1:],
        icon=_ICONS[verdict],
        worst=worst.key if worst else "",
        use=float(worst.utilisation or 0.0) if worst else 0.0,
        groups=tuple(_groups(results)),
        rules=rules,
        refusal=solution.refusal,
        count=len(results),
    )


def _groups(results: list[MemberResult]) -> list[Line]:
    """Return one line for every role and verdict that does not pass, worst first."""
    bad = [r for r in results if r.verdict.rank < Verdict.PASSES.rank]
    counts = Counter((r.verdict, r.role) for r in bad)
    lines = []
    for (verdict, role), count in sorted(counts.items(), key=lambda c: c[0][0].rank):
        members = [r for r in bad if (r.verdict, r.role) == (verdict, role)]
        worst = max(members, key=lambda r: r.utilisation or 0.0)
        said = str(verdict) if count == 1 else _SEVERAL.get(verdict, str(verdict))
        words = f"{counted(count, role)}: {said}"
        detail = f"{worst.utilisation:.2f}" if worst.utilisation else ""
        lines.append(Line(words, _ICONS[verdict], worst.key, detail))
    return lines


def zone_lines(outcome: Outcome, slope: str) -> tuple[str, ...]:
    """Return where purlins of a slope can have braces that keep the rules.

    Args:
        outcome: of the roof.
        slope: ``"S"`` or ``"N"``.
    """
    return outcome.once(("zone", slope), lambda: tuple(_zone(outcome, slope)))


def _zone(outcome: Outcome, slope: str) -> Iterator[str]:
    """Yield one line for each wall that braces could stand on."""
    units = outcome.brief.units
    for strip in outcome.solution.zone:
        if strip.slope != slope:
            continue
        wall = owner_word(strip.wall)
        if strip.nearest is None or strip.farthest is None:
            yield f"To {wall}: none; {strip.why_none}"
        else:
            near, far = (show_length(v, units) for v in (strip.nearest, strip.farthest))
            along = (show_length(v, units) for v in (strip.start, strip.end))
            yield f"To {wall}: {near} to {far} from plate, at {' to '.join(along)}"


def icon_of(verdict: str) -> str:
    """Return the icon of a verdict."""
    return _ICONS[Verdict(verdict)]


def story(outcome: Outcome, key: str) -> Story | None:
    """Return the story of a member, None where the roof has no such member."""
    if key not in outcome.solution.members:
        return None
    return outcome.once(("story", key), lambda: story_of(outcome.solution, key))


def beside_first(roof: bpy.types.Object) -> tuple[str, ...]:
    """Return what sets a roof apart from its first variant, where both are solved."""
    held = roof_of(roof).variants
    outcome = SESSION.outcome(roof)
    if len(held) < 2 or outcome is None or roof_of(roof).shown_variant == held[0].name:
        return ()
    first = SESSION.pipeline.known_text(held[0].brief)
    if first is None:
        return ()
    made = outcome.once(
        ("beside", held[0].brief), lambda: kept.differences(first, outcome)
    )
    return (f"Against {held[0].name}:", *made)


def system_of(outcome: Outcome) -> System:
    """Return the units that texts about a roof are in."""
    return outcome.brief.units
