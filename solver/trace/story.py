"""The story of one member in plain sentences, for whoever asks "why a post there?".

Receives a solved roof and a key; says nothing that the results do not hold, and gives
no number to a member that has no load path.
"""

from __future__ import annotations

from ..audit.model import FindingKind
from ..units import INCH, show_length, show_small_length
from ..verdict.model import Verdict
from .beside import hand_beside_frame
from .carries import carries, hands_on
from .solved import Solved
from .wording import (
    CAUTION,
    CHECKS,
    check_word,
    listed,
    role_word,
    rule_word,
    sentence,
    start_words,
    use_words,
    value_words,
)

_SEEN = 0.005 * INCH  # a smaller sag shows as nothing
_ALL_ALONG = ("compression", "tension", "slenderness", "beam_slenderness")
_UNUSED = {
    "ridge_board": "It gives the rafters something to push against. It carries no roof "
    "to the ground, so it has no use to give.",
    "plate": "It lies on its wall and hands loads straight down; no thrust runs along "
    "it here, so it has no use to give.",
    "header": "Nothing lands over its opening, so it has no use to give.",
    "jack_stud": "Nothing lands over its opening, so it has no use to give.",
    "post": "Nothing stands on it, so it has no use to give.",
}


def story(solution: Solved, key: str) -> list[str]:
    """Return the story of a member.

    Args:
        solution: the solved roof.
        key: of the member.

    Returns:
        Sentences in order: what it is, what it carries and from where, how much of
        its limit, now and in fifty years, hand against frame, where its load goes, the
        two verdicts, and the caution last.

    Raises:
        KeyError: no member has this key.
    """
    member = solution.members[key]
    out = [_what(solution, key)]
    if member.verdict is Verdict.NO_LOAD_PATH:
        out += _without_path(solution, key)
    elif member.utilisation is None:
        out += _without_use(solution, key)
    else:
        flow = solution.flow(member.combination or None)
        out += carries(solution, key, flow)
        out += _use(solution, key)
        out += _years(solution, key)
        out += hand_beside_frame(solution, key)
        if member.governing_check:
            out += hands_on(solution, key, flow)
    return [*out, *_two_verdicts(solution, key), CAUTION]


def _what(solution: Solved, key: str) -> str:
    """Return what a member is."""
    member, system = solution.members[key], solution.brief.units
    plies = "" if member.plies == 1 else f"{member.plies} plies of "
    return (
        f"{key} is a {role_word(member.role)}: {plies}{member.size} {member.species} "
        f"{member.grade}, {show_length(member.length, system)} long."
    )


def _without_path(solution: Solved, key: str) -> list[str]:
    """Return what is said of a member without a load path; no number among it."""
    return [
        sentence(f"It has no load path: {solution.members[key].reason}"),
        "Nothing says where its load would go, so no force, use or sag is given for "
        "it, and its load is missing from the numbers of the members around it.",
        "This comes before every number: shore it, followed down to ground, before "
        "any other work, and give it a way down.",
    ]


def _without_use(solution: Solved, key: str) -> list[str]:
    """Return what is said of a member that was not analysed."""
    if solution.refusal:
        return [sentence(f"The roof could not be analysed: {solution.refusal}")]
    other = "It is drawn but not counted on to carry anything."
    return [_UNUSED.get(solution.members[key].role, other)]


def _use(solution: Solved, key: str) -> list[str]:
    """Return how much of its limit a member uses, in which check and where."""
    member = solution.members[key]
    if not member.governing_check or member.utilisation is None:
        return []
    name, trouble = CHECKS[member.governing_check]
    out = [
        f"It is used to {use_words(member.utilisation)}.",
        f"What governs is {name} (too much of it, and {trouble})"
        f"{_numbers(solution, key)} ({member.clause}).",
    ]
    if member.governing_check == "deflection_total" and not _counts_all(solution):
        out.append(
            "The limit counts the creep and the load that comes and goes; what the "
            "lasting load bends at once is left out of it."
        )
    over = [
        f"{check_word(check)} {use_words(use)}"
        for use, check in sorted(
            ((use, check) for check, use in (member.by_check or {}).items()),
            reverse=True,
        )
        if use > 1 and check != member.governing_check
    ]
    if over:
        out.append(sentence(f"Also over: {listed(over)}"))
    return out


def _counts_all(solution: Solved) -> bool:
    """Return whether the limit on long-term sag counts the lasting load's own."""
    return solution.checked is None or solution.checked.result.basis.counts_lasting_sag


def _numbers(solution: Solved, key: str) -> str:
    """Return demand, capacity and place of the governing check."""
    member, system = solution.members[key], solution.brief.units
    slender = member.governing_check in ("slenderness", "beam_slenderness")
    out = ""
    if member.unit or slender:
        out = (
            f": {value_words(member.demand, member.unit, system)} where "
            f"{value_words(member.capacity, member.unit, system)} is allowed"
        )
    if member.governing_check in _ALL_ALONG:
        return out
    start = start_words(solution.framing, solution.framing.members[key])
    if member.station < _SEEN:
        return f"{out}, at {start}"
    return f"{out}, {show_length(member.station, system)} from {start}"


def _years(solution: Solved, key: str) -> list[str]:
    """Return the sag of a member now, in fifty years and against its neighbour."""
    member, system = solution.members[key], solution.brief.units
    if member.sag_now is None or member.sag_long_term is None or not member.sag_span:
        return []
    now, later = member.sag_now, member.sag_long_term
    if max(abs(now), abs(later)) < _SEEN:
        return []
    words = "sags" if later >= 0 else "bows up"
    span = show_length(member.sag_span, system)
    out = [
        f"Over a span of {span} it {words} "
        f"{show_small_length(abs(now), system)} under the worst load now and "
        f"{show_small_length(abs(later), system)} in fifty years, because wood keeps "
        "on giving under the part of the load that stays (creep)."
    ]
    if member.sag_dead is not None and member.sag_dead >= _SEEN:
        dead = show_small_length(member.sag_dead, system)
        out.append(f"The dead load alone makes {dead} on the first day.")
    apart = member.sag_against_neighbour
    if apart is not None and apart >= _SEEN:
        out.append(
            f"In fifty years it lies up to {show_small_length(apart, system)} off the "
            "joist beside it; it is such a difference, more than the sag itself, that "
            "a ceiling shows."
        )
    return out


def _two_verdicts(solution: Solved, key: str) -> list[str]:
    """Return the verdicts by rule and by analysis, apart."""
    member = solution.members[key]
    rules = [
        finding
        for finding in (solution.findings[n] for n in member.findings)
        if finding.kind is FindingKind.RULE and finding.passed is not None
    ]
    out = [
        f"By the rule ({f.section}) it fails: {rule_word(f.rule)} is {f.value}; the "
        f"rule asks for {f.limit}."
        for f in rules
        if not f.passed
    ]
    if rules and not out:
        count = f"{len(rules)} prescriptive limits" if len(rules) > 1 else "one limit"
        out = [f"By the rule it passes: it keeps the {count} checked on it."]
    elif not rules:
        out = ["By the rule: none of the prescriptive rules checked here speaks of it."]
    if member.analysis_passes is None:
        return [*out, "By analysis: no verdict."]
    words = "it passes these checks" if member.analysis_passes else "over its limit"
    return [*out, f"By analysis: {words}."]
