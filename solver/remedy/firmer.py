"""Firmer struts with a remedy, where its struts alone still fail.

A foot that no longer gives takes more: a strut that a soft joist had spared may then
be too slender for what comes down it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from ..brief.model import Brief
from ..framing.model import Role
from ..framing.struts import is_hip_brace
from ..solve import Solution
from .model import Ladder, Rung
from .search import Trier
from .trouble import failures

HELD = "held at mid-length by a runner from strut to strut"

_WAYS: tuple[tuple[str, str, dict[str, object]], ...] = (
    (
        HELD,
        "Hold the struts at mid-length by a runner from strut to strut.",
        {"held_at_mid": True},
    ),
    (
        "each with a second piece nailed on as a T",
        "Nail a second piece of its size to each strut as a T, full length.",
        {"stiffener": True},
    ),
    (
        "of 4x4",
        "Make the struts of 4x4.",
        {"size": "4x4", "grade": "No.2"},
    ),
)


def with_firmer_struts(
    brief: Brief, parts: Iterable[int]
) -> Iterator[tuple[str, str, Brief]]:
    """Yield how some groups of struts are made firmer, in words, and the brief with it.

    Args:
        brief: of the roof.
        parts: numbers of groups among all of the brief, added struts last.

    Yields:
        What sets it apart, a sentence of what to build, the brief.
    """
    changed = tuple(parts)
    for words, build, fields in _WAYS:
        firmer = with_struts(brief, changed, fields)
        if firmer != brief:
            yield words, build, firmer


def with_struts(
    brief: Brief, parts: Iterable[int], fields: Mapping[str, object]
) -> Brief:
    """Return a brief with fields of some groups of struts changed.

    Args:
        brief: of the roof.
        parts: numbers of groups among all of the brief, added struts last.
        fields: by name.
    """
    changed, first = set(parts), len(brief.struts)
    return replace(
        brief,
        struts=tuple(
            replace(s, **fields) if n in changed else s  # type: ignore[arg-type]
            for n, s in enumerate(brief.struts)
        ),
        added_struts=tuple(
            replace(s, **fields) if n in changed else s  # type: ignore[arg-type]
            for n, s in enumerate(brief.added_struts, first)
        ),
    )


def firmer_struts(trier: Trier) -> Ladder | None:
    """Return a remedy that is not enough with firmer struts as well.

    Args:
        trier: of its ladder, climbed.

    Returns:
        The smallest rung at which nothing but struts fails, with them held, stiffened
        and thicker in turn; None where there is no such rung.
    """
    for n in sorted(trier.solved):
        found = trier.solution(n)
        if isinstance(found, str):
            continue
        parts = _failing_struts(found)
        if parts is None:
            continue
        rung = trier.ladder.rungs[n]
        rungs = tuple(
            Rung(size=f"{rung.size}; struts {words}", brief=brief, build=build)
            for words, build, brief in with_firmer_struts(rung.brief, parts)
        )
        build = trier.ladder.build.replace("{size}", rung.size)
        return replace(
            trier.ladder, build=build, rungs=rungs, rises=False, deepens=False, likely=0
        )
    return None


def _failing_struts(solution: Solution) -> set[int] | None:
    """Return the groups of the struts that fail; None where anything else does."""
    parts = set()
    for failing in failures(solution):
        member = solution.framing.members[failing.key]
        if member.role is not Role.STRUT or is_hip_brace(member):
            return None
        parts.add(member.part)
    return parts or None
