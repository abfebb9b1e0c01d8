"""Hips and valleys of a drawn outline that nothing holds at their upper ends.

A post or a brace to a wall or to a beam under the upper end, the same under the middles
as well, or bigger hips and valleys; the structural ridge that valleys can lean on.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from ..brief.model import (
    Beam,
    BeamPlace,
    Brief,
    Foot,
    FootOn,
    HipBrace,
    Post,
    RidgeKind,
)
from ..framing.plan import line_of
from ..solve import Solution
from ..units import FOOT
from .beam_rungs import beam_stocks, with_fields
from .hips import BRACES, ENGINEER, LEAVES, larger_hips
from .model import Ladder, RemedyKind, Rung
from .posts import joist_lumber
from .rows import fresh
from .stock import LVL, LVL_DEPTHS, SAWN_BEAMS, about, known, label
from .trouble import find_trouble

_WALL_REACH = 3 * FOOT  # as far aside as a brace is framed to a wall
_RIDGE_SPAN = 12 * FOOT
_POSTS = "The posts stand in the rooms below."
_FOOTINGS = "The footings have to be designed for the load stated."


@dataclass(frozen=True, kw_only=True)
class _Top:
    """A place under hips and valleys to hold.

    Attributes:
        line: key of one of them.
        at: part of its plan length.
        x, y: m on plan.
    """

    line: str
    at: float
    x: float
    y: float


def propose(before: Solution) -> list[Ladder]:
    """Return what could hold the hips and valleys of a drawn outline."""
    trouble, plan = find_trouble(before), before.framing.plan
    if plan is None:
        return []
    bad = dict.fromkeys((*trouble.hip_rule, *trouble.hips, *trouble.valleys))
    lines = [key for key in bad if key in plan.lines]
    out: list[Ladder] = []
    if lines:
        out += _bigger(before.brief)
        if not before.brief.hip_braces:
            out += _held(before, lines)
    if (trouble.untied or trouble.ties or lines) and _has_board(before.brief):
        out += _ridges(before)
    return [ladder for ladder in out if ladder.rungs]


def _has_board(brief: Brief) -> bool:
    """Return whether the ridge is a board."""
    return brief.ridge.kind is RidgeKind.BOARD


def _tops(before: Solution, lines: list[str], at: float) -> list[_Top]:
    """Return the places of some lines to hold, each once."""
    plan = before.framing.plan
    assert plan is not None
    found: dict[tuple[float, float], _Top] = {}
    for key in lines:
        line = plan.form.lines[plan.lines[key]]
        x, y = (line.start + at * (line.end - line.start))[:2].tolist()
        place = round(x, 3), round(y, 3)
        found.setdefault(place, _Top(line=key, at=at, x=x, y=y))
    return list(found.values())


def _held(before: Solution, lines: list[str]) -> list[Ladder]:
    """Return posts, braces to walls and beams under the lines."""
    brief, tops = before.brief, _tops(before, lines, 1.0)
    halves = _tops(before, lines, 0.5)
    names = ", ".join(lines)
    lumber = joist_lumber(brief)
    sizes = [size for size in BRACES if known(size, 1, *lumber)]
    posts = Ladder(
        kind=RemedyKind.POSTS,
        key="line-posts",
        title="A post under the top of every hip and valley",
        build=(
            f"Stand a {{size}} post under the upper end of {names}, {len(tops)} in "
            "all, down through the ceiling to a footing of its own."
        ),
        rungs=tuple(Rung(size=s, brief=_on_posts(brief, tops, s)) for s in sizes),
        leaves=(*LEAVES, _POSTS),
        engineer=(*ENGINEER, _FOOTINGS),
    )
    every = replace(
        posts,
        key="line-braces",
        title="Posts under tops and middles of hips and valleys",
        build=(
            f"Stand {{size}} posts under the upper end and the middle of {names}, "
            f"{len(tops) + len(halves)} in all, down through the ceiling to footings."
        ),
        rungs=tuple(
            Rung(size=s, brief=_on_posts(brief, [*tops, *halves], s)) for s in sizes[:2]
        ),
    )
    both = [
        replace(
            posts,
            key="line-posts-hips",
            title="Posts under the tops, and bigger hips and valleys",
            build=(
                f"Stand a {sizes[0]} post under the upper end of {names}, down to a "
                "footing of its own, and make hips and valleys of {size}."
            ),
            rungs=tuple(rungs),
            also_kinds=(RemedyKind.HIPS,),
            spare=n > 0,
        )
        for n, rungs in enumerate(_larger(_on_posts(brief, tops, sizes[0])))
    ]
    return [
        posts,
        every,
        *both,
        *_on_walls(brief, tops, sizes),
        *_on_beams(brief, tops),
    ]


def _on_posts(brief: Brief, tops: list[_Top], size: str) -> Brief:
    """Return the brief with a post under each place, down to a footing."""
    species, grade = joist_lumber(brief)
    posts, braces = list(brief.posts), list(brief.hip_braces)
    for top in tops:
        name = fresh(f"under {top.line}", (p.name for p in posts))
        posts.append(
            Post(name=name, size=size, species=species, grade=grade, at=(top.x, top.y))
        )
        braces.append(_brace(brief, top, size, Foot(on=FootOn.POST, name=name)))
    return replace(brief, posts=tuple(posts), hip_braces=tuple(braces))


def _brace(brief: Brief, top: _Top, size: str, foot: Foot) -> HipBrace:
    """Return a brace from a foot up to a place under a line."""
    species, grade = joist_lumber(brief)
    return HipBrace(
        under=top.line, at=top.at, size=size, species=species, grade=grade, foot=foot
    )


def _on_walls(brief: Brief, tops: list[_Top], sizes: list[str]) -> list[Ladder]:
    """Return a brace from each place down to a bearing wall, where all have one."""
    walls = [_wall_near(brief, top) for top in tops]
    if any(wall is None for wall in walls):
        return []
    named = ", ".join(dict.fromkeys(str(w) for w in walls))
    rungs = [
        Rung(
            size=size,
            brief=replace(
                brief,
                hip_braces=tuple(
                    _brace(brief, top, size, Foot(on=FootOn.WALL, name=str(wall)))
                    for top, wall in zip(tops, walls, strict=True)
                ),
            ),
        )
        for size in sizes
    ]
    return [
        Ladder(
            kind=RemedyKind.POSTS,
            key="line-walls",
            title="A brace from every hip and valley to a bearing wall",
            build=(
                f"Brace the upper end of every hip and valley by {{size}} down to the "
                f"bearing walls that stand near: {named}."
            ),
            rungs=tuple(rungs),
            leaves=(*LEAVES, "Leaning braces push sideways on the wall they stand on."),
            engineer=ENGINEER,
        )
    ]


def _wall_near(brief: Brief, top: _Top) -> str | None:
    """Return the bearing wall nearest to plumb under a place, None out of reach."""
    near: list[tuple[float, str]] = []
    for wall in brief.walls:
        line = line_of(wall)
        u, aside = line.place(top.x, top.y)
        beyond = max(line.low - u, 0.0, u - line.high)
        if wall.bearing and not wall.openings:
            near.append((float(np.hypot(aside, beyond)), wall.name))
    away, name = min(near, default=(np.inf, ""))
    return name if away <= _WALL_REACH else None


def _on_beams(brief: Brief, tops: list[_Top]) -> list[Ladder]:
    """Return a beam over the joists under each place, from wall to wall."""
    reaches = [_reach(brief, top) for top in tops]
    out = []
    for stock in beam_stocks(*joist_lumber(brief)):
        if any(np.hypot(b[0] - a[0], b[1] - a[1]) > stock.reach for a, b in reaches):
            continue
        laid, names = _with_beams(brief, tops, reaches)
        rungs = [
            Rung(
                size=words,
                brief=replace(
                    laid,
                    beams=tuple(
                        with_fields(b, fields) if b.name in names else b
                        for b in laid.beams
                    ),
                ),
            )
            for words, fields in stock.rungs()
        ]
        out.append(
            Ladder(
                kind=RemedyKind.BEAM,
                key=f"line-beams-{stock.key}",
                title=f"A beam under every hip and valley top: {stock.words}",
                build=(
                    "Set {size} over the ceiling joists and clear of them under the "
                    f"upper end of every hip and valley, {len(tops)} in all, from "
                    f"bearing wall to bearing wall, and stand a {BRACES[0]} post on it."
                ),
                rungs=tuple(rungs),
                deepens=True,
                spare=stock.spare,
                leaves=(
                    *LEAVES,
                    "Each end bears on a wall that was taken to go down to a footing.",
                ),
                engineer=(*ENGINEER, *stock.engineer),
            )
        )
    return out


def _with_beams(
    brief: Brief, tops: list[_Top], reaches: list[tuple[Point, Point]]
) -> tuple[Brief, set[str]]:
    """Return the brief with a beam under each place and a post on it, and the names."""
    beams, braces, names = list(brief.beams), list(brief.hip_braces), set[str]()
    for top, (start, end) in zip(tops, reaches, strict=True):
        name = fresh(f"under {top.line}", (b.name for b in beams))
        beams.append(
            Beam(
                name=name, size=SAWN_BEAMS[0], start=start, end=end,
                carries_joists=False, place=BeamPlace.ABOVE,
            )
        )  # fmt: skip
        braces.append(_brace(brief, top, BRACES[0], Foot(on=FootOn.BEAM, name=name)))
        names.add(name)
    return replace(brief, beams=tuple(beams), hip_braces=tuple(braces)), names


Point = tuple[float, float]


def _reach(brief: Brief, top: _Top) -> tuple[Point, Point]:
    """Return the ends of the shorter beam along an axis between what bears, m."""
    spans = [(_between(brief, top, axis), axis) for axis in (0, 1)]
    (low, high), axis = min(spans, key=lambda found: found[0][1] - found[0][0])
    if axis == 0:
        return (low, top.y), (high, top.y)
    return (top.x, low), (top.x, high)


def _between(brief: Brief, top: _Top, axis: int) -> tuple[float, float]:
    """Return the nearest bearings on either side of a place along an axis, m."""
    own, mark = ((top.x, top.y), (top.y, top.x))[axis]
    found: list[float] = []
    corners = [corner.at for corner in brief.footprint.outline]
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        low, high = sorted((a[1 - axis], b[1 - axis]))
        if high - low > 1e-9 and low - 1e-9 <= mark <= high + 1e-9:
            part = (mark - a[1 - axis]) / (b[1 - axis] - a[1 - axis])
            found.append(a[axis] + part * (b[axis] - a[axis]))
    for wall in brief.walls:
        line = line_of(wall)
        meeting = line.crossed(axis, mark)
        if wall.bearing and meeting is not None and line.covers(meeting[1]):
            found.append(meeting[0])
    low = max((u for u in found if u < own - 1e-6), default=own)
    high = min((u for u in found if u > own + 1e-6), default=own)
    return (low, high) if low < own < high else (-np.inf, np.inf)


def _larger(brief: Brief) -> list[list[Rung]]:
    """Return the brief with bigger hips and valleys, told by their size alone."""
    return [
        [replace(rung, size=rung.size.removesuffix(" hips")) for rung in rungs]
        for rungs in larger_hips(brief)
    ]


def _bigger(brief: Brief) -> Iterator[Ladder]:
    """Yield bigger hips and valleys and nothing under them."""
    for n, rungs in enumerate(_larger(brief)):
        yield Ladder(
            kind=RemedyKind.HIPS,
            key="hips",
            title="Bigger hips and valleys",
            build=(
                "Replace the hip and valley rafters by {size}, from corner to ridge, "
                "tied at the corners so that their push stays in the plates."
            ),
            rungs=tuple(rungs),
            deepens=True,
            spare=n > 0,
            leaves=(*LEAVES, "Their upper ends still stand on the rafters' own push."),
            engineer=ENGINEER,
        )


def _ridges(before: Solution) -> Iterator[Ladder]:
    """Yield a structural ridge on the ends of walls and on posts."""
    brief, plan = before.brief, before.framing.plan
    assert plan is not None
    places = _ridge_places(before)
    lumber = joist_lumber(brief)
    posted = (
        _on_posts(brief, places, BRACES[0]) if known(BRACES[0], 1, *lumber) else brief
    )
    families = ((SAWN_BEAMS, (brief.ridge.species, brief.ridge.grade)),
                (tuple(f"1.75x{d}" for d in LVL_DEPTHS), LVL))  # fmt: skip
    for n, (sizes, (species, grade)) in enumerate(families):
        mark = " LVL" if species == LVL[0] else ""
        yield Ladder(
            kind=RemedyKind.RIDGE,
            key="line-ridge-beam",
            title="Structural ridges on posts",
            build=(
                f"Make every ridge a beam of {{size}} with {BRACES[0]} posts under its "
                f"ends and {about(12 * FOOT, brief.units)} apart at most "
                f"({len(places)} posts in all), each down "
                "to a footing; hang or seat the rafters on it."
            ),
            rungs=tuple(
                Rung(
                    size=f"{label(size, 2)}{mark}",
                    brief=replace(
                        posted,
                        ridge=replace(
                            brief.ridge, kind=RidgeKind.BEAM, size=size, plies=2,
                            species=species, grade=grade,
                        ),
                    ),
                )
                for size in sizes
                if known(size, 2, species, grade)
            ),
            deepens=True,
            spare=n > 0,
            leaves=("It does not push walls back that have spread.", _POSTS),
            engineer=(
                "A beam that carries half the roof, with its posts and footings, is "
                "designed, not looked up.",
            ),
        )  # fmt: skip


def _ridge_places(before: Solution) -> list[_Top]:
    """Return where posts stand under ridges, each once.

    At every end that lies within the plan, and evenly between the ends where they are
    more than 12 ft apart (common practice, no source).
    """
    plan, corners = before.framing.plan, before.brief.footprint.outline
    assert plan is not None
    found: dict[Point, _Top] = {}
    for key, number in plan.lines.items():
        if not key.startswith("RIDGE"):
            continue
        line = plan.form.lines[number]
        bays = max(1, math.ceil(line.length / _RIDGE_SPAN - 1e-6))
        for n in range(bays + 1):
            x, y = (line.start + n / bays * (line.end - line.start))[:2].tolist()
            if not _on_side([c.at for c in corners], x, y):
                top = _Top(line=key, at=n / bays, x=x, y=y)
                found.setdefault((round(x, 3), round(y, 3)), top)
    return list(found.values())


def _on_side(corners: list[Point], x: float, y: float) -> bool:
    """Return whether a place lies on a side of the outline."""
    for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1], strict=True):
        length = float(np.hypot(bx - ax, by - ay))
        along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length
        aside = abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / length
        if aside < 1e-6 and -1e-6 <= along <= length + 1e-6:
            return True
    return False
