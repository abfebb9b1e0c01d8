"""comparison.html: what could be built instead, side by side, on one page.

Reads a Comparison and computes no statics. Complete in itself: no script, no network.
"""

from __future__ import annotations

from html import escape

from ..brief.model import System
from ..remedy import Comparison, Remedy
from ..remedy.measure import Measures
from ..report.closing import not_checked
from ..report.markup import (
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
from ..report.plate_results import bolt_words
from ..report.show import Show, use
from ..report.style import CSS
from ..solve import Solution
from ..trusses import GussetJoint
from ..units import FOOT
from ..verdict.model import Verdict
from .chart import chart
from .picture import choose_slice, picture, slice_beside

_WIDE = (
    "body{max-width:72rem}@page{size:landscape}"
    "tbody th svg[role=img]{display:block;width:9.5rem;height:auto;"
    "margin:.1rem 0 .2rem}"
    "#table th a{color:inherit;text-decoration:none}"
    "#table td:last-child{min-width:11rem;font-size:.92em;line-height:1.22}"
    "#table thead .n{white-space:normal}#table td:nth-child(10){min-width:6.6rem}"
    ".one{display:grid;grid-template-columns:minmax(0,25rem) 1fr;gap:0 1.6rem;"
    "border-top:1px solid var(--rule);padding:.4rem 0 .9rem}"
    ".one h3{grid-column:1/-1}.one figure{margin:.2rem 0}.one svg{width:100%;"
    "height:auto}@media(max-width:760px){.one{grid-template-columns:1fr}}"
    "@media print{.one{grid-template-columns:20rem 1fr}.one figure{break-inside:avoid}}"
)
_THUMB = 190.0  # px
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
    parts = [not_checked()]
    if found.remedies:
        parts = [chart(found), _table(found, show), _each(found, show), *parts]
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
        "against neighbour", "to carry in", "longest", "attic way lost",
        "lost in the rooms", "new load below", "needs an engineer",
    )  # fmt: skip
    cut = choose_slice(found.before)
    drawn = picture(found.before, cut, "as it is", width=_THUMB, words=False)
    title = join([drawn, "as it is"])
    rows: list[list[Content]] = [_row(title, found.measures, show, "–")]
    for one in found.remedies:
        star = "★ " if one.unbeaten else ""
        verdict = Verdict.PASSES if one.solves else Verdict.OVER_LIMIT
        words = join([mark(verdict, words=False), f" {star}{one.title}"])
        drawn = remedy_picture(found.before, one, _THUMB, words=False)
        title = tag("a", join([drawn, words]), href=f"#{one.key}")
        asked = f"yes. {one.engineer[0]}" if one.engineer else "no"
        rows.append(_row(title, one.measures, show, asked))
    made = table(heads, rows, numeric=(1, 3, 4, 5, 6, 7, 8, 10))
    return section(
        "Side by side",
        tag("div", made, class_="scroll"),
        key="table",
        lead="Circle: every member passes these checks by analysis. Triangle: not. The "
        "stroke in the bar is the limit. Dark in the pictures: new; hatched: over its "
        "limit. New walls are counted with studs 16 in apart in the lumber. Attic way: "
        "the tallest opening 22 in wide that is clear from end to end.",
    )


def remedy_picture(
    before: Solution, one: Remedy, width: float = 520.0, words: bool = True
) -> Raw:
    """Return the slice through what a remedy puts up, new pieces marked.

    Args:
        before: the roof as it is.
        one: the remedy.
        width: px.
        words: whether pushes and uses are written in.
    """
    after = one.solution
    cut, _ = slice_beside(choose_slice(before, after), before, after)
    return picture(after, cut, one.title, before, width, words)


def _row(title: Content, m: Measures, show: Show, engineer: str) -> list[Content]:
    """Return the cells of a roof."""
    unit = "bd ft" if show.system is System.IMPERIAL else "bd ft (nominal)"
    lumber = f"{m.pieces.count} pieces", f"{m.pieces.board_feet:.0f} {unit}"
    rooms = [f"{show.length(m.walls)} of wall"] if m.walls > 0 else []
    rooms += [f"{m.posts} post{'' if m.posts == 1 else 's'}"] if m.posts else []
    rooms += [_floor(m.floor_lost, show)] if rooms else []
    cracks = ["may crack"] if m.may_crack else []
    return [
        title,
        use(m.utilisation),
        bar(m.utilisation),
        show.small(m.ceiling.now),
        show.small(m.ceiling.ten_years),
        _lines(show.small(m.beside), *cracks),
        _lines(*lumber) if m.pieces.count else "–",
        show.length(m.pieces.longest) if m.pieces.count else "–",
        show.small(m.headroom_lost) if m.headroom_lost > 0 else "–",
        _lines(*rooms) if rooms else "–",
        show.force(m.foundation) if m.foundation else "–",
        engineer,
    ]


def _lines(*texts: str) -> Raw:
    """Return texts one below the other."""
    return join(texts, "<br>")


def _floor(area: float, show: Show) -> str:
    """Return the floor that walls and posts stand on; posts take little of it."""
    if show.system is System.IMPERIAL:
        return f"{area / FOOT**2:.1f} sq ft of floor"
    return f"{area:.2f} m² of floor"


def _each(found: Comparison, show: Show) -> Raw:
    """Return what each remedy asks for, and what it does not do."""
    return section(
        "One by one",
        *[_one(found.before, r, show) for r in found.remedies],
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
        + _sheet(j, show)
        for j in one.gussets
    ]


def _sheet(joint: GussetJoint, show: Show) -> str:
    """Return what the plywood of a joint has to be, where there is any."""
    need = joint.plywood
    if need is None:
        return ""
    return (
        f"; plywood rated {need.rating} on each side, {show.small(need.width)} wide "
        f"across the force and {show.small(need.length)} along it on either side of "
        "the joint, at least"
    )


def _one(before: Solution, one: Remedy, show: Show) -> Raw:
    """Return a remedy as a picture and in words."""
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
    said += [tag("p", bolt_words(b, show)) for b in one.solution.plate_bolts]
    if one.gussets:
        said += [_gusset_words(one), bullets(_gussets(one, show))]
    for found in one.spread:
        taken = ", ".join(f"{k} {show.force(f)}" for k, f in found.joists)
        off = f" It lifts off {', '.join(found.lifted)}." if found.lifted else ""
        pull = f" Its bolts hold up to {show.force(found.pull)}." if found.pull else ""
        said.append(
            tag(
                "p",
                f"Of {show.force(found.brought)} that struts bring to {found.beam} "
                f"({found.combination}) the joists take, along it: {taken}.{off}{pull}",
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
    head = tag("h3", f"{one.title}: {one.size}", id=one.key)
    drawn = tag("figure", remedy_picture(before, one))
    return tag("div", join([head, drawn, tag("div", join(said))]), class_="one")
