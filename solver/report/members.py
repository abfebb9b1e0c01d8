"""Tables of members: what is over, the struts, and the two verdicts apart."""

from __future__ import annotations

from ..solve import Solution
from ..trace.beside import frame_push, slack_in
from ..trace.naming import named
from ..trace.story import story
from ..trace.wording import check_word, owner_word, role_word
from ..units import DEGREE
from ..verdict.model import MemberResult, Verdict
from .markup import (
    Content,
    Raw,
    bar,
    join,
    mark,
    paragraphs,
    section,
    table,
    tag,
    unbroken,
)
from .show import Show, use

_VERDICT_HEADS = ("by the rule", "by analysis")


def rule_cell(m: MemberResult) -> Content:
    """Return the verdict by the rule alone."""
    if m.rule_passes is None:
        return "no rule"
    if m.rule_passes:
        return "kept"
    drawn = mark(Verdict.BREAKS_RULE, words=False)
    return tag("span", join([drawn, " broken"]), class_="k")


def analysis_cell(m: MemberResult) -> Content:
    """Return the verdict by analysis alone."""
    if m.verdict is Verdict.NO_LOAD_PATH:
        return mark(Verdict.NO_LOAD_PATH)
    if m.analysis_passes is None:
        return mark(Verdict.NOT_COUNTED)
    return mark(Verdict.PASSES if m.analysis_passes else Verdict.OVER_LIMIT)


def lost_members(solution: Solution) -> Raw:
    """Return the members that have no load path, before any number."""
    if not solution.path.faults:
        return Raw("")
    by_reason: dict[str, list[str]] = {}
    for key, reason in solution.path.faults.items():
        by_reason.setdefault(reason, []).append(key)
    rows = [
        [unbroken(named(tuple(keys), 12)), mark(Verdict.NO_LOAD_PATH), reason]
        for reason, keys in by_reason.items()
    ]
    return section(
        "No load path",
        table(("members", "verdict", "why"), rows),
        key="lost",
        lead="These come before every number. They are left out of the analysis with "
        "their loads, so what stands beside them is shown too lightly loaded. Shore "
        "before any work.",
    )


def overloaded(solution: Solution) -> Raw:
    """Return the members over their limit, like ones in one row."""
    rows = [
        row
        for row in _grouped(solution)
        if row[0].analysis_passes is False
    ]  # fmt: skip
    if not rows:
        text = "No member that can be rated is over its limit."
        return section("Members over their limit", tag("p", text), key="over")
    show = Show(solution.brief.units)
    cells = [
        [
            unbroken(named(keys, 12)), _what(m), use(m.utilisation),
            bar(m.utilisation), check_word(m.governing_check), m.combination,
            show.length(m.station), *(rule_cell(m), analysis_cell(m)),
        ]
        for m, keys in rows
    ]  # fmt: skip
    heads = ("members", "what it is", "use", "limit at the stroke", "governs",
             "combination", "at", *_VERDICT_HEADS)  # fmt: skip
    return section(
        "Members over their limit",
        tag("div", table(heads, cells, numeric=(2, 6)), class_="scroll"),
        key="over",
        lead="Use is demand over capacity; 1 is the limit. Members alike in role, "
        "use, check and combination share a row. 'At' is measured from the start of "
        "the member: south, west or foot.",
    )


def all_members(solution: Solution) -> Raw:
    """Return every role and every row of like members."""
    show = Show(solution.brief.units)
    cells = [
        [
            unbroken(named(keys, 12)), _what(m), show.length(m.length),
            use(m.utilisation), check_word(m.governing_check) if m.governing_check
            else "–", m.combination or "–", rule_cell(m), analysis_cell(m),
        ]
        for m, keys in _grouped(solution)
    ]  # fmt: skip
    heads = ("members", "what it is", "length", "use", "governs", "combination",
             *_VERDICT_HEADS)  # fmt: skip
    return section(
        "Every member",
        tag("div", table(heads, cells, numeric=(2, 3)), class_="scroll"),
        key="members",
        lead="Rule and analysis are two verdicts; neither stands for the other.",
    )


def _what(m: MemberResult) -> Raw:
    """Return role, plies, size, species and grade."""
    plies = f"{m.plies} × " if m.plies > 1 else ""
    return unbroken(f"{role_word(m.role)}, {plies}{m.size} {m.species} {m.grade}")


def _grouped(
    solution: Solution,
) -> list[tuple[MemberResult, tuple[str, ...]]]:
    """Return like members together, the most used first; none alike are alone."""
    groups: dict[tuple[object, ...], list[MemberResult]] = {}
    for m in solution.members.values():
        alike = (m.role, m.size, m.plies, m.species, m.grade, use(m.utilisation),
                 m.governing_check, m.combination, m.verdict, m.rule_passes,
                 round(m.length, 3))  # fmt: skip
        groups.setdefault(alike, []).append(m)
    rows = [(g[0], tuple(m.key for m in g)) for g in groups.values()]
    return sorted(
        rows, key=lambda row: (row[0].verdict.rank != 0, -(row[0].utilisation or 0.0))
    )


def struts(solution: Solution) -> Raw:
    """Return every strut: hand force beside frame force and what it stands on."""
    if not solution.hand.struts:
        return Raw("")
    show, counted = Show(solution.brief.units), ()
    if solution.model is not None:
        counted = solution.model.members
    rows: list[list[Content]] = []
    for key, hand in solution.hand.struts.items():
        m = solution.members[key]
        frame, slack = "–", ""
        if key in counted:
            frame = show.force(float(frame_push(solution, key).max()))
            slack = ", ".join(slack_in(solution, key))
        on = "nothing"
        if m.stands_on is not None and m.stands_on.kind != "nothing":
            name = m.stands_on.name
            on = name if name in solution.members else owner_word(name)
        under = solution.members.get(on)
        rows.append(
            [
                key, on, use(under.utilisation) if under is not None else "–",
                show.length(hand.length), f"{hand.angle / DEGREE:.1f}°",
                f"{hand.slenderness:.0f}", show.force(float(hand.axial.max())), frame,
                use(m.utilisation), rule_cell(m), analysis_cell(m), slack or "–",
            ]
        )  # fmt: skip
    heads = ("strut", "stands on", "its use", "length", "angle", "le/d",
             "push by hand", "push by frame", "use", *_VERDICT_HEADS,
             "slack in")  # fmt: skip
    return section(
        "Struts (braces)",
        tag("div", table(heads, rows, numeric=(2, 3, 4, 5, 6, 7, 8)), class_="scroll"),
        key="struts",
        lead="By hand the purlin is a rigid support and every strut takes its length "
        "of it. In the frame what the strut stands on may give, and the rafters take "
        "back what it sheds. The lesson is in the difference.",
    )


def stories(solution: Solution) -> Raw:
    """Return the story of the worst member, and of the strut that loads it."""
    worst = solution.worst
    if worst is None:
        return Raw("")
    keys = [worst.key]
    keys += [
        key for key, m in solution.members.items()
        if m.stands_on is not None and m.stands_on.name == worst.key
    ][:1]  # fmt: skip
    keys += _worst_of_other_role(solution, {worst.role})
    parts: list[Content] = []
    for key in dict.fromkeys(keys):
        parts += [
            tag("h3", f"{key}"),
            tag("div", paragraphs(story(solution, key)[:-1]), class_="story"),
        ]
    return section(
        "The story of the worst",
        join(parts),
        key="story",
        lead="What it carries and from where, how much of its limit, now and in ten "
        "years, and where its load goes.",
    )


def _worst_of_other_role(solution: Solution, seen: set[str]) -> list[str]:
    """Return the most used member of another role, if it is over its limit."""
    others = [
        m
        for m in solution.members.values()
        if m.role not in seen and (m.utilisation or 0.0) > 1
    ]
    return [max(others, key=lambda m: m.utilisation or 0.0).key] if others else []
