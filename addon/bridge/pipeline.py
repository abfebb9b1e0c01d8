"""From a brief to all that the scene shows of its roof, remembered for undo and redo.

Pure: knows the solver and nothing of Blender. What it remembers is disposable.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from time import perf_counter
from typing import TypeVar

from ...solver.brief import Brief, parse_brief
from ...solver.brief.model import Checks, Loads
from ...solver.errors import SolverError
from ...solver.framing import frame_roof
from ...solver.framing.solids import Solid, solids
from ...solver.solve import Solution, solve
from .foresight import foreseen
from .shape import Shape

_REMEMBERED = 12
_SHAPES = 4
AT_ONCE = 0.03  # s that a change may take before its numbers wait for the release
Made = TypeVar("Made")


@lru_cache(maxsize=16)
def _parsed(text: str) -> Brief:
    """Return the brief of a text that was written from one."""
    return parse_brief(text)


def _unloaded(brief: Brief) -> Brief:
    """Return a brief without what moves no member: loads but snow, checks, its name."""
    snow = brief.loads.snow
    return replace(brief, name="", checks=Checks(), loads=Loads(snow=snow))


@dataclass(frozen=True, eq=False)
class Outcome:
    """A solved roof with the drawn pieces of its members."""

    solution: Solution
    known_shape: Shape | None = None
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
    def shape(self) -> Shape:
        """Where its members lie."""
        if self.known_shape is not None:
            return self.known_shape
        solution = self.solution
        roles = {key: str(result.role) for key, result in solution.members.items()}
        made = solids(solution.brief, solution.framing)
        return Shape(solution.brief, roles, made)

    @property
    def solids(self) -> Mapping[str, Solid]:
        """The drawn piece of every member, by key."""
        return self.shape.solids


def _solved(brief: Brief, last: Solution | None) -> tuple[Solution, float]:
    """Return a solved roof and the s that it took."""
    started = perf_counter()
    return solve(brief, last), perf_counter() - started


class Aside:
    """One roof that is solved in a thread, beside whoever asked.

    Attributes:
        brief: of the roof.
        made: the solved roof and the s it took, None until then and where refused.
    """

    def __init__(self, brief: Brief, last: Solution | None) -> None:
        self.brief, self._last = brief, last
        self.made: tuple[Solution, float] | None = None
        self._thread = threading.Thread(target=self._work, daemon=True)
        self._thread.start()

    @property
    def is_over(self) -> bool:
        """Whether it has ended, well or not."""
        return not self._thread.is_alive()

    def _work(self) -> None:
        """Solve; a refusal is left to be told where there is somebody to tell."""
        with suppress(SolverError):
            self.made = _solved(self.brief, self._last)


class Pipeline:
    """Solves briefs and remembers the last few, so that undo costs nothing."""

    def __init__(self) -> None:
        self._known: OrderedDict[Brief, Outcome] = OrderedDict()
        self._shapes: OrderedDict[Brief, Shape] = OrderedDict()
        self._pace = 0.0  # s a member took in the last solve
        self._aside: Aside | None = None

    def knows(self, brief: Brief) -> bool:
        """Return whether a brief is solved already."""
        return brief in self._known

    def learn(self, solution: Solution) -> None:
        """Remember a roof that was solved elsewhere."""
        if solution.brief not in self._known:
            self.keep(Outcome(solution))

    def known_text(self, text: str) -> Outcome | None:
        """Return the remembered outcome of a brief's JSON text, or None."""
        return self._known.get(_parsed(text))

    def predicted(self, count: int) -> float:
        """Return the s that solving so many members will take, by the last solve."""
        return self._pace * count

    def shape(self, brief: Brief) -> Shape:
        """Return where the members of a roof lie, without solving it.

        Raises:
            BriefError: the brief cannot be framed.
            TableError: a table lacks what the brief asks for.
        """
        if brief in self._known:
            return self._known[brief].shape
        unloaded = _unloaded(brief)
        if unloaded in self._shapes:
            return self._shapes[unloaded]
        framing = frame_roof(brief)
        roles = {key: str(member.role) for key, member in framing.members.items()}
        return self._keep_shape(Shape(brief, roles, solids(brief, framing)))

    def shape_soon(self, brief: Brief) -> Shape:
        """Return where the members of a roof lie, about, while a hand drags it.

        Exact where it is known or nothing like it is.

        Raises:
            BriefError: the brief cannot be framed.
            TableError: a table lacks what the brief asks for.
        """
        unloaded = _unloaded(brief)
        if brief not in self._known and unloaded not in self._shapes:
            told = foreseen(unloaded, self._shapes)
            if told is not None:
                return told
        return self.shape(brief)

    def _keep_shape(self, shape: Shape) -> Shape:
        """Remember where members lie whatever the loads, the last few."""
        self._shapes[_unloaded(shape.brief)] = shape
        while len(self._shapes) > _SHAPES:
            self._shapes.popitem(last=False)
        return shape

    def run(self, brief: Brief) -> Outcome:
        """Return what follows from a brief.

        Raises:
            BriefError: the brief cannot be framed.
            TableError: a table lacks what the brief asks for.
        """
        if brief in self._known:
            self._known.move_to_end(brief)
            return self._known[brief]
        return self._take(*_solved(brief, self._last()))

    def is_ready(self, brief: Brief) -> bool:
        """Return whether a brief can be had at once; else solve it beside the caller.

        One is solved at a time. What is refused counts as ready: ``run`` says why.
        """
        if brief in self._known:
            return True
        if self._aside is not None and self._aside.is_over:
            done, self._aside = self._aside, None
            if done.made is not None:
                self._take(*done.made)
            if done.brief == brief:
                return True
        if self._aside is None:
            self._aside = Aside(brief, self._last())
        return False

    def _last(self) -> Solution | None:
        """Return the last solved roof, whose parts the next one may share."""
        last = next(reversed(self._known.values()), None)
        return None if last is None else last.solution

    def _take(self, found: Solution, seconds: float) -> Outcome:
        """Remember a solved roof and how long it took."""
        outcome = Outcome(found, self._shapes.get(_unloaded(found.brief)))
        self._pace = seconds / max(len(found.members), 1)
        self.keep(outcome)
        self._keep_shape(outcome.shape)
        return outcome

    def keep(self, outcome: Outcome) -> None:
        """Remember an outcome; the oldest of more than a dozen is forgotten."""
        self._known[outcome.brief] = outcome
        while len(self._known) > _REMEMBERED:
            self._known.popitem(last=False)

    def clear(self) -> None:
        """Forget everything."""
        self._known.clear()
        self._shapes.clear()
        self._aside = None
