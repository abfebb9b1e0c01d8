"""A member's results in words, as the panel and the labels show them."""

from __future__ import annotations

from dataclasses import dataclass

from ...solver.solve import Solution
from ...solver.units import show_force, show_length, show_moment, show_small_length
from ...solver.verdict.model import MemberResult

ROLE_WORDS = {
    "rafter": ("rafter", "rafters"),
    "ridge_board": ("ridge board", "ridge boards"),
    "ridge_beam": ("ridge beam", "ridge beams"),
    "purlin": ("purlin", "purlins"),
    "strut": ("strut (brace)", "struts (braces)"),
    "ceiling_joist": ("ceiling joist", "ceiling joists"),
    "collar_tie": ("collar tie", "collar ties"),
    "rafter_tie": ("rafter tie", "rafter ties"),
    "beam": ("beam", "beams"),
    "post": ("post", "posts"),
    "plate": ("wall plate", "wall plates"),
}


@dataclass(frozen=True)
class Story:
    """What is said of one member.

    Attributes:
        title: key and what it is.
        verdict: of it.
        use: demand over capacity, None where it is not rated.
        sentences: plain words, in order.
        numbers: (name, value) pairs.
        checks: (name, use) of every check that counts, worst first.
    """

    title: str
    verdict: str
    use: float | None
    sentences: tuple[str, ...]
    numbers: tuple[tuple[str, str], ...]
    checks: tuple[tuple[str, float], ...]


def times_limit(use: float) -> str:
    """Return a use as a client reads it."""
    if use > 1.0:
        return (
            f"{use:.1f} times its limit" if use < 10 else f"{use:.0f} times its limit"
        )
    return f"{use:.0%} of its limit"


def story_of(solution: Solution, key: str) -> Story:
    """Return the story of a member."""
    result = solution.members[key]
    lumber = f"{result.size} {result.species} {result.grade}"
    plies = f"{result.plies}-" if result.plies > 1 else ""
    checks = sorted((result.by_check or {}).items(), key=lambda pair: -pair[1])
    return Story(
        title=f"{key}: {ROLE_WORDS[result.role][0]}, {plies}{lumber}",
        verdict=str(result.verdict),
        use=result.utilisation,
        sentences=tuple(sentences(solution, key)),
        numbers=tuple(numbers(solution, result)),
        checks=tuple((name, use) for name, use in checks if use > 0.0),
    )


def numbers(solution: Solution, result: MemberResult) -> list[tuple[str, str]]:
    """Return the numbers of a member as text in the roof's units."""
    system = solution.brief.units
    out = [("Length", show_length(result.length, system))]
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


def sentences(solution: Solution, key: str) -> list[str]:
    """Return what is said of a member, in plain sentences."""
    result = solution.members[key]
    out = []
    if result.reason:
        out.append(f"It has no load path: {result.reason}.")
    if result.utilisation is not None:
        check = result.governing_check.replace("_", " ")
        out.append(
            f"It is used to {times_limit(result.utilisation)} ({check}, "
            f"{result.combination})."
        )
    return out
