"""The forces of a section: pushes of struts by frame and by hand, pull of the tie."""

from __future__ import annotations

import math

import numpy as np

from ..framing.model import Role
from ..solve import Solution
from ..trace.beside import frame_push
from ..trace.wording import combination_words
from ..units import INCH
from .cut import NEAR, Cut, cut_members, runs_along
from .markup import tag
from .show import Show, use
from .sketch import INK, OVER, Sketch


def draw_forces(sketch: Sketch, solution: Solution, cut: Cut, show: Show) -> str:
    """Add the push of each strut in the section and the pull of the tie.

    Args:
        sketch: the drawing.
        solution: the solved roof.
        cut: where it is taken, and in which combination.
        show: units.

    Returns:
        A sentence that says what the forces are.
    """
    if solution.frame is None or solution.model is None or not cut.combination:
        return "Nothing here is analysed, so no force is drawn."
    row = solution.combinations.row(cut.combination)
    for strut in solution.framing.of_role(Role.STRUT):
        foot, top = solution.framing.ends(strut.key)
        if abs(top[0] - cut.x) > NEAR:
            continue
        toward = (float(foot[1] - top[1]), float(foot[2] - top[2]))
        head = f"{strut.key}"
        if strut.key not in solution.model.members:
            sketch.text(foot[1:].tolist(), f"{head}: no load path", 10.5, shift=(0, 26),
                        bold=True)  # fmt: skip
            continue
        _strut_force(sketch, solution, strut.key, row, toward, show)
    _tie(sketch, solution, cut, row, show)
    words = combination_words(solution.combinations, cut.combination)
    return f"Forces by the frame analysis in {words}, by hand beside them in italics."


def _strut_force(
    sketch: Sketch, solution: Solution, key: str, row: int,
    toward: tuple[float, float], show: Show,
) -> None:  # fmt: skip
    """Add the push of one strut beside it: by the frame, and by hand below."""
    foot, top = (p[1:] for p in solution.framing.ends(key))
    push = float(frame_push(solution, key)[row])
    ink = OVER if solution.members[key].analysis_passes is False else INK
    middle = np.asarray(foot) * 0.45 + np.asarray(top) * 0.55
    size = math.hypot(*toward)
    inward = 1.0 if solution.framing.members[key].slope == "S" else -1.0
    normal = np.array([-toward[1], toward[0]]) / size
    normal = normal * (np.sign(normal[0] * inward) or 1.0)
    beside = middle + 0.2 * normal
    tip = beside + 0.28 * np.asarray(toward) / size
    if push > 0:
        sketch.arrow(tip.tolist(), toward, 30, ink)
    lines = [(f"{key}  {show.force(push)}" if push > 0 else f"{key}  slack", True)]
    names, name = solution.hand.combinations, solution.combinations.names[row]
    hand = solution.hand.struts.get(key)
    if hand is not None:
        if name in names:
            by_hand = float(hand.axial[names.index(name)])
            lines.append((f"by hand {show.force(by_hand)}", False))
        angle = math.degrees(hand.angle)
        lines.append((f"{show.length(hand.length)}, {angle:.0f}° from level", False))
    lift = 16.0 * len(lines) * abs(float(normal[1]))  # clear of a flat strut
    for n, (words, first) in enumerate(lines):
        sketch.text(
            beside.tolist(), words, 10.5, "start" if inward > 0 else "end",
            (9 * inward, 13.0 * n - 6 - lift), ink=ink if first else INK, bold=first,
            slant="by hand" in words,
        )  # fmt: skip
    on = solution.members[key].stands_on
    under = solution.members.get(on.name) if on is not None else None
    if under is not None and under.utilisation is not None:
        over = under.utilisation > 1
        sketch.text(
            foot.tolist(), f"{under.key}: {use(under.utilisation)} of its limit", 10.5,
            shift=(0, 30), bold=True, ink=OVER if over else INK,
        )  # fmt: skip


def _tie(
    sketch: Sketch, solution: Solution, cut: Cut, row: int, show: Show
) -> None:  # fmt: skip
    """Add the pull in the tie of the section: the thrust that it holds."""
    assert solution.model is not None
    assert solution.checked is not None
    ties = [
        m
        for m in cut_members(solution, cut)
        if m.role in (Role.CEILING_JOIST, Role.RAFTER_TIE)
        and m.key in solution.model.members
        and not (m.role is Role.CEILING_JOIST and runs_along(solution))
    ]
    for member in ties:
        element = solution.model.rows_of(member.key).start
        pull = float(solution.checked.stations.N[row, element, 0])
        foot, end = (p[1:] for p in solution.framing.ends(member.key))
        if pull <= 0:
            continue
        outer = foot if foot[0] < end[0] else end
        side = -1.0
        if abs(outer[0]) > INCH:
            outer, side = (end if foot[0] < end[0] else foot), 1.0
        tip = (float(outer[0]) + side * 0.62, float(outer[1]) - 0.16)
        x, y = sketch.arrow(tip, (side, 0.0), 26)
        anchor = "end" if side < 0 else "start"
        sketch.add(
            tag(
                "text", f"thrust {show.force(pull)}", x=f"{x - side * -30:.1f}",
                y=f"{y + 16:.1f}", fill=INK,
                **{"font-size": "10.5", "text-anchor": anchor},
            ).text
        )  # fmt: skip
