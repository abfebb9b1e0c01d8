"""One ladder climbed and told as a remedy, with what it is measured against."""

from __future__ import annotations

from collections.abc import Callable

from ..brief.model import Brief
from ..brief.validate import validate
from ..errors import SolverError
from ..solve import Solution
from ..trusses import GussetJoint
from . import walls
from .hanging import hangings
from .headroom import clear_height
from .measure import Measures, measure
from .model import Ladder, Remedy, RemedyKind, Rung
from .nailing import ply_nailing
from .rows import foot_rows, strut_keys
from .runs import Kept
from .search import Climbed, Trier, climb, leanest
from .shores import Shores, shores_under
from .spread import spreads
from .standing import split_runs
from .stock import LVL


class Trying:
    """Makes remedies of ladders for one roof.

    Attributes:
        before: the roof as it is.
        measures: its own, against itself.
    """

    def __init__(self, brief: Brief, run: Callable[[Brief], Solution]):
        self._run = Kept(run)
        self.before = self._run.keep(brief)
        split = split_runs(brief, self.before.framing)
        if split != brief:
            self.before = self._run.keep(split)
        self._headroom = clear_height(self.before)
        self.measures = measure(self.before, self.before, self._headroom)
        self._shores = self._shores_under_feet()

    def _shores_under_feet(self) -> Shores | None:
        """Return the shores under struts that stand on joists, None where none do.

        A shore does not give as a joist does and takes what a wall there would take.
        """
        rows = foot_rows(self.before)
        if not rows:
            return None
        brief = walls.under_feet(self.before, rows).brief
        try:
            validate(brief)
            firm = self._run.keep(brief)
        except SolverError:
            firm = self.before
        return shores_under(firm, strut_keys(rows))

    def trier(self, ladder: Ladder) -> Trier:
        """Return what solves the rungs of a ladder, each once."""
        return Trier(ladder, self._run)

    def remedy(self, trier: Trier) -> Remedy | None:
        """Return what a ladder comes to, None where nothing of it can be framed."""
        climbed = climb(trier)
        return None if climbed is None else self._told(trier.ladder, climbed)

    def leanest(self, trier: Trier) -> Remedy | None:
        """Return what is told of a ladder that was climbed and never passes."""
        climbed = leanest(trier)
        return None if climbed is None else self._told(trier.ladder, climbed)

    def _told(self, ladder: Ladder, climbed: Climbed) -> Remedy:
        """Return the chosen rung of a ladder with its measures."""
        after = climbed.solution
        measures = measure(self.before, after, self._headroom)
        plied = ladder.kind is RemedyKind.PLIES
        return Remedy(
            key=ladder.key,
            title=ladder.title,
            build=_build(ladder, climbed.rung),
            kinds=(ladder.kind, *ladder.also_kinds),
            size=climbed.rung.size,
            solution=after,
            solves=climbed.solves,
            why_not=climbed.why_not,
            smaller=climbed.smaller,
            measures=measures,
            leaves=ladder.leaves,
            engineer=(*ladder.engineer, *_by_result(after, measures)),
            shores=self._shores,
            nailing=ply_nailing(after) if plied else None,
            spread=spreads(after),
            hanging=hangings(after),
            gussets=_gussets(self.before, after),
        )


def _build(ladder: Ladder, rung: Rung) -> str:
    """Return what to build, in sentences."""
    build = ladder.build.replace("{size}", rung.size)
    return f"{build} {rung.build}" if rung.build else build


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
    if any(m.species == LVL[0] for m in after.framing.members.values()):
        out.append(
            "Engineered lumber is taken at class values; its maker's report decides."
        )
    return out
