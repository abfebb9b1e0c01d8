"""How the roofs of a search are solved: each with the help of the one before."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from ..brief.model import Brief
from ..solve import Solution, solve


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


class Kept:
    """Solves briefs, and hands back the roofs that it was told to keep."""

    def __init__(self, run: Callable[[Brief], Solution]) -> None:
        self._run = run
        self._kept: list[tuple[Brief, Solution]] = []

    def __call__(self, brief: Brief) -> Solution:
        """Return the solution of a brief."""
        known = (roof for kept, roof in self._kept if kept == brief)
        found = next(known, None)
        return self._run(brief) if found is None else found

    def keep(self, brief: Brief) -> Solution:
        """Return the solution of a brief that will be asked for again."""
        found = self(brief)
        self._kept.append((brief, found))
        return found


@contextmanager
def without_collector() -> Iterator[None]:
    """Keep Python from looking for garbage while a search makes roofs.

    It would walk every live object of every roof again and again. What a roof is made
    of goes when the roof does, with or without the collector.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
