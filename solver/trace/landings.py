"""What is told of struts whose feet stand on something that bends."""

from __future__ import annotations

from ..audit.model import Finding
from ..units import show_force
from ..verdict.model import MemberResult, Verdict
from .beside import frame_push
from .solved import Solved
from .told import SHORE, Told, Weight, rows_of
from .wording import check_word, role_word, sentence, use_words

_STOPS = "What is put in stops the sag; it does not lift it."
_BRING = (
    "Bring the feet to a bearing wall, or put a wall, a post or a beam under them and "
    f"follow the load down to a footing. {SHORE} {_STOPS}"
)
_ENGINEER = (
    "The rule knows bearing walls alone: have this landing engineered, what it stands "
    "on and any sideways push of the feet included."
)


def landings(solution: Solved) -> list[Told]:
    """Return one finding for each kind of member that struts stand on."""
    groups: dict[str, list[MemberResult]] = {}
    for m in solution.members.values():
        on = m.stands_on
        if m.role != "strut" or m.verdict is Verdict.NO_LOAD_PATH or on is None:
            continue
        if on.name in solution.members:
            groups.setdefault(on.kind, []).append(m)
    return [_standing(solution, kind, struts) for kind, struts in groups.items()]


def _standing(solution: Solved, kind: str, struts: list[MemberResult]) -> Told:
    """Return what is told of struts that stand on members of one kind."""
    system = solution.brief.units
    keys = tuple(m.key for m in struts)
    under = tuple(
        dict.fromkeys(m.stands_on.name for m in struts if m.stands_on is not None)
    )
    carriers = [solution.members[key] for key in under]
    over = [m for m in carriers if m.analysis_passes is False]
    hand = max(float(solution.hand.struts[key].axial.max()) for key in keys)
    frame = max(float(frame_push(solution, key).max()) for key in keys)
    means = (
        f"Each brings up to {show_force(frame, system)} by the frame analysis and "
        f"{show_force(hand, system)} by hand. "
    )
    worst = max(carriers, key=lambda m: m.utilisation or 0.0)
    what = role_word(kind, many=bool(over) and len(under) != 1)
    if over:
        means += (
            f"{_part(len(over), len(under))} {what} under them "
            f"{'is' if len(over) == 1 else 'are'} over the limit; the worst, "
            f"{worst.key}, is used to {use_words(worst.utilisation or 0.0)} "
            f"({check_word(worst.governing_check)})."
        )
    else:
        means += (
            f"By analysis nothing under them is over its limit; the most used {what} "
            f"is {worst.key}, at {use_words(worst.utilisation or 0.0)}."
        )
    broken = _broken(solution, struts, "brace_foot")
    return Told(
        weight=Weight.OVER_LIMIT if over else Weight.BREAKS_RULE,
        head=f"Struts stand on {role_word(kind, many=True)}, "
        + ("over the limit" if over else "against the rule"),
        seen=f"{sentence(rows_of(solution, keys))[:-1]} "
        f"{'stands' if len(keys) == 1 else 'stand'} on {rows_of(solution, under)}.",
        means=means,
        do=_BRING if over else _ENGINEER,
        section=broken[0].section if broken else "",
        members=(*keys, *(m.key for m in over)),
    )


def _part(some: int, every: int) -> str:
    """Return how many of how many."""
    if some == every:
        return "The" if every == 1 else f"All {every}"
    return f"{some} of the {every}"


def _broken(solution: Solved, members: list[MemberResult], rule: str) -> list[Finding]:
    """Return the broken findings of a rule about some members."""
    numbers = sorted({n for m in members for n in m.findings})
    found = [solution.findings[n] for n in numbers]
    return [f for f in found if f.rule == rule and f.passed is False]
