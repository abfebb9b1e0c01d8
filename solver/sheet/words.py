"""What the sheet says: seen, means, do, for a homeowner and for an inspector's report.

Reads solved roofs; every number is theirs. The homeowner's sentences know no keys, no
clauses and no combinations; the inspector's have all of them.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..audit.model import FindingKind
from ..remedy import Remedy
from ..solve import Solution
from ..trace.findings import main_findings
from ..trace.told import Told, Weight
from ..trace.wording import CHECKS, counted, listed, role_word, sentence
from ..units import show_small_length
from ..verdict.model import MemberResult, Verdict

_PLAIN = {
    "strut": ("roof brace", "roof braces"),
    "ceiling_joist": ("ceiling joist", "ceiling joists"),
    "purlin": ("purlin", "purlins"),
}
_SHAPE = ("slenderness", "beam_slenderness")  # checks of shape, not of load
_SHORES = (
    "Temporary props go in first, followed down to the ground; until then cut, move or "
    "lift nothing."
)
_NO_ANSWER = (
    "None of the changes that were tried is enough by itself: have an engineer look at "
    "it before anything is changed or stored up there."
)


@dataclass(frozen=True)
class Said:
    """Three sentences or short paragraphs.

    Attributes:
        seen: what is there.
        means: what follows from it.
        do: what to do.
    """

    seen: str
    means: str
    do: str

    @property
    def rows(self) -> tuple[tuple[str, str], ...]:
        """The three with their heads."""
        return (("Seen", self.seen), ("Means", self.means), ("Do", self.do))


def for_homeowner(before: Solution, remedy: Remedy | None) -> Said:
    """Return what a person without the trade should know."""
    told = _main(before)
    if told.weight is Weight.PASSES:
        return Said(told.seen, told.means, told.do)
    return Said(_seen(before, told), _means(before, told), _do(before, remedy))


def for_inspector(before: Solution, remedy: Remedy | None) -> tuple[Said, str]:
    """Return the same with keys, rule and numbers, and the sections it rests on."""
    told = _main(before)
    do = told.do
    if remedy is not None and told.weight is not Weight.PASSES:
        result = (
            "With it every member passes these checks by analysis."
            if remedy.solves
            else "It is not enough by itself."
        )
        do += f" One way that was worked through: {remedy.build} {result}"
    return Said(told.seen, told.means, do), _sections(before, told)


def _main(before: Solution) -> Told:
    """Return the finding that the sheet is about.

    The heaviest; of several that are as heavy the one whose member is used most, but
    for braces that stand on what should not carry them, which are the cause.
    """
    first, *others = main_findings(before)
    if any(before.members[k].role == "strut" for k in first.members):
        return first

    def use(told: Told) -> float:
        uses = (before.members[k].utilisation or 0.0 for k in told.members)
        return max(uses, default=0.0)

    return max([first, *(t for t in others if t.weight is first.weight)], key=use)


def _sections(before: Solution, told: Told) -> str:
    """Return the sections of rule and design basis that the finding rests on."""
    rules = [told.section] if told.section else []
    rules += [
        f.section
        for f in before.findings
        if f.kind is FindingKind.RULE and f.passed is False
    ]
    worst = _worst(before, told)
    clauses = [worst.clause] if worst is not None and worst.clause else []
    return "; ".join(dict.fromkeys([*rules, *clauses]))


def _worst(before: Solution, told: Told) -> MemberResult | None:
    """Return the most used member that a finding is about."""
    rated = [before.members[k] for k in told.members]
    rated = [m for m in rated if m.utilisation is not None and m.role != "strut"]
    if not rated and before.worst is not None:
        rated = [before.worst]
    return max(rated, key=lambda m: m.utilisation or 0.0, default=None)


def _plain(role: str, number: int) -> str:
    """Return a number of members in a homeowner's words."""
    if role in _PLAIN:
        return f"{number} {_PLAIN[role][number != 1]}"
    return counted(number, role)


def _seen(before: Solution, told: Told) -> str:
    """Return what is there, in plain words."""
    members = [before.members[k] for k in told.members]
    struts = [m for m in members if m.role == "strut" and m.stands_on is not None]
    under = {m.stands_on.name: m.stands_on.kind for m in struts if m.stands_on}
    kinds = {k for k in under.values() if k in ("ceiling_joist", "beam")}
    if struts and len(kinds) == 1 and told.weight is not Weight.NO_LOAD_PATH:
        kind = kinds.pop()
        verb = "stands" if len(struts) == 1 else "stand"
        return sentence(
            f"{_plain('strut', len(struts))} {verb} on {_plain(kind, len(under))} "
            "instead of on a wall or a post that leads down to the ground"
        )
    if told.weight is Weight.NO_LOAD_PATH and members:
        return sentence(f"{_by_role(members)}: nothing leads their load to the ground")
    if told.weight is Weight.OVER_LIMIT and members:
        verb = "carries" if len(members) == 1 else "carry"
        return sentence(f"{_by_role(members)} {verb} more than these checks allow")
    return told.seen


def _by_role(members: list[MemberResult]) -> str:
    """Return how many of each role there are."""
    roles: dict[str, int] = {}
    for m in members:
        roles[m.role] = roles.get(m.role, 0) + 1
    return listed([_plain(role, n) for role, n in roles.items()])


def _means(before: Solution, told: Told) -> str:
    """Return what follows, in plain words."""
    if told.weight is Weight.NO_LOAD_PATH:
        untied = set(told.members) & set(before.path.untied_rafters)
        if untied:
            return (
                "Nothing ties the walls together there, so the roof can push them "
                "outward and sink at the ridge."
            )
        return (
            "What they carry hangs on boards and nails that were never meant for it, "
            "and no number can be put to how long that lasts."
        )
    worst = _worst(before, told)
    if worst is None or worst.utilisation is None:
        return told.means
    if worst.utilisation <= 1:
        return (
            "The building code's ready rules do not allow it. By calculation what is "
            "underneath stays within its limit "
            f"({worst.utilisation:.0%} of it at most)."
        )
    return _over(before, told, worst)


def _over(before: Solution, told: Told, worst: MemberResult) -> str:
    """Return what it means that members are over their limit."""
    over = [
        m
        for m in before.members.values()
        if m.role == worst.role and m.analysis_passes is False
    ]
    purpose = (
        "Ceiling joists are there for the ceiling, not for the roof. "
        if worst.role == "ceiling_joist" and "stand" in told.seen
        else ""
    )
    verb, who = ("is", "it") if len(over) == 1 else ("are", "they")
    many = f"{len(over)} {role_word(worst.role, many=len(over) != 1)} {verb}"
    most = times(worst.utilisation or 0.0)
    lead = (
        f"{purpose}Under the loads that have to be reckoned with, {many} asked for up "
        f"to {most} times what {who} may carry. Too much of it, and "
        f"{CHECKS[worst.governing_check][1]}."
    )
    if worst.governing_check in _SHAPE:
        lead = (
            f"{many} longer for {'its' if len(over) == 1 else 'their'} thickness than "
            f"the rules allow, by up to {most} times: so thin a piece bows out "
            "sideways before it carries what it could."
        )
    if worst.sag_now is None or worst.sag_long_term is None:
        return lead
    now, later = (
        show_small_length(sag, before.brief.units)
        for sag in (worst.sag_now, worst.sag_long_term)
    )
    return f"{lead} The sag may reach {now} and grow to {later} over the years."


def times(use: float) -> str:
    """Return how many times its limit a member is used, never as 1 or less."""
    return f"{use:.1f}" if use >= 1.15 else f"{use:.2f}" if use >= 1.005 else "1.01"


def _do(before: Solution, remedy: Remedy | None) -> str:
    """Return what to do, in plain words."""
    if before.overall is Verdict.PASSES:
        return "Nothing is asked for here."
    if remedy is None or not remedy.solves:
        return _NO_ANSWER
    engineer = (
        " An engineer has to confirm it, and what stands under it."
        if remedy.engineer
        else " Have it confirmed before work starts."
    )
    build = remedy.build.replace("strut", "brace")
    return f"{build} {_SHORES}{engineer}"
