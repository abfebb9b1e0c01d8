"""Two variants of one roof side by side: one camera, one scale, one legend.

The view is parallel, so that both are drawn alike wherever they stand.
"""

from __future__ import annotations

import math

import numpy as np

from ..bridge import bent
from ..bridge.pipeline import Outcome
from ..picture.words import Label
from .board import Actor, Lesson, Look, Step
from .lessons import scenery as s
from .timeline import Aim, nice_factor

KEY = "beside"
_TURN, _DOWN = math.radians(58.0), math.radians(28.0)
_GAP = 1.5  # m between the two
_ROOM = (0.04, 0.96, 0.30, 0.90)  # left, right, bottom and top of the picture
_ASPECT = 9 / 16


def compose(first: Outcome, second: Outcome, names: tuple[str, str]) -> Lesson:
    """Return two solved roofs next to each other, from framed to fifty years.

    Args:
        first: shown on the left.
        second: shown on the right.
        names: of both.

    Raises:
        LessonError: one of them has no analysis to show.
    """
    for outcome, name in zip((first, second), names, strict=True):
        if outcome.solution.frame is None:
            why = outcome.solution.refusal
            raise s.LessonError(f"{name} has no analysis to show: {why}")
    look = np.array([
        -math.sin(_TURN) * math.cos(_DOWN), math.cos(_TURN) * math.cos(_DOWN),
        -math.sin(_DOWN),
    ])  # fmt: skip
    right = np.cross(look, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    keys = [_under_roof(one) for one in (first, second)]
    ends = np.concatenate(
        [s.ends_of(one, k) for one, k in zip((first, second), keys, strict=True)]
    )
    offset = (float(np.ptp(ends @ right)) + _GAP) * right
    factor = nice_factor(max(_largest(first), _largest(second)),
                         first.brief.footprint.width)  # fmt: skip
    where, scale = _aim(np.concatenate([ends, ends + offset]), look, right)
    off = tuple(offset.tolist())
    actors = (
        Actor(name=f"Left: {names[0]}", outcome=first, keys=keys[0],
              boxes=s.wall_pieces(first.brief)),
        Actor(name=f"Right: {names[1]}", outcome=second, keys=keys[1], offset=off,
              boxes=_moved(second, off)),
    )  # fmt: skip
    labels = tuple(
        Label(name, _front(one, k, look) + shift, size=24.0)
        for name, one, k, shift in zip(
            names, (first, second), keys, (np.zeros(3), offset), strict=True
        )
    )
    steps = _steps((first, second), names, actors, where, labels)
    return Lesson(
        key=KEY, title=f"{names[0]} and {names[1].lower()}", actors=actors, steps=steps,
        factor=factor, caution=s.CAUTION, lens=s.LENS, parallel=scale,
    )  # fmt: skip


def _under_roof(outcome: Outcome) -> tuple[str, ...]:
    """Return the members that are seen with the roof taken off."""
    members = outcome.solution.members.values()
    taken = (*s.ROOFING, "ridge_board", "collar_tie", "plate")
    return tuple(m.key for m in members if m.role not in taken)


def _largest(outcome: Outcome) -> float:
    """Return the largest displacement of a roof's members under the roof, m."""
    shapes = bent.shapes_of(outcome)
    assert shapes is not None
    moved = (
        np.linalg.norm(shapes.members[k].moved, axis=2).max()
        for k in _under_roof(outcome)
        if k in shapes.members
    )
    return float(max(moved, default=0.0))


def _moved(outcome: Outcome, offset: tuple[float, ...]) -> tuple[s.Piece, ...]:
    """Return a roof's walls, moved."""
    return tuple(w.moved(offset, "right") for w in s.wall_pieces(outcome.brief))


def _front(outcome: Outcome, keys: tuple[str, ...], look: np.ndarray) -> np.ndarray:
    """Return the place of some members that is nearest to the camera."""
    ends = s.ends_of(outcome, keys)
    return ends[int((ends @ look).argmin())]


def _aim(points: np.ndarray, look: np.ndarray, right: np.ndarray) -> tuple[Aim, float]:
    """Return where a parallel camera stands, and how many m its picture is wide."""
    up = np.cross(right, look)
    x, y = points @ right, points @ up
    left, far, low, high = _ROOM
    scale = max(np.ptp(x) / (far - left), np.ptp(y) / (high - low) / _ASPECT)
    cx = (x.min() + x.max()) / 2 - ((left + far) / 2 - 0.5) * scale
    cy = (y.min() + y.max()) / 2 - ((low + high) / 2 - 0.5) * scale * _ASPECT
    middle = cx * right + cy * up + float((points @ look).mean()) * look
    eye = middle - 1.1 * scale * look  # as far as lines of usual width ask for
    return Aim(tuple(eye.tolist()), tuple(middle.tolist())), float(scale)


def _steps(
    both: tuple[Outcome, Outcome],
    names: tuple[str, str],
    actors: tuple[Actor, Actor],
    where: Aim,
    labels: tuple[Label, ...],
) -> tuple[Step, ...]:
    """Return the steps: as framed, loaded, and fifty years on."""
    told = [_told(outcome) for outcome in both]
    lines = tuple(f"{n}: {t}" for n, t in zip(names, told, strict=True))
    out = []
    for bend, name, caption in (
        (None, "As framed", ("The same house twice", *lines)),
        (0, "Loaded", ("Loaded: the same scale for both", *lines)),
        (2, "Fifty years", (_sags(both, names), *lines)),
    ):
        looks = {actor.name: Look(bend) for actor in actors}
        out.append(
            Step(name=name, caption=caption, aim=where, looks=looks, labels=labels,
                 has_scale=bend is not None, has_legend=True)
        )  # fmt: skip
    out.append(s.closing(where, {actor.name: Look(2) for actor in actors}))
    return tuple(out)


def _told(outcome: Outcome) -> str:
    """Return what was found of a roof, in a line."""
    members = outcome.solution.members.values()
    over = [m for m in members if m.analysis_passes is False]
    loose = [m for m in members if m.reason]
    worst = outcome.solution.worst
    use = s.use_words(outcome, worst.key) if worst else "nothing rated"
    said = f"{len(over)} members over their limit" if over else "none over its limit"
    said += f", {len(loose)} without a load path" if loose else ""
    return f"{said}; the most used is at {use}."


def _sags(both: tuple[Outcome, Outcome], names: tuple[str, str]) -> str:
    """Return the worst sag of the ceiling in fifty years, of both."""
    out = []
    for outcome, name in zip(both, names, strict=True):
        sags = [
            sag.fifty
            for m in outcome.solution.members.values()
            if m.role in ("ceiling_joist", "beam")
            and (sag := bent.sags_of(outcome, m.key)) is not None
        ]
        if sags:
            out.append(f"{s.sag_words(outcome, max(sags))} ({name.lower()})")
    return f"Fifty years on the ceiling sags {' and '.join(out)}"
