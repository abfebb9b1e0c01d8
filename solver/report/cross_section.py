"""A section across the roof at its worst strut, to scale, with sizes and forces.

Draws the solids of the framing; reads every force from the solved frame.
"""

from __future__ import annotations

import math

from ..basis.sections import section
from ..framing.model import Member, Role
from ..framing.plan import line_of, wall_stands_at
from ..framing.solids import member_solid
from ..solve import Solution
from ..units import FOOT, INCH, show_pitch
from ..verdict.model import Verdict
from .cut import Cut, cut_members, worst_cut
from .markup import Raw, tag
from .section_forces import draw_forces
from .show import Show
from .sketch import INK, OVER, SOFT, WOOD, Sketch, hull

_BELOW = 3.4 * FOOT  # of wall that is drawn


def cross_section(solution: Solution) -> Raw:
    """Return the section across the roof with dimensions and forces."""
    cut, show = worst_cut(solution), Show(solution.brief.units)
    brief = solution.brief
    width, over = brief.footprint.width, brief.roof.overhang
    rise = width / 2 * brief.roof.pitch
    sketch = Sketch(
        (-over, -_BELOW), (width + over, rise + 0.3),
        margin=(84.0, 44.0, 84.0, 34.0),
    )  # fmt: skip
    _walls(sketch, solution, cut, show)
    pieces = cut_members(solution, cut)
    for member in pieces:
        solid = member_solid(brief, solution.framing, member.key)
        draw_piece(sketch, solution, member, solid.vertices[:, 1:].tolist())
    _dimensions(sketch, solution, show, rise)
    forces = draw_forces(sketch, solution, cut, show)
    words = (
        f"Section across at {show.length(cut.x)} from the west end, through "
        f"{cut.about}; to scale, south on the left. {forces}"
    )
    return tag(
        "figure",
        Raw(sketch.svg(f"Section through {cut.about}").text
            + tag("figcaption", words).text),
    )  # fmt: skip


def draw_piece(
    sketch: Sketch, solution: Solution, member: Member, corners: list[list[float]]
) -> None:
    """Add the outline of a drawn piece; what fails is hatched and marked.

    Args:
        sketch: the drawing.
        solution: the solved roof.
        member: the piece.
        corners: of what is seen of it, m on the drawing.
    """
    failing = solution.members[member.key].verdict
    over = failing in (Verdict.OVER_LIMIT, Verdict.KEEPS_RULE_FAILS)
    lost = failing is Verdict.NO_LOAD_PATH
    sketch.polygon(
        hull(corners),
        fill="url(#hatch-over)" if over else ("#ffffff" if lost else WOOD),
        ink=OVER if over else INK,
        width=1.3 if over or lost else 0.8,
        dash="5 3" if lost else "",
    )


def _walls(sketch: Sketch, solution: Solution, cut: Cut, show: Show) -> None:
    """Add walls that the section meets, from the ceiling line down."""
    brief, half = solution.brief, 2.25 * INCH
    deep = 2 * section("2x4").breadth  # the two plates above the studs
    places = [(0.0, "", True), (brief.footprint.width, "", True)]
    for wall in brief.walls:
        line = line_of(wall)
        meeting = line.crossed(1, cut.x)
        if meeting is not None and line.covers(meeting[1]):
            at, u = meeting
            stands = wall.bearing and wall_stands_at(wall, u)
            note = "" if stands else (" (gap)" if wall.bearing else " (partition)")
            places.append((at, f"wall {wall.name}{note}", stands))
    for y, words, stands in places:
        top = -deep if not words else 0.0
        low = -_BELOW
        sketch.box(
            (y - half, low), (y + half, top),
            fill="#dfe1de" if stands else "none",
            width=0.8, dash="" if stands else "3 3", ink=INK if stands else SOFT,
        )  # fmt: skip
        x, base = sketch.at((y, low))
        sketch.add(
            f'<path d="M{x - 16:.1f} {base + 3:.1f}l10 -6 6 9 6 -9 10 6" fill="none" '
            f'stroke="{SOFT}" stroke-width="0.8"/>'
        )
        if words:
            sketch.text((y, -_BELOW * 0.62), words, 10, "start", (half * 40 + 4, 4))
    foot = [
        y for y, words, stands in places[2:] if stands and words
    ]  # the nearest bearing wall to the strut
    key = cut.about
    if solution.members[key].role == "strut" and foot:
        at = float(solution.framing.ends(key)[0][1])
        near = min(foot, key=lambda y: abs(y - at))
        if abs(near - at) > INCH:
            level = -_BELOW * 0.78
            a, b = sorted((at, near))
            sketch.dimension((a, level), (b, level), show.length(b - a), 0.01)
            sketch.line([(at, 0.0), (at, level)], 0.6, SOFT, "2 2")


def _dimensions(sketch: Sketch, solution: Solution, show: Show, rise: float) -> None:
    """Add width, rise, and the place of each purlin."""
    brief = solution.brief
    width = brief.footprint.width
    low = (0.0, -_BELOW)
    sketch.dimension(low, (width, -_BELOW), show.length(width), -22)
    sketch.dimension((-brief.roof.overhang, 0.0), (-brief.roof.overhang, rise),
                     show.length(rise), 26)  # fmt: skip
    for purlin in solution.framing.of_role(Role.PURLIN):
        if purlin.slope in ("W", "E"):
            continue
        _, y, z = solution.framing.ends(purlin.key)[0]
        base = 0.0 if purlin.slope == "S" else width
        a, b = sorted((float(y), base))
        level = rise + 0.3
        sketch.dimension((a, level), (b, level), show.length(b - a), 12)
        sketch.line([(y, z), (y, level)], 0.5, SOFT, "2 3")
    pitch = show_pitch(brief.roof.pitch, brief.units)
    turn = -math.degrees(math.atan(brief.roof.pitch))
    sketch.text((width * 0.31, rise * 0.62), pitch, 10.5, shift=(-14, -20), turn=turn)
