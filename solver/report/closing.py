"""The last pages: rules one by one, what was not checked, cautions, the brief."""

from __future__ import annotations

from ..audit.model import FindingKind
from ..brief import save_text
from ..solve import Solution
from ..trace.naming import named
from ..trace.wording import rule_word
from ..verdict.model import Verdict
from .cautions import CAUTIONS, NOT_CHECKED
from .markup import Content, Raw, bullets, join, mark, section, table, tag, unbroken


def rules(solution: Solution) -> Raw:
    """Return every prescriptive rule that was checked, broken ones first."""
    groups: dict[tuple[str, str, str, str, bool], list[str]] = {}
    for f in solution.findings:
        if f.kind is FindingKind.RULE and f.passed is not None:
            value = "a member" if f.rule == "brace_foot" and not f.passed else f.value
            if f.value == "nothing":
                value = f.value
            alike = (f.rule, f.section, value, f.limit, f.passed)
            groups.setdefault(alike, []).extend(f.members)
    rows: list[list[Content]] = []
    for (rule, where, value, limit, passed), keys in groups.items():
        drawn = mark(Verdict.PASSES if passed else Verdict.BREAKS_RULE, words=False)
        verdict = join([drawn, " kept" if passed else " broken"])
        rows.append(
            [
                rule_word(rule).removeprefix("the "), where,
                unbroken(named(tuple(dict.fromkeys(keys)), 10) or "the roof"),
                value, limit,
                tag("span", verdict, class_="k"),
            ]
        )  # fmt: skip
    notes = [f.words for f in solution.findings if f.kind is FindingKind.NOTE]
    parts: list[Content] = []
    if rows:
        heads = ("rule", "section", "members", "found", "asked", "by the rule")
        parts.append(table(heads, rows))
    if notes:
        parts += [tag("h3", "Notes"), bullets(notes)]
    return section(
        "Prescriptive rules, one by one",
        *parts,
        key="rules",
        lead="The rule's own verdict: a rule may be broken by what passes by analysis, "
        "and kept by what fails.",
    )


def not_checked() -> Raw:
    """Return what was not checked, and the cautions."""
    return section(
        "What was not checked, and cautions",
        tag("h3", "Not checked"),
        bullets(NOT_CHECKED),
        tag("h3", "Cautions"),
        bullets(CAUTIONS),
        key="limits",
    )


def brief(solution: Solution) -> Raw:
    """Return the brief in full, so that the report can be made again."""
    return section(
        "The brief in full",
        tag("pre", save_text(solution.brief)),
        key="brief",
        lead="All that was stated; everything above follows from it.",
    )
