"""The picture of a whole roof, seen from above at a slant: where what is worst stands.

All parallel lines stay parallel, so that members compare. Reads solved roofs alone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ..drawings.plans import corners_of
from ..drawings.view import Floats, Outline, View, slice_outlines, tilted
from ..framing.model import Member, Role
from ..framing.solids import member_solid
from ..report.markup import Raw
from ..report.sketch import INK, OVER, SOFT, WOOD, Sketch
from ..solve import Solution
from ..trace.wording import role_word, use_words
from ..verdict.model import Verdict
from .picture import FAILS, NEW, WALL_HEIGHT, is_new

_TURN, _DIP = math.radians(62.0), math.radians(33.0)
_MARGIN = (6.0, 44.0, 6.0, 8.0)  # px left, top, right, bottom
_THIN = (Role.RAFTER, Role.JACK_RAFTER, Role.CEILING_JOIST, Role.STUB_JOIST, Role.PLATE)
_SIZE = 15.0  # px of words


@dataclass(frozen=True, eq=False)
class Sight:
    """How whole roofs are seen: one for the roof as it is and as it could be.

    Attributes:
        view: the view.
        low, high: corners of what both pictures show, m.
    """

    view: View
    low: tuple[float, float]
    high: tuple[float, float]


def has_hips(solution: Solution) -> bool:
    """Return whether one slice tells too little of a roof: it has hips or valleys."""
    roles = Role.HIP_RAFTER, Role.VALLEY_RAFTER
    return bool(solution.framing.of_role(*roles))


def sight_of(before: Solution, after: Solution | None = None) -> Sight:
    """Return the view of a roof from the south-west, wide enough for both."""
    view = tilted(np.zeros(3), _TURN, _DIP)
    places = [_floor(before, view)]
    for solution in (before, after):
        if solution is not None:
            places += [np.array(o) for _, _, o in _pieces(solution, view)]
    every = np.concatenate(places)
    low, high = every.min(axis=0), every.max(axis=0)
    return Sight(view, (low[0], low[1]), (high[0], high[1]))


def whole_roof(
    solution: Solution, sight: Sight, title: str, before: Solution | None = None,
    width: float = 520.0,
) -> Raw:  # fmt: skip
    """Return the whole roof as an SVG.

    Args:
        solution: the roof to draw.
        sight: how it is seen.
        title: what a screen reader says.
        before: the roof as it is, where this one is another: what is new is marked.
        width: px.
    """
    sketch = Sketch(sight.low, sight.high, width, _MARGIN, tallest=460.0)
    _house(sketch, solution, sight.view)
    marked: list[tuple[Member, Outline]] = []
    for _, member, outline in _pieces(solution, sight.view):
        if _is_marked(solution, member, before):
            marked.append((member, outline))
            continue
        fill = "none" if member.role in _THIN else WOOD
        sketch.polygon(outline, fill=fill, ink=SOFT, width=0.5)
    for member, outline in marked:  # over the rest: what it is about is never hidden
        sketch.polygon(outline, **_look(solution, member))
    _label(sketch, solution, sight.view)
    return sketch.svg(title)


def _pieces(solution: Solution, view: View) -> list[tuple[float, Member, Outline]]:
    """Return depth, member and outline of every ply, the farthest first."""
    out = []
    for key, member in solution.framing.members.items():
        solid = member_solid(solution.brief, solution.framing, key)
        blocks = view.at(solid.vertices)[:, 2].reshape(-1, 8).mean(axis=1)
        lines = slice_outlines(solid, view, -np.inf, np.inf)
        out += [(float(d), member, o) for d, o in zip(blocks, lines, strict=True)]
    return sorted(out, key=lambda one: -one[0])


def _floor(solution: Solution, view: View) -> Floats:
    """Return the corners of the house on the floor, on the picture."""
    corners = corners_of(solution.brief)
    down = np.full((len(corners), 1), -WALL_HEIGHT)
    return view.at(np.hstack([corners, down]))[:, :2]


def _house(sketch: Sketch, solution: Solution, view: View) -> None:
    """Add the outer walls as an outline from the floor up."""
    floor = _floor(solution, view)
    corners = corners_of(solution.brief)
    top = view.at(np.hstack([corners, np.zeros((len(corners), 1))]))[:, :2]
    sketch.polygon(floor.tolist(), ink="#c9ccc8", width=0.9)
    for a, b in zip(floor, top, strict=True):
        sketch.line([a, b], 0.9, "#c9ccc8")


def _is_marked(solution: Solution, member: Member, before: Solution | None) -> bool:
    """Return whether a piece is over its limit, lost, or new."""
    verdict = solution.members[member.key].verdict
    if verdict in FAILS or verdict is Verdict.NO_LOAD_PATH:
        return True
    return before is not None and is_new(solution, before, member.key)


def _look(solution: Solution, member: Member) -> dict[str, object]:
    """Return fill and line of a marked piece."""
    verdict = solution.members[member.key].verdict
    if verdict in FAILS:
        return {"fill": "url(#hatch-over)", "ink": OVER, "width": 1.3}
    if verdict is Verdict.NO_LOAD_PATH:
        return {"fill": "#ffffff", "dash": "5 3", "width": 1.2}
    return {"fill": NEW, "ink": INK, "width": 0.6}


def _label(sketch: Sketch, solution: Solution, view: View) -> None:
    """Add what the most used member is and its use, with a line to it."""
    worst = solution.worst
    if worst is None or worst.utilisation is None:
        return
    place = view.at(np.mean(solution.framing.ends(worst.key), axis=0))[0, :2]
    over = worst.utilisation > 1
    ink = OVER if over else INK
    x, y = sketch.at(place)
    left = x > 0.5 * sketch.width  # words stand where the roof leaves most room
    edge, anchor = (6.0, "start") if left else (sketch.width - 6.0, "end")
    top = _SIZE + 2.0
    near = edge + (70.0 if left else -70.0)
    line = f'd="M{near:.1f} {top + 22:.1f}L{x:.1f} {y:.1f}" fill="none"'
    sketch.add(
        f'<path {line} stroke="#ffffff" stroke-width="2.6"/>'
        f'<path {line} stroke="{ink}" stroke-width="0.9"/>'
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2.6" fill="{ink}"/>'
    )
    for n, line in enumerate((role_word(worst.role), use_words(worst.utilisation))):
        sketch.text(place, line, _SIZE, anchor, (edge - x, top - y + 16.0 * n), ink=ink,
                    bold=over)  # fmt: skip
