"""comparison.html: what could be built instead, side by side, on one page.

Reads a Comparison and computes no statics. Complete in itself: no script, no network.
"""

from __future__ import annotations

from html import escape

from ..brief.model import System
from ..remedy import Comparison, Remedy
from ..remedy.measure import Measures
from ..verdict.model import Verdict
from .closing import not_checked
from .markup import (
    DEFINITIONS,
    Content,
    Raw,
    bar,
    bullets,
    join,
    mark,
    section,
    table,
    tag,
)
from .show import Show, use
from .style import CSS

_WIDE = "body{max-width:68rem}@page{size:landscape}"
_NOTHING = (
    "Nothing here needs a remedy of the kinds that are known: no member fails and no "
    "strut stands on ceiling joists."
)
_UNKNOWN = (
    "None of the remedies known here fits what fails in this roof. That is no proof "
    "that there is none: ask an engineer."
)


def comparison_html(found: Comparison) -> str:
    """Return the comparison of all remedies as one HTML document."""
    show = Show(found.before.brief.units)
    name = escape(found.before.brief.name)
    head = [
        tag("h1", f"{found.before.brief.name}: what to build instead"),
        tag("p", _opening(found), class_="under"),
    ]
    parts = [_table(found, show), _each(found, show), not_checked()]
    body = join([*head, *parts])
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{name}: what to build instead</title><style>{CSS}{_WIDE}</style>"
        f"</head>\n<body>{DEFINITIONS}<main>{body.text}</main></body></html>\n"
    )


def _opening(found: Comparison) -> str:
    """Return what was tried, in a sentence or two."""
    if not found.remedies:
        return _UNKNOWN if found.measures.failing else _NOTHING
    solving = [r for r in found.remedies if r.solves]
    return (
        f"{len(found.remedies)} remedies were built, solved and checked like the roof "
        f"itself; with {len(solving)} of them every member passes these checks by "
        "analysis. A star marks those that no other one beats in every column."
    )


def _table(found: Comparison, show: Show) -> Raw:
    """Return one row a remedy, the roof as it is first."""
    heads = (
        "", "highest use", "", "ceiling sag now", "in ten years",
        "against neighbour", "to carry in", "longest", "headroom lost",
        "new in the room", "new load below", "engineer",
    )  # fmt: skip
    rows: list[list[Content]] = [_row("as it is", found.measures, show, "–")]
    for one in found.remedies:
        star = "★ " if one.unbeaten else ""
        verdict = Verdict.PASSES if one.solves else Verdict.OVER_LIMIT
        title = join([mark(verdict, words=False), f" {star}{one.title}"])
        asked = "yes" if one.engineer else "no"
        rows.append(_row(title, one.measures, show, asked))
    drawn = tag("div", table(heads, rows, numeric=(1, 3, 4, 5, 7, 8)), class_="scroll")
    return section(
        "Side by side",
        drawn,
        key="table",
        lead="Circle: every member passes these checks by analysis. Triangle: not. The "
        "stroke in the bar is the limit. New walls are counted with studs 16 in apart "
        "in the lumber.",
    )


def _row(title: Content, m: Measures, show: Show, engineer: str) -> list[Content]:
    """Return the cells of a roof."""
    unit = "bd ft" if show.system is System.IMPERIAL else "bd ft (nominal)"
    lumber = f"{m.pieces.count} pieces, {m.pieces.board_feet:.0f} {unit}"
    rooms = [f"{show.length(m.walls)} of wall"] if m.walls > 0 else []
    rooms += [f"{m.posts} post{'' if m.posts == 1 else 's'}"] if m.posts else []
    cracks = " (may crack)" if m.may_crack else ""
    return [
        title,
        use(m.utilisation),
        bar(m.utilisation),
        show.small(m.ceiling.now),
        show.small(m.ceiling.ten_years),
        show.small(m.beside) + cracks,
        lumber if m.pieces.count else "–",
        show.length(m.pieces.longest) if m.pieces.count else "–",
        show.small(m.headroom_lost) if m.headroom_lost > 0 else "–",
        ", ".join(rooms) or "–",
        show.force(m.foundation) if m.foundation else "–",
        engineer,
    ]


def _each(found: Comparison, show: Show) -> Raw:
    """Return what each remedy asks for, and what it does not do."""
    return section(
        "One by one",
        *[_one(r, show) for r in found.remedies],
        key="each",
        lead="What to build, why it may not be enough, and what it leaves undone.",
    )


def _hangers(one: Remedy, show: Show) -> list[str]:
    """Return what hangers and straps at new beams have to hold."""
    out = []
    for h in one.hanging:
        strap = f", and a strap across it {show.force(h.pull)}" if h.pull > 0 else ""
        out.append(
            f"On {h.beam} joists hang at {h.joists} places: each hanger has to hold up "
            f"to {show.force(h.each)} ({h.joist}, {h.combination}){strap}."
        )
    return out


def _gusset_words(one: Remedy) -> Raw:
    """Return what the nails are of that follow."""
    return tag(
        "p",
        "Nails of the truss with most to hold, through plywood counted on both sides "
        f"together, struts to rafters face to face ({one.gussets[0].clause}):",
    )


def _gussets(one: Remedy, show: Show) -> list[str]:
    """Return the nails of each piece in the joints of a truss."""
    return [
        f"{j.key.replace(' chord', ' foot')}: {j.needed} {j.nail} into {j.member} for "
        f"{show.force(j.force)} ({j.combination}), {show.force(j.each)} each"
        for j in one.gussets
    ]


def _one(one: Remedy, show: Show) -> Raw:
    """Return a remedy in words."""
    said: list[Content] = [tag("p", one.build)]
    if one.smaller:
        said.append(tag("p", f"The next smaller one fails ({one.smaller})"))
    if one.why_not:
        said += [tag("p", "Not enough:"), bullets(one.why_not)]
    if one.nailing is not None:
        n = one.nailing
        said.append(
            tag(
                "p",
                f"Nailing at the heaviest foot ({n.joist}): {n.count} {n.nail} nails "
                f"through each face near the foot, at {show.force(n.each)} each "
                f"({n.clause}, {n.combination}), for {show.force(n.passed)} that "
                "passes from the ply under the strut to the others.",
            )
        )
    said += [tag("p", words) for words in _hangers(one, show)]
    if one.gussets:
        said += [_gusset_words(one), bullets(_gussets(one, show))]
    for found in one.spread:
        taken = ", ".join(f"{k} {show.force(f)}" for k, f in found.joists)
        off = f" It lifts off {', '.join(found.lifted)}." if found.lifted else ""
        said.append(
            tag(
                "p",
                f"Of {show.force(found.brought)} that struts bring to {found.beam} "
                f"({found.combination}) the joists take, along it: {taken}.{off}",
            )
        )
    if one.leaves:
        said += [tag("p", "What it does not do:"), bullets(one.leaves)]
    if one.engineer:
        said += [tag("p", "Needs an engineer:"), bullets(one.engineer)]
    if one.shores is not None:
        s = one.shores
        first = (
            f"{s.places} struts to take over first. A shore does not give as a joist "
            f"does, so it draws more: up to {show.force(s.each_dead)} each under dead "
            f"load alone ({show.force(s.all_dead)} in all), up to "
            f"{show.force(s.each)} under all loads."
        )
        said += [tag("p", "Shores:"), bullets((first, *s.words))]
    return tag("div", join([tag("h3", f"{one.title}: {one.size}"), *said]))
