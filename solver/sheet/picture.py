"""The picture of the sheet: one slice of the roof as it is, and as it could be.

Drawn from the solids of the framing and the forces of the analysis; any outline and
any direction of members alike.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..drawings.cutting import rafter_way
from ..drawings.view import Outline, View, slice_outlines, upright
from ..framing.model import Member, Role
from ..framing.solids import member_solid
from ..report.cut import worst_cut
from ..report.markup import Raw
from ..report.sketch import INK, OVER, SOFT, WOOD, Sketch
from ..solve import Solution
from ..trace.beside import frame_push
from ..trace.wording import role_word, use_words
from ..units import FOOT, INCH, show_force
from ..verdict.model import Verdict

Floats = NDArray[np.float64]
NEW = "#1f5c6b"
WALL_HEIGHT = 8 * FOOT  # of a storey that is drawn, where no post says more
_LONG = ("rafter", "jack_rafter", "hip_rafter", "valley_rafter", "ceiling_joist")
_HARDLY, _SMALL = 0.8, 0.25  # m
_SIZE = 15.0  # px of words
_LINE = 17.0  # px from line to line
_HALF_WALL = 2.25 * INCH
_ORDER = (
    Role.PLATE, Role.CEILING_JOIST, Role.STUB_JOIST, Role.RAFTER, Role.JACK_RAFTER,
    Role.HIP_RAFTER, Role.VALLEY_RAFTER, Role.COLLAR_TIE, Role.RAFTER_TIE,
    Role.RIDGE_BOARD, Role.RIDGE_BEAM, Role.PURLIN, Role.BEAM, Role.HEADER, Role.WEB,
    Role.STRUT, Role.CURB, Role.LEDGER, Role.KNEE_STUD, Role.JACK_STUD, Role.POST,
)  # fmt: skip
# What a remedy puts up across the slice; long pieces are met wherever it is cut.
_PUT_UP = (Role.WEB, Role.STRUT, Role.POST)
FAILS = (Verdict.OVER_LIMIT, Verdict.KEEPS_RULE_FAILS)


@dataclass(frozen=True, eq=False)
class Slice:
    """Where the roof is cut for the picture.

    Attributes:
        view: the view.
        half: m, of the slice to either side.
        low, high: corners of what both pictures show, m.
        about: key of the strut or member of the roof as it is that it is about.
    """

    view: View
    half: float
    low: tuple[float, float]
    high: tuple[float, float]
    about: str


class Labelled(Sketch):
    """A drawing that knows where its words stand."""

    def __init__(
        self, low: tuple[float, float], high: tuple[float, float], width: float,
        words: bool = True,
    ):  # fmt: skip
        """Fit a world box into a width, px, with room for words or for none."""
        margin = (8.0, 40.0, 8.0, 20.0) if words else (2.0, 2.0, 2.0, 6.0)
        super().__init__(low, high, width, margin, tallest=420.0)
        self.taken: list[tuple[float, float, float, float]] = []


def choose_slice(before: Solution, after: Solution | None = None) -> Slice:
    """Return the slice through what is worst, wide enough for both roofs."""
    about = worst_cut(before).about
    foot, top = before.framing.ends(about)
    along = top[:2] - foot[:2]
    if np.hypot(*along) < 0.15:
        along = rafter_way(before, foot)
    half = before.brief.rafters.spacing / 2 + 2 * INCH
    view = upright(foot, along)
    boxes = [_box(s, view, half) for s in (before, after) if s is not None]
    low = np.min([b[0] for b in boxes], axis=0)
    high = np.max([b[1] for b in boxes], axis=0)
    return Slice(view, half, (low[0], low[1]), (high[0], high[1]), about)


def slice_beside(cut: Slice, before: Solution, after: Solution) -> tuple[Slice, float]:
    """Return the slice that shows what another roof has new, and how far off it is, m.

    The same slice where it meets a new web, brace or post, or where none is new; else
    a slice side by side with it, through the nearest of them.
    """
    middles = [
        np.mean(after.framing.ends(m.key), axis=0)
        for m in after.framing.of_role(*_PUT_UP)
        if is_new(after, before, m.key)
    ]
    if not middles:
        return cut, 0.0
    depths = cut.view.at(np.array(middles))[:, 2]
    off = float(depths[np.argmin(np.abs(depths))])
    if abs(off) <= cut.half:
        return cut, 0.0
    view = replace(cut.view, origin=cut.view.origin + off * cut.view.toward)
    return replace(cut, view=view), abs(off)


def _box(
    solution: Solution, view: View, half: float
) -> tuple[list[float], list[float]]:
    """Return the corners of what a slice of a roof shows."""
    places = [p for _, lines in _pieces(solution, view, half) for o in lines for p in o]
    xs, ys = zip(*places, strict=True)
    floor = min(-WALL_HEIGHT, *ys)
    return [min(xs), floor], [max(xs), max(ys)]


def _pieces(
    solution: Solution, view: View, half: float
) -> list[tuple[Member, list[Outline]]]:
    """Return the members in a slice with their outlines, in the order of drawing."""
    out = []
    for member in solution.framing.of_role(*_ORDER):
        solid = member_solid(solution.brief, solution.framing, member.key)
        lines = slice_outlines(solid, view, -half, half)
        if lines:
            out.append((member, lines))
    return sorted(out, key=lambda one: _ORDER.index(one[0].role))


def picture(
    solution: Solution, cut: Slice, title: str, before: Solution | None = None,
    width: float = 520.0, words: bool = True,
) -> Raw:  # fmt: skip
    """Return the slice of a roof as an SVG.

    Args:
        solution: the roof to draw.
        cut: the slice.
        title: what a screen reader says.
        before: the roof as it is, where this one is another: what is new is marked.
        width: px.
        words: whether pushes and uses are written in; a small picture has no room.
    """
    sketch = Labelled(cut.low, cut.high, width, words)
    _ground(sketch, solution, cut, before)
    pieces = _pieces(solution, cut.view, cut.half)
    for member, lines in pieces:
        look = _look(solution, member, before)
        for outline in lines:
            sketch.polygon(outline, **look)
    if words:
        shown = {m.key: lines for m, lines in pieces}
        _labels(sketch, solution, cut, shown, before)
    return sketch.svg(title)


def is_new(solution: Solution, before: Solution, key: str) -> bool:
    """Return whether a member is not in another roof, or of another size or place."""
    member, old = solution.framing.members[key], before.framing.members.get(key)
    if old is None or old.role is not member.role or old.section != member.section:
        return True
    ends = np.array(solution.framing.ends(key))
    moved = np.abs(ends - np.array(before.framing.ends(key))).max()
    return bool(moved > INCH / 4)


def _look(
    solution: Solution, member: Member, before: Solution | None
) -> dict[str, object]:
    """Return fill and line of a piece: new, over its limit, lost, or plain."""
    verdict = solution.members[member.key].verdict
    if verdict in FAILS:
        return {"fill": "url(#hatch-over)", "ink": OVER, "width": 1.5}
    if verdict is Verdict.NO_LOAD_PATH:
        return {"fill": "#ffffff", "dash": "5 3", "width": 1.4}
    if before is not None and is_new(solution, before, member.key):
        return {"fill": NEW, "ink": INK, "width": 0.9}
    return {"fill": WOOD, "ink": INK, "width": 0.8}


def _ground(
    sketch: Sketch, solution: Solution, cut: Slice, before: Solution | None
) -> None:
    """Add the walls under the slice, the floor, and the footings of posts."""
    floor, half = cut.low[1], _HALF_WALL
    old = _owners(before, cut) if before is not None else None
    for owner, places in _owners(solution, cut).items():
        fresh = old is not None and owner not in old
        for x, top in places:
            if owner.startswith("F-"):
                sketch.box(
                    (x - 0.25, floor - 0.22), (x + 0.25, floor),
                    fill=NEW if fresh else "#dfe1de",
                )  # fmt: skip
                continue
            sketch.box(
                (x - half, floor), (x + half, min(top, -0.0)),
                fill=NEW if fresh else "#dfe1de", width=0.8,
            )  # fmt: skip
    sketch.line([(cut.low[0], floor), (cut.high[0], floor)], 1.4, SOFT)


def _owners(solution: Solution, cut: Slice) -> dict[str, list[tuple[float, float]]]:
    """Return the walls and footings in the slice, each with its places."""
    out: dict[str, list[tuple[float, float]]] = {}
    for support in solution.framing.supports:
        if support.owner[:2] not in ("W-", "F-"):
            continue
        x, top, away = cut.view.at(solution.framing.points[support.node])[0]
        if abs(away) > cut.half:
            continue
        known = out.setdefault(support.owner, [])
        if not any(abs(x - k) < 2 * _HALF_WALL for k, _ in known):
            known.append((float(x), float(top)))
    return out


def _labels(
    sketch: Labelled, solution: Solution, cut: Slice,
    shown: Mapping[str, list[Outline]], before: Solution | None,
) -> None:  # fmt: skip
    """Add the push of the struts in the slice, and the use of what carries or fails."""
    told: set[str] = set()
    for key in shown:
        if solution.members[key].role == "strut":
            told |= _strut_label(sketch, solution, cut, key)
    roles = {solution.members[key].role for key in told}
    worst: dict[str, tuple[float, str]] = {}
    for key in shown:
        m = solution.members[key]
        if m.role in roles or m.role == "strut" or m.utilisation is None:
            continue
        reach = max(np.ptp(np.array(o), axis=0).max() for o in shown[key])
        if m.role in _LONG and reach < _HARDLY:  # an end that only just shows
            continue
        was = before.members.get(key) if before is not None else None
        fresh = before is not None and is_new(solution, before, key)
        if max(m.utilisation, (was and was.utilisation) or 0.0) > 1 or fresh:
            found = (m.utilisation, key)
            worst[m.role] = max(worst.get(m.role, found), found)
    for _, key in sorted(worst.values(), reverse=True)[:3]:
        points = np.array([p for o in shown[key] for p in o])
        _use_label(sketch, solution, key, points, cut)


def _use_label(
    sketch: Labelled, solution: Solution, key: str, points: Floats, cut: Slice
) -> None:
    """Add what a piece is and its use, beside it and clear of the roof."""
    m = solution.members[key]
    low, high = points.min(axis=0), points.max(axis=0)
    wide, tall = high - low
    middle = (low + high) / 2
    left = middle[0] < (cut.low[0] + cut.high[0]) / 2
    over = (m.utilisation or 0.0) > 1
    if tall > 2 * wide:  # upright: beside it
        anchor, shift = ("start", (14.0, 0.0)) if left else ("end", (-14.0, 0.0))
    elif m.role == "purlin" and max(wide, tall) < _SMALL:  # on end: over the roof
        anchor, shift = ("end", (-22.0, -26.0)) if left else ("start", (22.0, -26.0))
    elif max(wide, tall) < _SMALL:  # a plate, on end: below it, inside of the wall
        anchor, shift = ("start", (14.0, 34.0)) if left else ("end", (-14.0, 34.0))
    elif m.role == "web":  # inside the roof: below the ceiling that it starts from
        anchor, shift = "middle", (0.0, 30.0)
        middle = np.array([_clear(solution, cut, low[0], high[0]), low[1]])
    elif tall > 0.2 * wide:  # sloping: outside of the roof
        anchor, shift = ("end", (-12.0, -30.0)) if left else ("start", (12.0, -30.0))
    else:  # level: below it
        anchor, shift = "middle", (0.0, 26.0)
        middle = np.array([_clear(solution, cut, low[0], high[0]), middle[1]])
    words = (role_word(m.role), use_words(m.utilisation or 0.0))
    _say(sketch, words, middle, anchor, shift, over)


def _say(
    sketch: Labelled, words: tuple[str, ...], place: Floats, anchor: str,
    shift: tuple[float, float], over: bool = False, bold: bool = False,
) -> None:  # fmt: skip
    """Add lines of words, lower where other words are already."""
    x, y = sketch.at(place)
    wide = max(map(len, words)) * _SIZE * 0.46
    left = x + shift[0] - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
    aside = max(2.0 - left, 0.0) or min(sketch.width - 2.0 - wide - left, 0.0)
    left += aside
    top = y + shift[1] - _SIZE
    tall = _LINE * len(words)
    down = 0.0
    while down < 6 * _LINE and any(
        left < b[2] and left + wide > b[0] and top + down < b[3]
        and top + down + tall > b[1]
        for b in sketch.taken
    ):  # fmt: skip
        down += 4.0
    sketch.taken.append((left, top + down, left + wide, top + down + tall))
    for n, line in enumerate(words):
        sketch.text(
            place, line, _SIZE, anchor, (shift[0] + aside, shift[1] + down + _LINE * n),
            ink=OVER if over else INK, bold=over or bold,
        )  # fmt: skip


def _clear(solution: Solution, cut: Slice, low: float, high: float) -> float:
    """Return the place of a stretch that is farthest from walls and posts below it."""
    posts = solution.framing.of_role(Role.POST)
    feet = [cut.view.at(solution.framing.ends(p.key)[0])[0] for p in posts]
    places = [float(x) for x, _, away in feet if abs(away) <= cut.half]
    places += [x for known in _owners(solution, cut).values() for x, _ in known]
    tried = np.linspace(low, high, 25)
    away = [min((abs(x - p) for p in places), default=0.0) for x in tried]
    return float(tried[int(np.argmax(away))])


def _strut_label(
    sketch: Labelled, solution: Solution, cut: Slice, key: str
) -> set[str]:
    """Add a strut's push and the use of what it stands on; return what was told."""
    foot, top = cut.view.at(np.array(solution.framing.ends(key)))[:, :2]
    m = solution.members[key]
    if solution.model is None or key not in solution.model.members:
        _say(sketch, ("stands on", "nothing"), foot, "middle", (0.0, 24.0), bold=True)
        return set()
    push = float(frame_push(solution, key).max())
    lean = float(top[0] - foot[0])
    inward = 1.0 if foot[0] + top[0] < cut.low[0] + cut.high[0] else -1.0
    side = -float(np.sign(lean)) if abs(lean) > 0.3 else inward
    words = show_force(push, solution.brief.units) if push > 0 else "slack"
    spot, shift = 0.45 * foot + 0.55 * top, (12.0 * side, 0.0)
    if abs(lean) > 0.3:  # a leaning strut: outside of the pair
        side, shift = -side, (-14.0 * side, 18.0)
    anchor = "start" if side > 0 else "end"
    _say(sketch, (words,), spot, anchor, shift, bold=True)
    if push > 0:
        place = foot + 0.42 * (top - foot)
        sketch.arrow(place.tolist(), (foot - top).tolist(), 26.0, INK, 2.4)
    on = m.stands_on
    under = solution.members.get(on.name) if on is not None else None
    if under is None or under.utilisation is None or under.role == "post":
        return set()
    _use_label(sketch, solution, under.key, foot[None, :] + np.zeros((1, 2)), cut)
    return {under.key}
