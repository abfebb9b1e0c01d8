"""A beam between bearing walls that takes the struts, along the feet or under each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from ..basis.sections import section
from ..brief.model import (
    Beam,
    BeamPlace,
    Brief,
    Foot,
    FootOn,
    JoistDirection,
    Post,
)
from ..framing.plan import line_of, wall_stands_at
from ..solve import Solution
from ..units import INCH
from .beam_rungs import BeamStock, beam_stocks, holds_the_ceiling, with_fields
from .likely import likely_beam
from .model import Ladder, RemedyKind, Rung
from .posts import joist_lumber
from .rows import FootRow, Stand, fresh, rows_along_ridge, with_each_foot, with_feet
from .stock import POSTS
from .walls import STOPS

_SIDE_GAP = 0.25 * INCH
_BEARS = "Each end bears on a wall that was taken to go down to a footing or girder."
_DESIGNED = "A beam and its bearings down to the footings are designed, not looked up."


@dataclass(frozen=True, kw_only=True)
class _Place:
    """How a beam along the feet is set.

    Attributes:
        key, title, build: of the remedy; ``{beam}`` stands for the rung.
        fields: of the beam.
        leaves: what it does not do.
    """

    key: str
    title: str
    build: str
    fields: dict[str, object]
    leaves: tuple[str, ...]


_ALONG = (
    _Place(
        key="beam-above",
        title="Beam above the joists, under the feet",
        build=(
            "Set {size} along each row of feet, over the joists and clear of them, "
            "from bearing wall to bearing wall, and stand the struts on it."
        ),
        fields={"carries_joists": False, "place": BeamPlace.ABOVE},
        leaves=(
            "The ceiling keeps the sag that it has: the joists are freed of the "
            "struts and not lifted.",
        ),
    ),
    _Place(
        key="beam-flush",
        title="Beam among the joists, joists hung in it",
        build=(
            "Shore both sides, cut the joists along each row of feet, set {size} "
            "between bearing walls with its underside at the ceiling, hang the joists "
            "in it from both sides, tie them across it by straps, and stand the struts "
            "on it."
        ),
        fields={"carries_joists": True, "place": BeamPlace.FLUSH},
        leaves=(
            STOPS,
            "The cut joists tie the walls only if straps across the beam take their "
            "pull.",
        ),
    ),
)


def propose(before: Solution) -> list[Ladder]:
    """Return the beams that could take the struts off the ceiling joists."""
    rows = rows_along_ridge(before)
    joists = before.brief.ceiling_joists
    if not rows or joists is None:
        return []
    across = joists.direction is JoistDirection.ACROSS
    out: list[Ladder] = []
    for stock in beam_stocks(*joist_lumber(before.brief)):
        out += [
            _along(before, rows, place, stock)
            for place in _ALONG
            if across or place.key == "beam-above"
        ]
        if across:
            out += _across(before, rows, stock)
    return [ladder for ladder in out if ladder.rungs]


def _along(
    before: Solution, rows: list[FootRow], place: _Place, stock: BeamStock
) -> Ladder:
    """Return a beam under each row of feet, in rising size."""
    brief, names, held = _lined(before.brief, rows, place, stock)
    posts = len(brief.posts) - len(before.brief.posts)
    stands = f", with {posts} posts under them" if posts else ""
    more = ("The posts stand in the rooms below.",) if posts else ()
    return Ladder(
        kind=RemedyKind.BEAM,
        key=f"{place.key}-{stock.key}",
        title=f"{place.title}: {stock.words}",
        build=place.build.replace("{size}", f"{{size}}{stands}"),
        rungs=tuple(_sized(brief, names, stock)),
        leaves=(*place.leaves, _BEARS, *more),
        engineer=(_DESIGNED, *stock.engineer),
        also=holds_the_ceiling(names),
        spare=stock.spare,
        deepens=True,
        likely=likely_beam(
            before, rows, held, stock, bool(place.fields["carries_joists"])
        ),
    )


def _sized(brief: Brief, names: tuple[str, ...], stock: BeamStock) -> Iterator[Rung]:
    """Yield the brief with its new beams in each size of a family."""
    for words, fields in stock.rungs():
        beams = tuple(
            with_fields(b, fields) if b.name in names else b for b in brief.beams
        )
        yield Rung(size=words, brief=replace(brief, beams=beams))


def _lined(
    brief: Brief, rows: list[FootRow], place: _Place, stock: BeamStock
) -> tuple[Brief, tuple[str, ...], list[list[float]]]:
    """Return the brief with a beam under each row, their names and their bearings."""
    beams, posts = list(brief.beams), list(brief.posts)
    bearings: list[list[float]] = []
    feet: list[Foot] = []
    names: list[str] = []
    species, grade = joist_lumber(brief)
    for row in rows:
        low, high, held = _bearings(brief, row)
        name = fresh(f"new {row.purlin}", (b.name for b in beams))
        beams.append(
            Beam(
                name=name,
                size=stock.sizes[0],
                start=(low, row.y),
                end=(high, row.y),
                **place.fields,  # type: ignore[arg-type]
            )
        )
        size, plies = POSTS[3]
        on_posts = list(_between([low, *held, high], stock.reach))
        bearings.append(sorted([low, *held, *on_posts, high]))
        for x in on_posts:
            post = fresh(f"{name}{len(posts) + 1}", (p.name for p in posts))
            posts.append(
                Post(
                    name=post, size=size, plies=plies, species=species, grade=grade,
                    at=(x, row.y),
                )
            )  # fmt: skip
        feet.append(Foot(on=FootOn.BEAM, name=name))
        names.append(name)
    changed = replace(brief, beams=tuple(beams), posts=tuple(posts))
    return with_feet(changed, rows, feet), tuple(names), bearings


def _bearings(brief: Brief, row: FootRow) -> tuple[float, float, list[float]]:
    """Return where a beam along a row of feet ends, and the walls it crosses, m."""
    walls = [line_of(w).at for w in _crossed(brief, 1, row.y)]
    low = max([0.0, *(x for x in walls if x <= row.x[0] + 1e-6)])
    high = min([brief.footprint.length, *(x for x in walls if x >= row.x[-1] - 1e-6)])
    if high - low < 1e-6:
        low, high = 0.0, brief.footprint.length
    return low, high, sorted(x for x in walls if low < x < high)


def _crossed(brief: Brief, along: int, at: float) -> list:
    """Return the bearing walls that run one way and stand at a place along them."""
    return [
        wall
        for wall in brief.walls
        if wall.bearing and line_of(wall).along == along and wall_stands_at(wall, at)
    ]


def _between(held: list[float], reach: float) -> Iterator[float]:
    """Yield the posts that leave no span longer than a reach, evenly set, m."""
    for low, high in pairwise(held):
        count = max(0, int(-(-(high - low - 1e-6) // reach)) - 1)
        for n in range(count):
            yield low + (high - low) * (n + 1) / (count + 1)


def _across(before: Solution, rows: list[FootRow], stock: BeamStock) -> list[Ladder]:
    """Return a beam under each strut beside its joist, from plate to bearing wall."""
    laid = _laid(before.brief, rows, stock)
    if laid is None:
        return []
    brief, names = laid
    return [
        Ladder(
            kind=RemedyKind.BEAM,
            key=f"beams-across-{stock.key}",
            title=f"A beam beside the joist under each strut: {stock.words}",
            build=(
                f"Lay {{size}} beside the joist under each of the {len(names)} struts, "
                "from the outer plate to the next bearing wall, packed up 3/4 in clear "
                "of the ceiling, blocked against rolling, and move the strut on to it."
            ),
            rungs=tuple(_sized(brief, names, stock)),
            leaves=(
                "The ceiling keeps the sag that it has: the joists are freed of the "
                "struts and not lifted.",
                _BEARS,
                "Both walls take loads at single places; look for a header under each.",
            ),
            engineer=(_DESIGNED, *stock.engineer),
            rises=False,  # a deeper beam loses more to the slope of its end
            also=holds_the_ceiling(names),
            spare=stock.spare,
        )
    ]


def _laid(
    brief: Brief, rows: list[FootRow], stock: BeamStock
) -> tuple[Brief, tuple[str, ...]] | None:
    """Return the brief with a beam beside the joist under each strut, and their names.

    None where a strut stands between no two walls that a beam would reach.
    """
    beams, names = list(brief.beams), []
    stands: dict[str, Stand] = {}
    aside = _aside(brief, stock)
    for row in rows:
        for k, (key, x) in enumerate(zip(row.keys, row.x, strict=True), start=1):
            at = x - aside[0] if x - aside[0] > 0 else x + aside[1]
            ends = _plate_to_wall(brief, at, row.y)
            if ends[1] - ends[0] > stock.reach + 1e-6:
                return None
            name = fresh(f"{row.purlin}{k}", (b.name for b in beams))
            beams.append(
                Beam(
                    name=name, size=stock.sizes[0], start=(at, ends[0]),
                    end=(at, ends[1]), carries_joists=False, place=BeamPlace.FLUSH,
                )
            )  # fmt: skip
            names.append(name)
            stands[key] = at, Foot(on=FootOn.BEAM, name=name)
    changed = with_each_foot(replace(brief, beams=tuple(beams)), rows, stands)
    return changed, tuple(names)


def _aside(brief: Brief, stock: BeamStock) -> tuple[float, float]:
    """Return how far west of its rafter, or east of both joists, a beam stands, m."""
    joists = brief.ceiling_joists
    assert joists is not None
    half = section(stock.sizes[0], stock.plies).overall_breadth / 2 + _SIDE_GAP
    rafter = section(brief.rafters.size, brief.rafters.plies).total_breadth / 2
    return rafter + half, rafter + 2 * section(joists.size).breadth + half


def _plate_to_wall(brief: Brief, x: float, y: float) -> tuple[float, float]:
    """Return the bearing lines on either side of a foot, m across the house."""
    lines = [0.0, brief.footprint.width]
    lines += [line_of(w).at for w in _crossed(brief, 0, x)]
    low = max((v for v in lines if v < y - 1e-6), default=0.0)
    high = min((v for v in lines if v > y + 1e-6), default=brief.footprint.width)
    return low, high
