"""The verdicts, and all that is known of one member when the work is done."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Verdict(StrEnum):
    """Verdicts, worst first; the words are the ones that people read."""

    NO_LOAD_PATH = "no load path"
    OVER_LIMIT = "over its limit"
    KEEPS_RULE_FAILS = "keeps the rule but fails by analysis"
    BREAKS_RULE = "breaks the rule but passes by analysis"
    PASSES = "passes these checks"
    NOT_COUNTED = "not counted"

    @property
    def rank(self) -> int:
        """Place from the worst, 0."""
        return tuple(Verdict).index(self)


@dataclass(frozen=True, kw_only=True)
class StandsOn:
    """What the foot of a strut or a post stands on.

    Attributes:
        kind: ``wall``, ``ceiling_joist``, ``beam``, ``post``, ``point``, ``footing``
            or ``nothing``.
        name: member key or support owner, "" for nothing.
    """

    kind: str
    name: str


@dataclass(frozen=True, kw_only=True)
class MemberResult:
    """One member, judged.

    Attributes:
        key, role: of the member.
        size, species, grade: as the reader knows them.
        plies: number of plies.
        length: m.
        verdict: the worst that is so.
        analysis_passes: every check at most 1; None where nothing is checked.
        rule_passes: every prescriptive rule about it kept; None where none applies.
        reason: why it has no load path, else "".
        utilisation: worst of all checks; None where nothing is checked.
        by_check: check name to utilisation.
        by_combination: check name to combination to utilisation, of the checks that
            apply.
        governing_check, clause, combination: of the worst check, "" where none.
        station: m from its start, where it governs.
        demand, capacity, unit: of the worst check.
        axial, moment, shear: N and N m, governing extremes over all combinations,
            signed: tension and sagging positive.
        sag_now, sag_long_term: m, worst combination; None where it does not bend.
        sag_dead: m, immediate, dead load alone.
        sag_against_neighbour: m, largest difference of long-term sag to the next
            member of its row; None where it has none.
        sag_span: m, span that the sag is of.
        strut_load: N, vertical, largest that struts bring to it.
        tributary_area: m2 on plan that rests on it directly.
        stands_on: of struts and posts.
        findings: numbers of the audit findings about it.
    """

    key: str
    role: str
    size: str
    species: str
    grade: str
    plies: int
    length: float
    verdict: Verdict
    analysis_passes: bool | None = None
    rule_passes: bool | None = None
    reason: str = ""
    utilisation: float | None = None
    by_check: Mapping[str, float] | None = None
    by_combination: Mapping[str, Mapping[str, float]] | None = None
    governing_check: str = ""
    clause: str = ""
    combination: str = ""
    station: float = 0.0
    demand: float = 0.0
    capacity: float = 0.0
    unit: str = ""
    axial: float = 0.0
    moment: float = 0.0
    shear: float = 0.0
    sag_now: float | None = None
    sag_long_term: float | None = None
    sag_dead: float | None = None
    sag_against_neighbour: float | None = None
    sag_span: float | None = None
    strut_load: float = 0.0
    tributary_area: float = 0.0
    stands_on: StandsOn | None = None
    findings: tuple[int, ...] = ()


def judge(
    has_path: bool,
    counted: bool,
    analysis_passes: bool | None,
    rule_passes: bool | None,
) -> Verdict:
    """Return the verdict of a member; rule and analysis are never merged.

    Args:
        has_path: False where it stands on nothing or nothing holds it.
        counted: False for a piece that carries nothing by design.
        analysis_passes: every check passes; None where nothing is checked.
        rule_passes: every rule is kept; None where no rule applies.
    """
    if not has_path:
        return Verdict.NO_LOAD_PATH
    if analysis_passes is False:
        if rule_passes is True:
            return Verdict.KEEPS_RULE_FAILS
        return Verdict.OVER_LIMIT
    if rule_passes is False:
        return Verdict.BREAKS_RULE
    if not counted:
        return Verdict.NOT_COUNTED
    return Verdict.PASSES
