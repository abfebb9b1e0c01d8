"""Hips that nothing holds: braces, posts under the ridge ends, trusses, bigger hips."""

from __future__ import annotations

from dataclasses import replace

from ..basis.materials import reference_values
from ..basis.sections import section
from ..brief.hips import hip_inset
from ..brief.model import (
    Brief,
    Foot,
    FootOn,
    HipBrace,
    HipPlace,
    JoistDirection,
    Post,
    RoofForm,
    Shape,
    Truss,
    TrussWebs,
)
from ..framing.hip_layout import hip_stock
from ..solve import Solution
from .model import Ladder, RemedyKind, Rung
from .posts import joist_lumber
from .rows import fresh
from .stock import LVL, LVL_DEPTHS, known, label
from .trouble import find_trouble

_SAWN = ("2x6", "2x8", "2x10", "2x12")
_DEEPEST = 16.0  # in; a deeper hip finds no room at plate and ridge
BRACES = ("4x4", "4x6", "6x6")
_HALF = 0.5
LEAVES = ("It does not straighten hips that have bent.",)
ENGINEER = ("Hips and what holds them are designed, not looked up, where rules end.",)


def propose(before: Solution) -> list[Ladder]:
    """Return what could hold the hips of a hip roof over a rectangle."""
    brief, trouble = before.brief, find_trouble(before)
    hip = brief.roof.form is RoofForm.HIP
    rectangle = brief.footprint.shape is Shape.RECTANGLE
    if not (hip and rectangle and (trouble.hips or trouble.hip_rule)):
        return []
    out = _bigger(brief)
    if not brief.hip_braces:
        out += [_ridge_posts(brief), *_braced(brief)]
        across = brief.ceiling_joists is not None and (
            brief.ceiling_joists.direction is JoistDirection.ACROSS
        )
        if across and not brief.trusses:
            out += _trussed(brief)
    return [ladder for ladder in out if ladder.rungs]


def larger_hips(brief: Brief) -> list[list[Rung]]:
    """Return the brief with bigger hips, by lumber and plies, each in rising depth.

    Only within one lumber and ply count does every deeper hip carry more.
    """
    now = hip_stock(brief)
    has = _strength(now.size, now.plies, now.species, now.grade)
    made = tuple(f"1.75x{d}" for d in LVL_DEPTHS if float(d) <= _DEEPEST)
    families = (
        (_SAWN, 1, now.species, now.grade),
        (_SAWN, 2, now.species, now.grade),
        (made, 2, *LVL),
    )
    found = []
    for sizes, plies, species, grade in families:
        mark = " LVL" if species == LVL[0] else ""
        rungs = [
            Rung(
                size=f"{label(size, plies)}{mark} hips",
                brief=replace(
                    brief,
                    hips=replace(
                        now, size=size, plies=plies, species=species, grade=grade
                    ),
                ),
            )
            for size in sizes
            if known(size, plies, species, grade)
            and _strength(size, plies, species, grade) > has
        ]
        if rungs:
            found.append(rungs)
    return found


def _strength(size: str, plies: int, species: str, grade: str) -> float:
    """Return bending strength before adjustment, N m, to tell what is bigger."""
    made = section(size, plies)
    return reference_values(species, grade, made).Fb * made.section_modulus


def _bigger(brief: Brief) -> list[Ladder]:
    """Return bigger hips and nothing under them."""
    return [
        Ladder(
            kind=RemedyKind.HIPS,
            key="hips",
            title="Bigger hips",
            build=(
                "Replace the hip rafters by {size} from corner to ridge end, tied at "
                "the corners so that their push stays in the plates."
            ),
            rungs=tuple(rungs),
            spare=n > 0,
            deepens=True,
            leaves=(*LEAVES, "The ridge ends still stand on the rafters' own push."),
            engineer=ENGINEER,
        )
        for n, rungs in enumerate(larger_hips(brief))
    ]


def _with_posts(
    brief: Brief, places: dict[str, tuple[float, float]], size: str
) -> tuple[Brief, dict[str, str]]:
    """Return the brief with a post at each place, and the names of the posts."""
    species, grade = joist_lumber(brief)
    posts, names = list(brief.posts), {}
    for place, at in places.items():
        name = fresh(f"under {place}", (p.name for p in posts))
        names[place] = name
        posts.append(Post(name=name, size=size, species=species, grade=grade, at=at))
    return replace(brief, posts=tuple(posts)), names


def _ends(brief: Brief) -> dict[str, tuple[float, float]]:
    """Return where the ridge ends are on plan, by the hip named for each."""
    inset, middle = hip_inset(brief), brief.footprint.width / 2
    return {
        "south_west": (inset, middle),
        "south_east": (brief.footprint.length - inset, middle),
    }


def _halves(brief: Brief) -> dict[str, tuple[float, float]]:
    """Return the middles of the hips on plan."""
    inset, length = hip_inset(brief) * _HALF, brief.footprint.length
    across, width = brief.footprint.width / 2 * _HALF, brief.footprint.width
    return {
        "south_west": (inset, across),
        "south_east": (length - inset, across),
        "north_east": (length - inset, width - across),
        "north_west": (inset, width - across),
    }


def _held(
    brief: Brief, places: dict[str, tuple[float, float]], at: float, size: str
) -> Brief:
    """Return the brief with a brace from a new post up to each of some hips."""
    posted, names = _with_posts(brief, places, size)
    species, grade = joist_lumber(brief)
    braces = tuple(
        HipBrace(
            hip=HipPlace(place), at=at, size=size, species=species, grade=grade,
            foot=Foot(on=FootOn.POST, name=name),
        )
        for place, name in names.items()
    )  # fmt: skip
    return replace(posted, hip_braces=(*posted.hip_braces, *braces))


def _ridge_posts(brief: Brief) -> Ladder:
    """Return a post under each ridge end, down to a footing."""
    rungs = tuple(
        Rung(size=size, brief=_held(brief, _ends(brief), 1.0, size))
        for size in BRACES
        if known(size, 1, *joist_lumber(brief))
    )
    return Ladder(
        kind=RemedyKind.POSTS,
        key="hip-ridge-posts",
        title="A post under each ridge end",
        build=(
            "Stand a {size} post under each end of the ridge, where the hips meet, "
            "down through the ceiling to a footing of its own."
        ),
        rungs=rungs,
        leaves=(*LEAVES, "The posts stand in the rooms below."),
        engineer=(*ENGINEER, "The footings have to be designed for the load stated."),
    )


def _braced(brief: Brief) -> list[Ladder]:
    """Return braces under the middles of the hips: alone, and with larger hips."""
    half = [
        (
            size,
            _held(_held(brief, _halves(brief), _HALF, size), _ends(brief), 1.0, size),
        )
        for size in BRACES[:2]
        if known(size, 1, *joist_lumber(brief))
    ]
    rungs = [Rung(size=f"{size} posts", brief=made) for size, made in half]
    build = (
        "Brace each hip at the middle of its length and at the ridge end by plumb "
        "posts, down through the ceiling to footings: {size}."
    )
    words = (*LEAVES, "The posts stand in the rooms below.")
    asks = (*ENGINEER, "The footings have to be designed for the load stated.")
    braced = Ladder(
        kind=RemedyKind.POSTS, key="hip-braces", title="Braced hips", build=build,
        rungs=tuple(rungs), leaves=words, engineer=asks,
    )  # fmt: skip
    return [
        braced,
        *(
            replace(
                braced,
                key="hip-braces-hips",
                title="Braced and bigger hips",
                rungs=tuple(
                    replace(r, size=f"{r.size}, {half[0][0]} posts") for r in larger
                ),
                also_kinds=(RemedyKind.HIPS,),
                deepens=True,
                spare=n > 0,
            )
            for n, larger in enumerate(larger_hips(half[0][1]) if half else [])
        ),
    ]


def _trussed(brief: Brief) -> list[Ladder]:
    """Return a site-built truss at each ridge end, with larger hips as they need be."""
    inset, length = hip_inset(brief), brief.footprint.length
    trusses = tuple(
        Truss(
            name=name, species=brief.rafters.species, spacing=brief.rafters.spacing,
            webs=TrussWebs.KING_POST_AND_STRUTS, start=x, end=x, held_at_mid=True,
        )
        for name, x in (("west end", inset), ("east end", length - inset))
    )  # fmt: skip
    made = replace(brief, trusses=trusses)
    first, *more = larger_hips(made) or [[]]
    ladder = Ladder(
        kind=RemedyKind.TRUSS,
        key="hip-trusses",
        title="A site-built truss at each ridge end",
        build=(
            "Make a truss of the rafter pair at each end of the ridge and its ceiling "
            "joist: a king post, two struts, webs of 2x4 held at mid-length, plywood "
            "gussets on both sides; {size}. No post stands in the room."
        ),
        rungs=(Rung(size="hips as they are", brief=made), *first),
        leaves=(
            *LEAVES,
            "A truss is as strong as its joints: gussets and nails as counted.",
        ),
        engineer=("Trusses are engineered work, joints and bracing as well.",),
        rises=False,  # stiffer hips bring more to the king post
        also_kinds=(RemedyKind.HIPS,),
    )
    return [ladder, *(replace(ladder, rungs=tuple(r), spare=True) for r in more)]
