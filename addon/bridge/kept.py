"""Named variants of one roof, such as existing and proposed, kept with the roof.

A variant is a brief. The one that is shown follows every edit of the roof, so that
switching away and back loses nothing.
"""

from __future__ import annotations

from collections import Counter

import bpy

from ...solver.brief import Brief, parse_brief
from ...solver.errors import SolverError
from ...solver.trace.reactions import reactions
from ...solver.trace.wording import owner_word
from ..properties import DIRTY, roof_of
from . import brief_io, briefs, roofs
from .pipeline import Outcome

EXISTING = "Existing"


def keep(roof: bpy.types.Object, name: str, brief: Brief) -> None:
    """Keep a brief as a variant that is now shown; one of the same name is replaced."""
    stated = roof_of(roof)
    names = [v.name for v in stated.variants]
    with DIRTY.paused():
        if name in names:
            index = names.index(name)
        else:
            stated.variants.add().name = name
            index = len(stated.variants) - 1
        stated.variants[index].brief = briefs.text_of(brief)
        stated.shown_variant = name


def hold(roof: bpy.types.Object, scene: bpy.types.Scene) -> None:
    """Let the variant that is shown hold the roof as it is now.

    Raises:
        BriefError: the roof's properties state no brief.
    """
    stated = roof_of(roof)
    shown = next((v for v in stated.variants if v.name == stated.shown_variant), None)
    if shown is not None:
        brief = brief_io.read(stated, brief_io.scale_of(scene))
        with DIRTY.paused():
            shown.brief = briefs.text_of(brief)


def begin(roof: bpy.types.Object, scene: bpy.types.Scene) -> None:
    """Keep the roof as it is under the first name, unless it has variants already."""
    if len(roof_of(roof).variants):
        hold(roof, scene)
    else:
        keep(roof, EXISTING, brief_io.read(roof_of(roof), brief_io.scale_of(scene)))


def apply(
    roof: bpy.types.Object, scene: bpy.types.Scene, name: str, brief: Brief
) -> Outcome:
    """Make the roof what a brief says, kept under a name beside what it was.

    Raises:
        SolverError: the brief is refused; the roof stays as it was.
    """
    begin(roof, scene)
    outcome = roofs.change(roof, brief, scene)
    keep(roof, name, brief)
    return outcome


def show(roof: bpy.types.Object, scene: bpy.types.Scene, name: str) -> Outcome:
    """Show a variant; the one that was shown keeps the roof as it was.

    Raises:
        BriefError: there is no such variant.
        SolverError: it is refused; the roof stays as it was.
    """
    brief = brief_of(roof, name)
    hold(roof, scene)
    outcome = roofs.change(roof, brief, scene)
    with DIRTY.paused():
        roof_of(roof).shown_variant = name
    return outcome


def brief_of(roof: bpy.types.Object, name: str) -> Brief:
    """Return the brief of a variant.

    Raises:
        SolverError: there is no such variant, or its text is no brief any more.
    """
    for one in roof_of(roof).variants:
        if one.name == name:
            return parse_brief(one.brief)
    raise SolverError(f"{roof.name} has no variant {name!r}.")


def others(roof: bpy.types.Object) -> list[str]:
    """Return the names of the variants that are kept and not shown."""
    stated = roof_of(roof)
    return [v.name for v in stated.variants if v.name != stated.shown_variant]


def remove(roof: bpy.types.Object, name: str) -> None:
    """Forget a variant; the roof stays as it is."""
    stated = roof_of(roof)
    index = next((n for n, v in enumerate(stated.variants) if v.name == name), None)
    if index is not None:
        stated.variants.remove(index)
        if stated.shown_variant == name:
            stated.shown_variant = ""


def differences(before: Outcome, after: Outcome) -> tuple[str, ...]:
    """Return what sets two variants apart, in sentences.

    Verdicts that changed, and walls that hold over a hundredth more or less.
    """
    old, new = before.solution.members, after.solution.members
    moved: Counter[tuple[str, str]] = Counter(
        (str(old[key].verdict), str(new[key].verdict))
        for key in old
        if key in new and old[key].verdict is not new[key].verdict
    )
    out = [f"{n}: {a} to {b}" for (a, b), n in moved.most_common()]
    was, now = reactions(before.solution), reactions(after.solution)
    for owner in now:
        if owner not in was or owner.startswith("H-"):
            continue
        a, b = float(was[owner][0].max()), float(now[owner][0].max())
        if a > 0 and abs(b / a - 1) >= 0.01:
            out.append(f"{owner_word(owner)} holds {b / a - 1:+.0%}")
    gone = sum(key not in new for key in old)
    come = sum(key not in old for key in new)
    if gone or come:
        out.append(f"{come} members more, {gone} fewer")
    return tuple(out) or ("Every member has the same verdict in both",)
