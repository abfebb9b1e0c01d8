"""A structural ridge: a beam that carries the rafters' upper ends down posts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..brief.model import Brief, RidgeKind, RoofForm
from ..solve import Solution
from .model import Ladder, RemedyKind, Rung
from .stock import BEAM_PLIES, LVL, LVL_DEPTHS, SAWN_BEAMS, known, label
from .trouble import find_trouble

_POSTS = (0, 1, 2)


def propose(before: Solution) -> list[Ladder]:
    """Return ridge beams where rafters push on nothing or their ties fail."""
    brief, trouble = before.brief, find_trouble(before)
    thrust = bool(trouble.untied or trouble.ties)
    if brief.roof.form is not RoofForm.GABLE or not thrust:
        return []
    if brief.ridge.kind is RidgeKind.BEAM:
        return []
    out = []
    for posts, plies, rungs in _ladders(brief):
        under = f"the end walls and {_between(posts)}" if posts else "the end walls"
        out.append(
            Ladder(
                kind=RemedyKind.RIDGE,
                key=f"ridge-beam-{posts}",
                title=f"Structural ridge, {_count(posts)}",
                build=(
                    f"Set a ridge beam of {{size}} on {under}, followed down to "
                    "footings; hang or seat the rafters on it."
                ),
                rungs=tuple(rungs),
                deepens=True,
                spare=plies > BEAM_PLIES[0],
                leaves=(
                    "It does not push walls back that have spread.",
                    "The end walls and posts bring a large load to single places; "
                    "what is under them was not checked here.",
                ),
                engineer=(
                    "A beam that carries half the roof, with its posts and footings, "
                    "is designed, not looked up.",
                ),
            )
        )
    return out


def _between(posts: int) -> str:
    """Return the posts under a ridge in words."""
    many = "one post" if posts == 1 else f"{posts} posts"
    return f"{many} between them"


def _count(posts: int) -> str:
    """Return how many posts in words."""
    return {0: "no post between the ends", 1: "one post"}.get(posts, f"{posts} posts")


def _ladders(brief: Brief) -> Iterator[tuple[int, int, list[Rung]]]:
    """Yield posts, plies and the beams of one material in rising depth.

    Ply counts stand apart because bearing wants breadth and bending wants depth: only
    within one does every deeper beam carry more.
    """
    ridge, length = brief.ridge, brief.footprint.length
    sawn, made = (ridge.species, ridge.grade), tuple(f"1.75x{d}" for d in LVL_DEPTHS)
    for posts in _POSTS:
        places = tuple(length * (n + 1) / (posts + 1) for n in range(posts))
        for plies in BEAM_PLIES:
            for sizes, lumber in ((SAWN_BEAMS, sawn), (made, LVL)):
                rungs = [
                    _rung(brief, size, plies, lumber, places)
                    for size in sizes
                    if known(size, plies, *lumber)
                ]
                if rungs:
                    yield posts, plies, rungs


def _rung(
    brief: Brief,
    size: str,
    plies: int,
    lumber: tuple[str, str],
    places: tuple[float, ...],
) -> Rung:
    """Return the brief with one ridge beam on its posts."""
    species, grade = lumber
    beam = replace(
        brief.ridge,
        kind=RidgeKind.BEAM,
        size=size,
        plies=plies,
        species=species,
        grade=grade,
        posts=places,
    )
    words = f"{label(size, plies)} {species if lumber == LVL else ''}".strip()
    return Rung(size=words, brief=replace(brief, ridge=beam))
