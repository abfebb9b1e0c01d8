"""What lessons share: a section through the house, places on members, views, words.

Reads solved roofs; every figure it puts into words is a result of theirs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ....solver.errors import SolverError
from ....solver.units import INCH, System, show_force, show_length, show_small_length
from ...bridge import bent
from ...bridge.bent import Slice
from ...bridge.drawing import PathView, centre_line
from ...bridge.pipeline import Outcome
from ...bridge.view import CAUTION
from ...bridge.walls import Piece, wall_pieces
from ...picture.words import Label
from ..board import Actor, Look, Step
from ..timeline import Aim, aim, nice_factor

Floats = NDArray[np.float64]

LENS = 42.0
_BEHIND = 3.4  # m of house that is left behind a section
_ASPECT = 9 / 16
_ANGLES = (2 * math.atan(18 / LENS), 2 * math.atan(18 * _ASPECT / LENS))
ROOFING = ("rafter", "jack_rafter", "hip_rafter")
DIM = 0.86


class LessonError(SolverError):
    """A lesson that this roof cannot give; the message says why."""


def line(outcome: Outcome, key: str) -> Floats:
    """Return (2, 3) m, the ends of a member's middle line."""
    return centre_line(outcome.solids[key])


@dataclass(frozen=True)
class Spot:
    """Makes labels at places along members, where the members are drawn.

    Attributes:
        factor: how many times as large as they are sags are drawn.
        combination: whose sags are drawn, or what lasts.
    """

    factor: float
    combination: bent.Load

    def at(
        self, outcome: Outcome, key: str, part: float, bend: int | None = None
    ) -> Floats:
        """Return a place along a member, bent to a time or straight."""
        start, end = line(outcome, key)
        point = start + part * (end - start)
        if bend is not None:
            point = point + self.factor * bent.moved_at(
                outcome, key, part, bend, self.combination
            )
        return point

    def label(
        self,
        words: str,
        outcome: Outcome,
        key: str,
        part: float = 0.5,
        bend: int | None = None,
        *,
        alarm: bool = False,
    ) -> Label:
        """Return a label at a place along a member."""
        return Label(words, self.at(outcome, key, part, bend), alarm, size=24.0)


@dataclass(frozen=True, eq=False)
class Section:
    """A cut through the house across one member.

    Attributes:
        outcome: the solved roof.
        slice: what is left: the member, and some of the house behind it.
        look: (3,) direction that the camera looks in.
    """

    outcome: Outcome
    slice: Slice
    look: tuple[float, float, float]

    def keys(self, but: Iterable[str] = (), roles: Sequence[str] = ()) -> tuple:
        """Return the members that are not cut away, some left out or some roles."""
        left_out = set(but)
        out = []
        for key, result in self.outcome.solution.members.items():
            if key in left_out or (roles and result.role not in roles):
                continue
            if self.slice.part(*line(self.outcome, key)) is not None:
                out.append(key)
        return tuple(out)

    def walls(self) -> tuple[Piece, ...]:
        """Return the walls that are not cut away, cut to the slab."""
        out = []
        for piece in wall_pieces(self.outcome.brief):
            part = self.slice.part(*piece.line())
            if part is not None:
                out.append(piece.cut(*part))
        return tuple(out)


def section(
    outcome: Outcome,
    key: str,
    *,
    turn: float = 27.0,
    down: float = 13.0,
    before: float = 0.35,
    behind: float = _BEHIND,
) -> Section:
    """Return the section through a house at a member, seen square to it.

    Args:
        outcome: the solved roof.
        key: of the member; not a plumb one.
        turn: degrees that the view is turned off the square.
        down: degrees that it looks down.
        before: m of house left before the member.
        behind: m of house left behind it.
    """
    start, end = line(outcome, key)
    flat = np.array([*(end - start)[:2], 0.0])
    if np.linalg.norm(flat) < 1e-6:
        raise LessonError(f"{key} stands plumb: no section runs along it.")
    across = np.cross(flat / np.linalg.norm(flat), [0.0, 0.0, 1.0])
    size = outcome.brief.footprint
    centre = np.array([size.length / 2, size.width / 2, 0.0])
    middle = (start + end) / 2
    if float((centre - middle) @ across) < 0:
        across = -across
    left = np.array([-across[1], across[0], 0.0])
    a, b = math.radians(turn), math.radians(down)
    look = math.cos(b) * (math.cos(a) * across + math.sin(a) * left)
    look[2] = -math.sin(b)
    slab = Slice(middle, across, -before, behind)
    return Section(outcome, slab, tuple(look.tolist()))


def part_seen(at: Section, key: str) -> float:
    """Return a place on what a section leaves of a member, 0 to 1 along it."""
    first, last = at.slice.part(*line(at.outcome, key)) or (0.5, 0.5)
    return 0.35 * first + 0.65 * last


def aim_at(
    points: Sequence[Floats] | Floats,
    look: Sequence[float],
    around: float = 0.3,
    room: tuple[float, float, float, float] = (0.06, 0.94, 0.31, 0.86),
) -> Aim:
    """Return a camera's aim at points and some of what is around them."""
    every = np.array(points, dtype=float).reshape(-1, 3)
    box = np.array(
        [
            every + around * np.array([x, y, z])
            for x in (-1, 1)
            for y in (-1, 1)
            for z in (-1, 1)
        ]
    )
    return aim(box.reshape(-1, 3), look, _ANGLES, room)


def ends_of(outcome: Outcome, keys: Iterable[str]) -> Floats:
    """Return (n, 3) m, the ends of members."""
    every = [line(outcome, key) for key in keys]
    return np.concatenate(every) if every else np.zeros((0, 3))


def factor_of(
    outcomes: Iterable[Outcome], keys: Iterable[str], combination: bent.Load
) -> float:
    """Return how many times as large as they are the sags of members are drawn."""
    largest, width, keys = 0.0, 1.0, list(keys)
    for outcome in outcomes:
        width = outcome.brief.footprint.width
        shapes = bent.shapes_of(outcome, combination)
        for key in keys:
            if shapes is not None and key in shapes.members:
                moved = shapes.members[key].moved
                largest = max(largest, float(np.linalg.norm(moved, axis=2).max()))
    return nice_factor(largest, width)


def only(
    path: PathView | None, keys: Iterable[str] | None = None, least: float = 0.0
) -> PathView | None:
    """Return some stretches of a load path, None where none are left.

    Args:
        path: a load path.
        keys: of the members whose stretches are kept; left out, all of them.
        least: part of the whole load below which a stretch is left out.
    """
    if path is None:
        return None
    wanted = path.members if keys is None else set(keys)
    kept = tuple(
        b
        for b in path.branches
        if b.member in wanted and not b.is_incoming and b.force >= least * path.total
    )
    return replace(path, branches=kept) if kept else None


def get_through(use: float) -> str:
    """Return how many of ten bodies a member over its limit lets by."""
    most = max(1, min(9, round(10 / use)))
    return f"Of every ten, {most} {'get' if most > 1 else 'gets'} through"


def use_words(outcome: Outcome, key: str) -> str:
    """Return how far a member is used, as people read it."""
    result = outcome.solution.members[key]
    if result.reason:
        return "no load path"
    return use_told(result.utilisation or 0.0)


def use_told(use: float) -> str:
    """Return a demand over its capacity, as people read it."""
    return f"{use:.1f} times its limit" if use > 1.05 else f"{use:.0%} of its limit"


def is_over(outcome: Outcome, key: str) -> bool:
    """Return whether a member fails by analysis."""
    return outcome.solution.members[key].analysis_passes is False


def force_words(outcome: Outcome, force: float) -> str:
    """Return a force in the roof's units."""
    return show_force(abs(force), outcome.brief.units)


def length_words(outcome: Outcome, length: float) -> str:
    """Return a length in the roof's units, to an inch or a centimetre."""
    units = outcome.brief.units
    step = 0.01 if units is System.METRIC else INCH
    return show_length(round(length / step) * step, units)


def sag_words(outcome: Outcome, sag: float) -> str:
    """Return a sag in the roof's units."""
    return show_small_length(sag, outcome.brief.units)


def bends_words(outcome: Outcome, sag: float) -> str:
    """Return how a member moves within its span, in words: down, up or not at all."""
    if sag < 0 and sag_words(outcome, -sag) != sag_words(outcome, 0.0):
        return f"rises {sag_words(outcome, -sag)}"
    return f"sags {sag_words(outcome, max(sag, 0.0))}"


def context(name: str, at: Section, but: Iterable[str]) -> Actor:
    """Return the rest of a section as one cast."""
    return Actor(name=name, outcome=at.outcome, keys=at.keys(but), slice=at.slice)


def closing(where: Aim, looks: dict[str, Look]) -> Step:
    """Return the last step of every lesson: the cautions."""
    return Step(
        name="Cautions",
        caption=(
            "Before anyone cuts, moves or lifts a stick",
            CAUTION,
            "Shores first, down to the ground. Find sizes, species, rot and nails on "
            "site.",
            "Among what is not checked: sideways load, uplift, foundations, decay; the "
            "report lists all.",
        ),
        aim=where,
        looks=looks,
        hold=5.0,
    )
