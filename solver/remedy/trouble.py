"""What is wrong with a solved roof, sorted by what could mend it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from ..audit.model import FindingKind
from ..brief.model import FootOn
from ..framing.model import Role
from ..solve import Solution
from ..verdict.model import MemberResult, Verdict

_FAILS = (Verdict.NO_LOAD_PATH, Verdict.OVER_LIMIT, Verdict.KEEPS_RULE_FAILS)
_JUST_OVER = 1.005  # 1.00 would read as enough
_SLOPING = (Role.RAFTER, Role.JACK_RAFTER)


@dataclass(frozen=True, kw_only=True)
class Trouble:
    """Member keys by what is wrong; a key may stand in several.

    Attributes:
        failing: every member that has no load path or is over a limit, worst first.
        feet: struts that stand on ceiling joists, whether the joists pass or not.
        untied: rafters whose thrust nothing holds.
        rafters, joists, hips, beams, struts, purlins, ties: of the failing ones.
        valleys: of the failing ones.
        hip_rule: hips and valleys whose upper end nothing holds, by the rule.
    """

    failing: tuple[str, ...]
    feet: tuple[str, ...]
    untied: tuple[str, ...]
    rafters: tuple[str, ...]
    joists: tuple[str, ...]
    hips: tuple[str, ...]
    valleys: tuple[str, ...]
    beams: tuple[str, ...]
    struts: tuple[str, ...]
    purlins: tuple[str, ...]
    ties: tuple[str, ...]
    hip_rule: tuple[str, ...]

    @property
    def any(self) -> bool:
        """Whether anything is wrong, by analysis or by a rule about where loads go."""
        return bool(self.failing or self.feet or self.untied or self.hip_rule)


def failures(solution: Solution) -> list[MemberResult]:
    """Return the members that have no load path or fail by analysis, worst first."""
    found = [
        solution.members[key]
        for key, verdict in solution.members.verdicts.items()
        if verdict in _FAILS
    ]
    return sorted(
        found,
        key=lambda m: (m.verdict is not Verdict.NO_LOAD_PATH, -(m.utilisation or 0.0)),
    )


@lru_cache(maxsize=4)
def find_trouble(solution: Solution) -> Trouble:
    """Return what is wrong with a solved roof."""
    failing = failures(solution)

    def of(*roles: Role) -> tuple[str, ...]:
        return tuple(m.key for m in failing if m.role in roles)

    feet = tuple(
        strut.key
        for strut in solution.framing.of_role(Role.STRUT)
        if strut.foot is not None and strut.foot.on is FootOn.CEILING_JOIST
    )
    hip_rule = tuple(
        key
        for finding in solution.findings
        if finding.kind is FindingKind.RULE
        and finding.rule == "hip_at_ridge"
        and finding.passed is False
        for key in finding.members
    )
    return Trouble(
        failing=tuple(m.key for m in failing),
        feet=feet,
        untied=solution.path.untied_rafters,
        rafters=of(*_SLOPING),
        joists=of(Role.CEILING_JOIST),
        hips=of(Role.HIP_RAFTER),
        valleys=of(Role.VALLEY_RAFTER),
        beams=of(Role.BEAM, Role.RIDGE_BEAM),
        struts=of(Role.STRUT),
        purlins=of(Role.PURLIN),
        ties=of(Role.RAFTER_TIE, Role.COLLAR_TIE),
        hip_rule=hip_rule,
    )


def why_it_fails(solution: Solution, most: int = 3) -> tuple[str, ...]:
    """Return what fails in a solved roof, one sentence for each kind of failure.

    Args:
        solution: the roof.
        most: sentences; what is left is counted.
    """
    if solution.refusal:
        return (solution.refusal,)
    groups: dict[tuple[str, str], list[MemberResult]] = {}
    for member in failures(solution):
        reason = member.reason or member.governing_check
        groups.setdefault((member.role, reason), []).append(member)
    words = [_failure(role, members) for (role, _), members in groups.items()]
    if len(words) > most:
        left = len(words) - most
        kinds = "kind" if left == 1 else "kinds"
        words = [*words[:most], f"{left} more {kinds} of failure."]
    return tuple(words)


def _failure(role: str, members: list[MemberResult]) -> str:
    """Return a sentence on members of one role that fail in one way."""
    worst, name = members[0], role.replace("_", " ")
    many = f" ({len(members)} {name}s so)" if len(members) > 1 else ""
    if worst.reason:
        return f"{worst.key} has no load path: {worst.reason}{many}."
    check, use = worst.governing_check.replace("_", " "), worst.utilisation or 0.0
    over = "just over" if 1.0 < use < _JUST_OVER else f"at {use:.2f} of"
    return (
        f"{name} {worst.key} is {over} its limit ({check}, {worst.combination}){many}."
    )
