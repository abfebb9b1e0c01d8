"""A post under every strut foot, its load followed to a footing or a girder."""

from __future__ import annotations

from dataclasses import replace

from ..brief.model import Brief, Foot, FootOn, Post, PostFoot
from ..solve import Solution
from .model import Ladder, RemedyKind, Rung
from .rows import FootRow, Stand, foot_rows, fresh, rows_along_ridge, with_each_foot
from .stock import POSTS, known, label
from .walls import STOPS

_KINDS = {
    PostFoot.FOOTING: ("posts-footing", "footings", "a footing of its own"),
    PostFoot.GIRDER: ("posts-girder", "a girder", "a girder that is under it already"),
}


def propose(before: Solution) -> list[Ladder]:
    """Return posts of rising size under the feet, on footings and on a girder."""
    rows = foot_rows(before)
    if not rows:
        return []
    count = sum(len(row.x) for row in rows)
    species, grade = joist_lumber(before.brief)
    pieces = [p for p in POSTS if known(*p, species, grade)]
    out = []
    kinds = _KINDS if rows_along_ridge(before) else {}
    for foot, (key, short, words) in kinds.items():
        rungs = tuple(
            Rung(size=label(*p), brief=_brief(before, rows, p, foot)) for p in pieces
        )
        out.append(
            Ladder(
                kind=RemedyKind.POSTS,
                key=key,
                title=f"Posts under the feet, on {short}",
                build=(
                    f"Stand a {{size}} post under each of the {count} strut feet, "
                    f"blocked solid through the ceiling, each on {words}."
                ),
                rungs=rungs,
                leaves=(STOPS, "The posts stand in the rooms below."),
                engineer=(
                    "Footing or girder under each post has to be designed for the "
                    "load stated.",
                ),
            )
        )
    if all(row.on_joists for row in rows):
        out.append(_under_joists(before, rows, pieces))
    return out


def _under_joists(
    before: Solution, rows: list[FootRow], pieces: list[tuple[str, int]]
) -> Ladder:
    """Return posts under the joists where struts stand on them."""
    count = sum(len(row.x) for row in rows)
    return Ladder(
        kind=RemedyKind.POSTS,
        key="posts-joists",
        title="Posts under the joists, beneath the feet",
        build=(
            f"Stand a {{size}} post under the joist beneath each of the {count} strut "
            "feet, wood to wood through the ceiling finish, each on a footing of its "
            "own; struts and joists stay as they are."
        ),
        rungs=tuple(
            Rung(size=label(*p), brief=_brief(before, rows, p, None)) for p in pieces
        ),
        leaves=(
            STOPS,
            "The posts stand in the rooms below.",
            "The joist is squeezed between strut and post, and bends up over the post: "
            "the ceiling may show it as a ridge.",
        ),
        engineer=("The footing under each post has to be designed for its load.",),
    )


def joist_lumber(brief: Brief) -> tuple[str, str]:
    """Return species and grade of new posts: those of the ceiling joists."""
    joists = brief.ceiling_joists
    return (joists.species, joists.grade) if joists else ("Spruce-Pine-Fir", "No.2")


def _brief(
    before: Solution, rows: list[FootRow], piece: tuple[str, int], foot: PostFoot | None
) -> Brief:
    """Return the brief with a post under each foot and its strut upon it.

    Without a foot the struts stay on the joists and the joists bear on the posts, which
    have footings.
    """
    brief = before.brief
    species, grade = joist_lumber(brief)
    posts = list(brief.posts)
    stands: dict[str, Stand] = {}
    for row in rows:
        feet = zip(row.keys, row.points, strict=True)
        for k, (key, (x, y)) in enumerate(feet, start=1):
            name = fresh(f"{row.purlin}{k}", (p.name for p in posts))
            posts.append(
                Post(
                    name=name,
                    size=piece[0],
                    plies=piece[1],
                    species=species,
                    grade=grade,
                    at=(x, y),
                    foot=foot or PostFoot.FOOTING,
                )
            )
            stands[key] = x, Foot(on=FootOn.POST, name=name)
    changed = replace(brief, posts=tuple(posts))
    return changed if foot is None else with_each_foot(changed, rows, stands)
