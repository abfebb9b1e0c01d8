"""The first page: the verdict of the roof, the caution, and the findings in words."""

from __future__ import annotations

from ..solve import Solution
from ..trace.findings import main_findings
from ..trace.told import Told
from ..trace.wording import check_word, counted, sentence, use_words
from ..units import System
from ..verdict.model import Verdict
from .cautions import CAUTION
from .markup import Raw, join, mark, section, tag


def opening(solution: Solution) -> Raw:
    """Return name, overall verdict and caution."""
    brief = solution.brief
    units = "feet, inches and pounds" if brief.units is System.IMPERIAL else "metric"
    basis = solution.checked.result.basis.name if solution.checked else "not analysed"
    return join(
        [
            tag("h1", brief.name),
            tag("p", f"Roof report. Basis: {basis}. Units: {units}.", class_="under"),
            overall(solution),
            tag("p", CAUTION, class_="caution"),
            tag("p", _in_one_breath(solution)),
        ]
    )


def overall(solution: Solution) -> Raw:
    """Return the box with the worst verdict of all."""
    drawn = mark(solution.overall, words=False)
    words = (
        "This roof "
        + {
            Verdict.NO_LOAD_PATH: "has members with no load path",
            Verdict.OVER_LIMIT: "is over its limit",
            Verdict.KEEPS_RULE_FAILS: "keeps the rule but fails by analysis",
            Verdict.BREAKS_RULE: "breaks the rule but passes by analysis",
            Verdict.PASSES: "passes these checks",
            Verdict.NOT_COUNTED: "has nothing that is counted",
        }[solution.overall]
    )
    more = solution.refusal or _worst(solution)
    inside = tag("div", join([words, tag("small", more)]))
    return tag("div", join([drawn, inside]), class_="overall", role="status")


def _worst(solution: Solution) -> str:
    """Return the worst member in a sentence."""
    worst = solution.worst
    if worst is None or worst.utilisation is None:
        return "No member could be rated."
    lost = len(solution.path.faults)
    first = f"{lost} of {len(solution.members)} members have none. " if lost else ""
    return (
        f"{first}The worst member that can be rated, {worst.key}, is used to "
        f"{use_words(worst.utilisation)}: {check_word(worst.governing_check)}, "
        f"{worst.combination}."
    )


def _in_one_breath(solution: Solution) -> str:
    """Return how many members there are and how many are over."""
    roles: dict[str, int] = {}
    for m in solution.members.values():
        roles[m.role] = roles.get(m.role, 0) + 1
    over = sum(m.analysis_passes is False for m in solution.members.values())
    broken = sum(m.rule_passes is False for m in solution.members.values())
    made = ", ".join(counted(n, role) for role, n in roles.items())
    return sentence(
        f"{made}. By analysis {over} of them are over their limit; by rule {broken} "
        "break a prescriptive limit. These are two verdicts and stay two"
    )


def findings(solution: Solution) -> Raw:
    """Return the findings: seen, means, do; no load path first."""
    return section(
        "In plain words",
        join(_told(one) for one in main_findings(solution)),
        key="words",
        lead="What is seen, what it means and what to do, the heaviest first.",
    )


def _told(one: Told) -> Raw:
    """Return one finding."""
    drawn = mark(one.weight, words=False)
    shape = drawn.text[drawn.text.index("<svg") : drawn.text.index("</span>")]
    said = [
        tag("dt", "Seen"), tag("dd", one.seen),
        tag("dt", "Means"), tag("dd", one.means),
        tag("dt", "Do"), tag("dd", one.do),
    ]  # fmt: skip
    if one.section:
        said += [tag("dt", "Rule"), tag("dd", one.section)]
    head = tag("h3", one.head)
    inside = tag("div", join([head, tag("dl", join(said))]))
    return tag("div", join([Raw(shape), inside]), class_="told")
