"""What a remedy is: a ladder of briefs to choose from, and the one that was chosen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from ..brief.model import Brief
from ..solve import Solution
from ..trusses import GussetJoint
from .hanging import Hanging
from .measure import Measures
from .nailing import PlyNailing
from .shores import Shores
from .spread import Spread


class RemedyKind(StrEnum):
    """Families of remedies, in the trade's words."""

    WALL = "bearing wall"
    POSTS = "posts"
    PLIES = "more plies"
    FEET = "moved feet"
    STRUTS = "number of struts"
    JOISTS = "deeper joists"
    RAFTERS = "deeper rafters"
    RIDGE = "structural ridge"
    TIES = "ties"
    BEAM = "beam"
    HIPS = "bigger hips"
    SPREADER = "cross-member"
    TRUSS = "site-built truss"
    PURLINS = "purlins and braces"


@dataclass(frozen=True, kw_only=True)
class Rung:
    """One size or place of a remedy.

    Attributes:
        size: what sets it apart from its neighbours, in words.
        brief: the whole roof with it.
        build: what to build besides what its ladder says, a sentence; or "".
    """

    size: str
    brief: Brief
    build: str = ""


@dataclass(frozen=True, kw_only=True)
class Ladder:
    """A remedy in all its sizes, the weakest first.

    Attributes:
        kind: family.
        key: short name; letters, digits and hyphens. Of several ladders with one key
            the remedy of the least lumber is kept.
        title: a few words.
        build: what to build, a sentence in which ``{size}`` stands for the rung.
        rungs: weakest first.
        leaves: what it does not do, in sentences.
        engineer: why it needs an engineer, in sentences; empty where nothing about it
            does in itself.
        rises: every rung passes where a weaker one does, so that halving finds the
            smallest; else each is tried in turn.
        deepens: its rungs grow in depth alone, so that one which fails by bearing or by
            the cut of its seat is past the answer.
        likely: number of the rung that a hand calculation gives; the search starts
            there and comes to the same answer from anywhere.
        spare: looked at only where no ladder of its key before it is enough.
        also_kinds: further families, where it joins two.
        also: what a rung is held to besides the checks of its members: a solved roof to
            the reasons why it is not enough; None for nothing.
    """

    kind: RemedyKind
    key: str
    title: str
    build: str
    rungs: tuple[Rung, ...]
    leaves: tuple[str, ...] = ()
    engineer: tuple[str, ...] = ()
    rises: bool = True
    deepens: bool = False
    likely: int = 0
    spare: bool = False
    also_kinds: tuple[RemedyKind, ...] = ()
    also: Callable[[Solution], tuple[str, ...]] | None = None


@dataclass(frozen=True, eq=False, kw_only=True)
class Remedy:
    """A remedy that was solved.

    Attributes:
        key, title, build: see `Ladder`; the size is in ``build``.
        kinds: families.
        size: of the rung.
        solution: the solved roof with it.
        solves: every member has a load path and passes, now and in the long run, and
            so does what the remedy is held to besides.
        why_not: what still fails, worst first, in sentences.
        smaller: the next smaller size and why it fails, or "".
        measures: what it is compared by.
        leaves: what it does not do.
        engineer: why it needs an engineer; empty where it does not.
        shores: what must stand first.
        nailing: of plies to each other, where there are new ones.
        hanging: what hangs in new beams, or from them.
        gussets: the nails of each piece in the joints of the truss that has most to
            hold, where trusses are new.
        spread: what each joist takes, where cross-members rest on joists.
        unbeaten: no other remedy that solves is at least as good in every measure and
            better in one.
    """

    key: str
    title: str
    build: str
    kinds: tuple[RemedyKind, ...]
    size: str
    solution: Solution
    solves: bool
    why_not: tuple[str, ...]
    smaller: str
    measures: Measures
    leaves: tuple[str, ...]
    engineer: tuple[str, ...]
    shores: Shores | None
    nailing: PlyNailing | None = None
    spread: tuple[Spread, ...] = ()
    hanging: tuple[Hanging, ...] = ()
    gussets: tuple[GussetJoint, ...] = ()
    unbeaten: bool = False

    @property
    def brief(self) -> Brief:
        """The brief of the roof with the remedy in it."""
        return self.solution.brief
