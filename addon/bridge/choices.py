"""What could be built instead of a roof: running searches and what they found.

Known by the session id of the roof's object; disposable.
"""

from __future__ import annotations

from dataclasses import dataclass

import bpy

from ...solver.remedy import Comparison, Remedy
from ...solver.trace.wording import owner_word
from ...solver.units import FOOT, System, feet_inches, show_force, show_length
from .pipeline import Outcome
from .readings import show_sag
from .search_job import SearchJob


class Choices:
    """Searches and comparisons of the roofs, by session id."""

    def __init__(self) -> None:
        self.jobs: dict[int, SearchJob] = {}
        self._found: dict[int, Comparison] = {}

    def begin(self, roof: bpy.types.Object, outcome: Outcome) -> SearchJob:
        """Return a new search for a roof; one that still runs is stopped."""
        self.stop(roof)
        job = SearchJob(outcome.solution)
        self.jobs[roof.session_uid] = job
        return job

    def job(self, roof: bpy.types.Object) -> SearchJob | None:
        """Return the running search of a roof, or None."""
        return self.jobs.get(roof.session_uid)

    def stop(self, roof: bpy.types.Object) -> None:
        """Stop the search of a roof, if there is one."""
        job = self.jobs.pop(roof.session_uid, None)
        if job is not None:
            job.stop()

    def take(self, roof: bpy.types.Object) -> Comparison | None:
        """End the search of a roof and keep what it found; None where it found none."""
        job = self.jobs.pop(roof.session_uid, None)
        if job is None or job.comparison is None:
            return None
        self._found[roof.session_uid] = job.comparison
        return job.comparison

    def of(self, roof: bpy.types.Object) -> Comparison | None:
        """Return what was last found for a roof, or None."""
        return self._found.get(roof.session_uid)

    def forget(self) -> None:
        """Stop every search and forget what was found."""
        for job in self.jobs.values():
            job.stop()
        self.jobs.clear()
        self._found.clear()


CHOICES = Choices()


def is_about(comparison: Comparison, outcome: Outcome) -> bool:
    """Return whether a comparison is about the roof as it is, or as one of its own."""
    brief = outcome.brief
    return brief == comparison.before.brief or any(
        brief == one.brief for one in comparison.remedies
    )


def remedy_of(comparison: Comparison, key: str) -> Remedy | None:
    """Return a remedy by its key, or None."""
    return next((one for one in comparison.remedies if one.key == key), None)


@dataclass(frozen=True)
class Row:
    """One remedy in the table.

    Attributes:
        key, title: of it.
        icon: whether it solves the roof, and whether none beats it.
        use: worst of all, as text.
        sag: of the ceiling in ten years, as text.
        lumber: to buy, as text.
        is_built: whether the roof is that one now.
    """

    key: str
    title: str
    icon: str
    use: str
    sag: str
    lumber: str
    is_built: bool


def rows(comparison: Comparison, outcome: Outcome, lengths: System) -> tuple[Row, ...]:
    """Return the table of remedies, the roof as it is first."""
    own = comparison.measures
    system = outcome.brief.units
    first = Row(
        key="",
        title="As it is",
        icon="HOME",
        use=_use(own.utilisation),
        sag=show_sag(own.ceiling.ten_years, lengths),
        lumber="",
        is_built=outcome.brief == comparison.before.brief,
    )
    out = [first]
    for one in comparison.remedies:
        icon = "SOLO_ON" if one.unbeaten else "CHECKMARK" if one.solves else "ERROR"
        m = one.measures
        out.append(
            Row(
                key=one.key,
                title=one.title,
                icon=icon,
                use=_use(m.utilisation),
                sag=show_sag(m.ceiling.ten_years, lengths),
                lumber=_lumber(m.pieces.board_feet, system),
                is_built=outcome.brief == one.brief,
            )
        )
    return tuple(out)


def _use(use: float | None) -> str:
    """Return a use as text."""
    return "-" if use is None else f"{use:.2f}"


def _lumber(board_feet: float, system: System) -> str:
    """Return an amount of lumber as text: board feet, or cubic metres."""
    if system is System.METRIC:
        return f"{board_feet * FOOT**3 / 12:.2f} m3"
    return f"{board_feet:.0f} bd ft"


def says(one: Remedy) -> tuple[str, ...]:
    """Return what is said of a remedy in sentences: what to build, what it leaves."""
    out = [one.build]
    out += one.why_not
    if one.smaller:
        out.append(f"The next smaller does not do: {one.smaller}")
    out += one.leaves
    return tuple(out)


def before_work(one: Remedy) -> tuple[str, ...]:
    """Return what must be in place first, and who must see it."""
    return (*(one.shores.words if one.shores else ()), *one.engineer)


def numbers(one: Remedy, lengths: System) -> tuple[tuple[str, str], ...]:
    """Return what a remedy is compared by, as (name, value)."""
    m, system = one.measures, one.solution.brief.units
    out = [
        ("Worst Use", f"{_use(m.utilisation)} ({m.worst})" if m.worst else "-"),
        ("Members That Fail", str(m.failing)),
        ("Ceiling Sag Now", show_sag(m.ceiling.now, lengths)),
        ("In Ten Years", show_sag(m.ceiling.ten_years, lengths)),
    ]
    if m.beside is not None:
        crack = ", may crack" if m.may_crack else ""
        out.append(("Beside Its Neighbour", show_sag(m.beside, lengths) + crack))
    out += [
        ("Lumber", _lumber(m.pieces.board_feet, system)),
        ("Pieces to Carry In", str(m.pieces.count)),
        ("Longest Piece", show_length(m.pieces.longest, lengths)),
        ("Headroom Lost", _short(m.headroom_lost, lengths)),
    ]
    if m.walls:
        out.append(("New Wall", show_length(m.walls, lengths)))
    if m.posts:
        out.append(("New Posts in Rooms", str(m.posts)))
    for owner, force in list(m.foundations.items())[:4]:
        out.append((f"More on {owner_word(owner)}", show_force(force, system)))
    out.append(("Needs an Engineer", "yes" if one.engineer else "not for itself"))
    return tuple(out)


def _short(length: float, lengths: System) -> str:
    """Return a short length as text."""
    if abs(length) < 1e-3:
        return "none"
    return feet_inches(length, 4) if lengths is System.IMPERIAL else f"{length:.2f} m"
