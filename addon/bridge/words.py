"""A member's results as the panel shows them; every sentence is the solver's own."""

from __future__ import annotations

from dataclasses import dataclass

from ...solver.solve import Solution
from ...solver.trace.story import story
from ...solver.trace.wording import check_word, role_word
from ...solver.units import show_force, show_length, show_moment, show_small_length
from ...solver.verdict.model import MemberResult


@dataclass(frozen=True)
class Story:
    """What is said of one member.

    Attributes:
        title: key and what it is.
        verdict: of it.
        use: demand over capacity, None where it is not rated.
        sentences: plain words, in order; the caution is not among them.
        numbers: (name, value) pairs.
        checks: (name, use) of every check that counts, worst first.
    """

    title: str
    verdict: str
    use: float | None
    sentences: tuple[str, ...]
    numbers: tuple[tuple[str, str], ...]
    checks: tuple[tuple[str, float], ...]


def story_of(solution: Solution, key: str) -> Story:
    """Return the story of a member."""
    result = solution.members[key]
    checks = sorted((result.by_check or {}).items(), key=lambda pair: -pair[1])
    return Story(
        title=f"{key}, {role_word(result.role)}",
        verdict=str(result.verdict),
        use=result.utilisation,
        sentences=tuple(story(solution, key)[:-1]),
        numbers=tuple(numbers(solution, result)),
        checks=tuple((check_word(name), use) for name, use in checks if use > 0.0),
    )


def numbers(solution: Solution, result: MemberResult) -> list[tuple[str, str]]:
    """Return the numbers of a member as text in the roof's units."""
    system = solution.brief.units
    plies = f"{result.plies}-" if result.plies > 1 else ""
    out = [
        ("Lumber", f"{plies}{result.size} {result.grade}"),
        ("Length", show_length(result.length, system)),
    ]
    if result.utilisation is None:
        return out
    if result.strut_load > 0:
        out.append(("Brought by Struts", show_force(result.strut_load, system)))
    out += [
        ("Axial", show_force(result.axial, system)),
        ("Moment", show_moment(result.moment, system)),
        ("Shear", show_force(result.shear, system)),
    ]
    for name, sag in (
        ("Sag Now", result.sag_now),
        ("Sag in Years", result.sag_long_term),
    ):
        if sag is not None:
            out.append((name, show_small_length(sag, system)))
    return out
