"""From a brief to all that the scene shows of its roof, remembered for undo and redo.

Pure: knows the solver and nothing of Blender. What it remembers is disposable.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeVar

from ...solver.brief import Brief
from ...solver.framing.solids import Solid, solids
from ...solver.solve import Solution, solve

_REMEMBERED = 12
Made = TypeVar("Made")


@dataclass(frozen=True, eq=False)
class Outcome:
    """A solved roof with the drawn pieces of its members."""

    solution: Solution
    _made: dict[object, object] = field(default_factory=dict)

    def once(self, key: object, make: Callable[[], Made]) -> Made:
        """Return what was made for a key, made now if it has not been."""
        if key not in self._made:
            self._made[key] = make()
        return self._made[key]  # type: ignore[return-value]

    @property
    def brief(self) -> Brief:
        """The brief that it answers."""
        return self.solution.brief

    @cached_property
    def solids(self) -> dict[str, Solid]:
        """The drawn piece of every member, by key."""
        return solids(self.solution.brief, self.solution.framing)


class Pipeline:
    """Solves briefs and remembers the last few, so that undo costs nothing."""

    def __init__(self) -> None:
        self._known: OrderedDict[Brief, Outcome] = OrderedDict()

    def run(self, brief: Brief) -> Outcome:
        """Return what follows from a brief.

        Raises:
            BriefError: the brief cannot be framed.
            TableError: a table lacks what the brief asks for.
        """
        if brief in self._known:
            self._known.move_to_end(brief)
            return self._known[brief]
        outcome = Outcome(solve(brief))
        self._known[brief] = outcome
        while len(self._known) > _REMEMBERED:
            self._known.popitem(last=False)
        return outcome

    def clear(self) -> None:
        """Forget everything."""
        self._known.clear()
