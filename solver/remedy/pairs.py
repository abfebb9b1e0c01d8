"""Two remedies together, where one alone is not enough."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from ..solve import Solution
from .model import Ladder, Remedy, RemedyKind

_BASES = 3  # the nearest to enough, each of another family
_SECOND = (
    RemedyKind.JOISTS,
    RemedyKind.RAFTERS,
    RemedyKind.TIES,
    RemedyKind.STRUTS,
    RemedyKind.PLIES,
    RemedyKind.HIPS,
    RemedyKind.TRUSS,
    RemedyKind.PURLINS,
)


def pairs(
    found: list[Remedy], proposals: Callable[[Solution], Iterable[Ladder]]
) -> Iterator[Ladder]:
    """Yield ladders that start from the remedies that come nearest to enough.

    What still fails in the roof with the first remedy is looked at like any roof, and
    the second remedy is made for it; the briefs of both are one.

    Args:
        found: remedies none of which is enough.
        proposals: ladders that may mend a roof.
    """
    begun: dict[frozenset[str], str] = {}  # pair to the first of it that came up
    for first in _bases(found):
        for ladder in proposals(first.solution):
            names = frozenset((first.key, ladder.key))
            fresh = ladder.kind in _SECOND and ladder.kind not in first.kinds
            if fresh and begun.setdefault(names, first.key) == first.key:
                yield _joined(first, ladder)


def _bases(found: list[Remedy]) -> list[Remedy]:
    """Return the remedies with the fewest failing members, of different families."""
    out: list[Remedy] = []
    ranked = sorted(
        found, key=lambda r: (r.measures.failing, r.measures.pieces.board_feet)
    )
    for one in ranked:
        if len(out) < _BASES and all(one.kinds[0] != o.kinds[0] for o in out):
            out.append(one)
    return out


def _joined(first: Remedy, ladder: Ladder) -> Ladder:
    """Return a ladder that has the first remedy in it."""
    second = ladder.title[:1].lower() + ladder.title[1:]
    return replace(
        ladder,
        key=f"{first.key}-and-{ladder.key}",
        title=f"{first.title}, and {second}",
        build=f"{first.build} {ladder.build}",
        leaves=tuple(dict.fromkeys((*first.leaves, *ladder.leaves))),
        engineer=tuple(dict.fromkeys((*first.engineer, *ladder.engineer))),
        also_kinds=(*first.kinds, *ladder.also_kinds),
    )
