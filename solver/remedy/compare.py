"""All remedies of a roof, each solved, measured and compared with the others."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from ..brief.model import Brief
from ..brief.validate import validate
from ..errors import SolverError
from ..solve import Solution, solve
from ..trusses import GussetJoint
from . import (
    beams,
    feet,
    hips,
    joists,
    plies,
    posts,
    rafters,
    ridge,
    spreaders,
    strut_count,
    ties,
    trusses,
    walls,
)
from .hanging import hangings
from .headroom import clear_height
from .measure import Measures, measure
from .model import Ladder, Remedy, RemedyKind
from .nailing import ply_nailing
from .pairs import pairs
from .rows import foot_rows, strut_keys
from .standing import split_runs
from .search import Climbed, climb
from .shores import Shores, shores_under
from .spread import spreads
from .trouble import find_trouble

PROPOSERS: tuple[Callable[[Solution], list[Ladder]], ...] = (
    walls.propose,
    posts.propose,
    plies.propose,
    spreaders.propose,
    beams.propose,
    joists.propose,
    strut_count.propose,
    feet.propose,
    rafters.propose,
    trusses.propose,
    ties.propose,
    ridge.propose,
    hips.propose,
)
_SAME = 1e-6
_FEWEST_PLIES = (RemedyKind.BEAM,)  # once a few plies pass, more are not looked for


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


class Following:
    """Solves briefs one after another, each with the help of the one before.

    What comes out is that of a brief solved alone, but for rounding.
    """

    def __init__(self) -> None:
        self._last: Solution | None = None

    def __call__(self, brief: Brief) -> Solution:
        """Return the solution of a brief."""
        self._last = solve(brief, previous=self._last)
        return self._last


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
    before = run(brief)
    split = split_runs(brief, before.framing)
    if split != brief:
        before = run(split)
    headroom = clear_height(before)
    own = measure(before, before, headroom)
    shores = _shores(before, run)
    found: dict[str, Remedy] = {}
    if find_trouble(before).any:
        for ladder in propose(before):
            known = found.get(ladder.key)
            if known is not None and known.solves and ladder.kind in _FEWEST_PLIES:
                continue
            climbed = climb(ladder, run)
            if climbed is not None:
                one = _remedy(before, headroom, ladder, climbed, shores)
                rivals = [r for r in (known, one) if r is not None]
                found[one.key] = min(rivals, key=_order)
        if not any(one.solves for one in found.values()):
            for ladder in pairs(list(found.values()), propose):
                climbed = climb(ladder, run)
                if climbed is not None:
                    one = _remedy(before, headroom, ladder, climbed, shores)
                    found[one.key] = one
    listed = _marked(sorted(found.values(), key=_order))
    return Comparison(before=before, measures=own, remedies=tuple(listed))


def _order(one: Remedy) -> tuple[bool, int, float, int]:
    """Return what is listed first, and taken of several with one key."""
    lumber, failing = one.measures.pieces, one.measures.failing
    missing = 0 if one.solves else failing
    return not one.solves, missing, lumber.board_feet, lumber.count


def _shores(before: Solution, run: Callable[[Brief], Solution]) -> Shores | None:
    """Return the shores under struts that stand on joists, None where none do.

    A shore does not give as a joist does and takes what a wall there would take.
    """
    rows = foot_rows(before)
    if not rows:
        return None
    brief = walls.under_feet(before, rows).brief
    try:
        validate(brief)
        firm = run(brief)
    except SolverError:
        firm = before
    return shores_under(firm, strut_keys(rows))


def proposals(before: Solution) -> Iterable[Ladder]:
    """Yield every ladder that may mend a roof."""
    for propose in PROPOSERS:
        yield from propose(before)


def _remedy(
    before: Solution,
    headroom: float,
    ladder: Ladder,
    climbed: Climbed,
    shores: Shores | None,
) -> Remedy:
    """Return the chosen rung of a ladder with its measures."""
    measures = measure(before, climbed.solution, headroom)
    plied = ladder.kind is RemedyKind.PLIES
    nailing = ply_nailing(climbed.solution) if plied else None
    return Remedy(
        key=ladder.key,
        title=ladder.title,
        build=ladder.build.replace("{size}", climbed.rung.size),
        kinds=(ladder.kind, *ladder.also_kinds),
        size=climbed.rung.size,
        solution=climbed.solution,
        solves=climbed.solves,
        why_not=climbed.why_not,
        smaller=climbed.smaller,
        measures=measures,
        leaves=ladder.leaves,
        engineer=(*ladder.engineer, *_by_result(climbed.solution, measures)),
        shores=shores,
        nailing=nailing,
        spread=spreads(climbed.solution),
        hanging=hangings(climbed.solution),
        gussets=_gussets(before, climbed.solution),
    )


def _gussets(before: Solution, after: Solution) -> tuple[GussetJoint, ...]:
    """Return the joints of the new truss whose joints need most nails."""
    if len(after.brief.trusses) == len(before.brief.trusses):
        return ()
    trusses: dict[str, list[GussetJoint]] = {}
    for joint in after.gussets:
        trusses.setdefault(joint.key.split("-")[1], []).append(joint)
    most = max(trusses.values(), key=lambda js: sum(j.needed for j in js), default=[])
    return tuple(most)


def _by_result(after: Solution, measures: Measures) -> list[str]:
    """Return why an engineer is needed, as far as the result says so."""
    out = []
    if measures.failing or after.refusal:
        out.append("Members fail by analysis.")
    if measures.rules_broken:
        out.append(
            "It passes, if it does, by analysis and not by the prescriptive rules: "
            f"{', '.join(measures.rules_broken)} is not kept."
        )
    if any(m.species == "LVL" for m in after.members.values()):
        out.append(
            "Engineered lumber is taken at class values; its maker's report decides."
        )
    return out


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
