"""What stands on the sheet, before it is set in HTML or PDF.

Reads a comparison of remedies; computes nothing.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from ..errors import FieldError
from ..remedy import Comparison, Remedy
from ..remedy.measure import Measures
from ..report.cautions import CAUTIONS, NOT_CHECKED
from ..report.markup import Raw
from ..report.show import Show, use
from ..solve import Solution
from ..trace.wording import counted, listed
from .picture import choose_slice, picture, slice_beside
from .whole import has_hips, sight_of, whole_roof
from .words import Said, for_homeowner, for_inspector

HEADS = ("choice", "use", "ceiling sag now, in ten years", "in the rooms below",
         "lumber to carry in", "engineer")  # fmt: skip
WIDTHS = (0.33, 0.06, 0.18, 0.14, 0.21, 0.08)  # of those columns, parts of the whole
_MOST_ROWS = 10
NOT_ENOUGH = "(not enough by itself)"


@dataclass(frozen=True)
class Picture:
    """One picture: its drawing, what it is of, and a file that may stand for it.

    Attributes:
        head: above it.
        svg: the drawing.
        under: below it.
        image: path of a PNG in its place, or "".
    """

    head: str
    svg: Raw
    under: str
    image: str = ""


@dataclass(frozen=True)
class Content:
    """The sheet in parts.

    Attributes:
        name: of the roof.
        verdict: of the roof as it is, in a line.
        pictures: before, and after where there is a remedy.
        plain: for the homeowner.
        report: for an inspector's report.
        sections: of rule and design basis.
        rows: the choices, as cells under `HEADS`; the first is the roof as it is.
        chosen: number of the row that is drawn, 0 where none is.
        note: under the choices.
        cautions: sentences.
        not_checked: a sentence.
    """

    name: str
    verdict: str
    pictures: tuple[Picture, ...]
    plain: Said
    report: Said
    sections: str
    rows: tuple[tuple[str, ...], ...]
    chosen: int
    note: str
    cautions: tuple[str, ...]
    not_checked: str


def choose(found: Comparison, key: str = "") -> Remedy | None:
    """Return the remedy of a key, or the one to show first.

    Of those that are enough and that no other beats: one that needs no engineer, else
    the one with the least lumber.

    Raises:
        FieldError: there is no remedy of this key.
    """
    if key:
        for one in found.remedies:
            if one.key == key:
                return one
        known = ", ".join(one.key for one in found.remedies) or "none fits this roof"
        raise FieldError("--remedy", key, known)
    solving = [r for r in found.remedies if r.solves]
    unbeaten = [r for r in solving if r.unbeaten]
    tried = unbeaten or solving or found.remedies
    return min(tried, key=lambda r: bool(r.engineer), default=None)


def content(
    found: Comparison, remedy: Remedy | None, images: tuple[str, ...] = ()
) -> Content:
    """Return what stands on the sheet.

    Args:
        found: the roof with its remedies.
        remedy: the one that is drawn.
        images: paths of rendered pictures, before and after, in place of the drawn
            ones; fewer leave the rest drawn.
    """
    before = found.before
    report, sections = for_inspector(before, remedy)
    shown = _shown(found, remedy)
    rows = [_row("as it is", found.measures, before, "–")]
    rows += [
        _row(
            one.title if one.solves else f"{one.title} (not enough)",
            one.measures,
            one.solution,
            "yes" if one.engineer else "no",
        )
        for one in shown
    ]
    at = shown.index(remedy) + 1 if remedy is not None else 0
    left = len(found.remedies) - len(shown)
    return Content(
        name=before.brief.name,
        verdict=_verdict(before),
        pictures=_pictures(before, remedy, images),
        plain=for_homeowner(before, remedy),
        report=report,
        sections=sections,
        rows=tuple(rows),
        chosen=at,
        note=_note(at, left),
        cautions=CAUTIONS,
        not_checked="Not checked: " + "; ".join(NOT_CHECKED) + ".",
    )


def _note(chosen: int, left: int) -> str:
    """Return what stands under the choices.

    Args:
        chosen: row that is drawn, 0 for none.
        left: choices that the page has no room for.
    """
    said = (
        "Use is what is asked of the most used member, as a part of what it may carry: "
        "1 is the limit."
    )
    said += (
        " The choice in bold is the one drawn."
        if chosen
        else " No change of the kinds that are tried here fits this roof."
    )
    return said + (f" {left} more were tried: see the comparison." if left else "")


def _shown(found: Comparison, remedy: Remedy | None) -> list[Remedy]:
    """Return the remedies that the page has room for, in their order.

    The drawn one, then those that no other beats, then those that are enough.
    """
    ranked = sorted(
        found.remedies, key=lambda r: (r is not remedy, not r.unbeaten, not r.solves)
    )
    kept = ranked[:_MOST_ROWS]
    return [one for one in found.remedies if one in kept]


def _verdict(before: Solution) -> str:
    """Return the verdict of the roof in a line."""
    said = f"As it is: {before.overall.value}"
    lost = _by_role(before, list(before.path.faults))
    over = [k for k, m in before.members.items() if m.analysis_passes is False]
    parts = [f"without a path: {lost}"] if lost else []
    parts += [f"over a limit: {_by_role(before, over)}"] if over else []
    return ". ".join([said, *(p[:1].upper() + p[1:] for p in parts)]) + "."


def _by_role(solution: Solution, keys: list[str]) -> str:
    """Return how many of each role some members are, "" for none."""
    roles = Counter(solution.members[key].role for key in keys)
    return listed([counted(n, role) for role, n in roles.items()])


def _pictures(
    before: Solution, remedy: Remedy | None, images: tuple[str, ...]
) -> tuple[Picture, ...]:
    """Return the picture as it is, and as it could be."""
    if has_hips(before):
        return _whole_roofs(before, remedy, images)
    after = None if remedy is None else remedy.solution
    cut = choose_slice(before, after)
    first, second = (*images, "", "")[:2]
    out = [
        Picture(
            "As it is",
            picture(before, cut, "The roof as it is"),
            "" if first else _legend(before),
            first,
        )
    ]
    if remedy is not None:
        assert after is not None
        said = "" if remedy.solves else f" {NOT_ENOUGH}"
        cut_after, off = slice_beside(cut, before, after)
        show = Show(before.brief.units)
        elsewhere = f" Cut {show.length(off)} beside the other slice." if off else ""
        gives = (
            " What does not give way takes more than a joist did."
            if any(m.role == "strut" for m in after.members.values())
            else ""
        )
        out.append(
            Picture(
                f"{remedy.title}{said}",
                picture(after, cut_after, remedy.title, before),
                gives.strip() if second else f"Dark: new.{elsewhere}{gives}",
                second,
            )
        )
    return tuple(out)


def _whole_roofs(
    before: Solution, remedy: Remedy | None, images: tuple[str, ...]
) -> tuple[Picture, ...]:
    """Return the whole roof as it is, and as it could be."""
    after = None if remedy is None else remedy.solution
    sight = sight_of(before, after)
    first, second = (*images, "", "")[:2]
    title = "The roof as it is"
    drawn = whole_roof(before, sight, title)
    out = [Picture("As it is", drawn, "" if first else _legend(before), first)]
    if remedy is not None and after is not None:
        head = remedy.title if remedy.solves else f"{remedy.title} {NOT_ENOUGH}"
        drawn = whole_roof(after, sight, remedy.title, before)
        out.append(Picture(head, drawn, "" if second else "Dark: new.", second))
    return tuple(out)


def _legend(solution: Solution) -> str:
    """Return what hatches, dashes and arrows say."""
    members = solution.members.values()
    parts = []
    if any(m.analysis_passes is False for m in members):
        parts.append("Hatched: over its limit.")
    if solution.path.faults:
        parts.append("Dashed outline: no load path.")
    if any(m.role == "strut" for m in members) and not has_hips(solution):
        parts.append("Arrows: what each brace brings at most.")
    return " ".join(parts)


def _row(title: str, m: Measures, solution: Solution, engineer: str) -> tuple[str, ...]:
    """Return the cells of one choice."""
    show = Show(solution.brief.units)
    rooms = [f"{show.length(m.walls)} of wall"] if m.walls > 0 else []
    rooms += [f"{m.posts} post{'' if m.posts == 1 else 's'}"] if m.posts else []
    lumber = f"{m.pieces.count} pieces, longest {show.length(m.pieces.longest)}"
    return (
        title,
        use(m.utilisation),
        f"{show.small(m.ceiling.now)}, {show.small(m.ceiling.ten_years)}",
        ", ".join(rooms) or "–",
        lumber if m.pieces.count else "–",
        engineer,
    )
