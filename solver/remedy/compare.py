"""All remedies of a roof, each solved, measured and compared with the others."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from ..brief.model import Brief
from ..solve import Solution
from . import (
    beams,
    feet,
    hips,
    joists,
    outline_lines,
    plies,
    posts,
    purlins,
    rafters,
    ridge,
    spreaders,
    strut_count,
    ties,
    trusses,
    walls,
)
from .firmer import firmer_struts
from .measure import Measures
from .model import Ladder, Remedy
from .pairs import pairs
from .runs import Following, without_collector
from .search import Trier
from .trouble import find_trouble
from .trying import Trying

PROPOSERS: tuple[Callable[[Solution], list[Ladder]], ...] = (
    walls.propose,
    posts.propose,
    plies.propose,
    spreaders.propose,
    beams.propose,
    joists.propose,
    strut_count.propose,
    feet.propose,
    purlins.propose,
    rafters.propose,
    trusses.propose,
    ties.propose,
    ridge.propose,
    hips.propose,
    outline_lines.propose,
)
_SAME = 1e-6


@dataclass(frozen=True, eq=False, kw_only=True)
class Comparison:
    """A roof as it is beside what could be built.

    Attributes:
        before: the roof as it is.
        measures: its own, against itself.
        remedies: those that solve it first, each group in the order of lumber.
    """

    before: Solution
    measures: Measures
    remedies: tuple[Remedy, ...]


def remedies(
    brief: Brief,
    run: Callable[[Brief], Solution] | None = None,
    propose: Callable[[Solution], Iterable[Ladder]] | None = None,
) -> Comparison:
    """Return what could be built instead, compared.

    Args:
        brief: of the roof as it is.
        run: how a brief is solved; left out, each with the help of the one before.
        propose: what is tried on a solved roof; left out, every kind known here.

    Raises:
        SolverError: the brief itself cannot be framed.
    """
    run = Following() if run is None else run
    propose = proposals if propose is None else propose
    with without_collector():
        trying = Trying(brief, run)
        found = _found(trying, propose)
        listed = _marked(sorted(found, key=_order))
    return Comparison(
        before=trying.before, measures=trying.measures, remedies=tuple(listed)
    )


def _found(
    trying: Trying, propose: Callable[[Solution], Iterable[Ladder]]
) -> list[Remedy]:
    """Return a remedy for each key, and pairs of them where none is enough alone."""
    if not find_trouble(trying.before).any:
        return []
    found: dict[str, Remedy] = {}
    _climb_all(trying, propose(trying.before), found)
    if not any(one.solves for one in found.values()):
        _climb_all(trying, pairs(list(found.values()), propose), found)
    return list(found.values())


def _climb_all(
    trying: Trying, ladders: Iterable[Ladder], found: dict[str, Remedy]
) -> None:
    """Add a remedy for each key of some ladders to those that were found."""
    failed: dict[str, Trier] = {}
    for ladder in ladders:
        known = found.get(ladder.key)
        if known is not None and known.solves and ladder.spare:
            continue
        trier = trying.trier(ladder)
        one = trying.remedy(trier)
        if one is None or (known is not None and _order(known) <= _order(one)):
            continue
        found[one.key] = one
        failed.pop(one.key, None)
        if not one.solves:
            failed[one.key] = trier
    for key, trier in failed.items():
        firmer = firmer_struts(trier)
        one = trying.remedy(trying.trier(firmer)) if firmer else None
        if one is None or not one.solves:
            one = trying.leanest(trier)
        found[key] = one or found[key]


def _order(one: Remedy) -> tuple[bool, int, float, int]:
    """Return what is listed first, and taken of several with one key."""
    lumber, failing = one.measures.pieces, one.measures.failing
    missing = 0 if one.solves else failing
    return not one.solves, missing, lumber.board_feet, lumber.count


def proposals(before: Solution) -> Iterable[Ladder]:
    """Yield every ladder that may mend a roof."""
    for propose in PROPOSERS:
        yield from propose(before)


def price(m: Measures) -> tuple[float, ...]:
    """Return what a remedy costs in each measure; less is better in all."""
    return (
        m.utilisation or 0.0,
        m.ceiling.now,
        m.ceiling.ten_years,
        m.beside or 0.0,
        m.pieces.board_feet,
        float(m.pieces.count),
        m.pieces.longest,
        m.headroom_lost,
        m.walls,
        float(m.posts),
        m.foundation,
    )


def _marked(found: list[Remedy]) -> list[Remedy]:
    """Return the remedies with those marked that no other one beats.

    One beats another that solves the roof too where it is nowhere worse, needs an
    engineer only if the other does, and is better somewhere.
    """
    solving = [r for r in found if r.solves]

    def beaten(one: Remedy) -> bool:
        return any(_beats(other, one) for other in solving if other is not one)

    return [replace(r, unbeaten=r.solves and not beaten(r)) for r in found]


def _beats(one: Remedy, other: Remedy) -> bool:
    """Return whether one remedy is nowhere worse than another, and better somewhere."""
    a = (*price(one.measures), float(bool(one.engineer)))
    b = (*price(other.measures), float(bool(other.engineer)))
    no_worse = all(x <= y + _SAME for x, y in zip(a, b, strict=True))
    return no_worse and any(x < y - _SAME for x, y in zip(a, b, strict=True))
