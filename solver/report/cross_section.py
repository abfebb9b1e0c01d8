"""A section across the roof at its worst strut, to scale, with sizes and forces.

Draws the solids of the framing; reads every force from the solved frame.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ..basis.sections import section
from ..framing.model import Member, Role
from ..framing.plan import line_of, wall_stands_at
from ..framing.solids import member_solid
from ..solve import Solution
from ..trace.beside import frame_push
from ..trace.wording import combination_words
from ..units import FOOT, INCH, show_pitch
from ..verdict.model import Verdict
from .markup import Raw, tag
from .show import Show, use
from .sketch import INK, OVER, SOFT, WOOD, Sketch, hull

_BELOW = 3.4 * FOOT  # of wall that is drawn
_NEAR = 4 * INCH
_ACROSS = (Role.RAFTER, Role.CEILING_JOIST, Role.COLLAR_TIE, Role.RAFTER_TIE)
_ALONG = (Role.PURLIN, Role.RIDGE_BOARD, Role.RIDGE_BEAM, Role.BEAM, Role.PLATE)


@dataclass(frozen=True)
class Cut:
    """Where the section is taken.

    Attributes:
        x: m along the ridge.
        combination: whose forces are drawn, "" where nothing is analysed.
        about: key of the strut or member that chose the place.
    """

    x: float
    combination: str
    about: str


def worst_cut(solution: Solution) -> Cut:
    """Return the section through the strut whose carrier is used most.

    A strut without load path comes before all others; without struts it is the worst
    rafter or joist.
    """
    found: list[tuple[bool, float, str]] = []
    for key, m in solution.members.items():
        if m.role == "strut":
            on = m.stands_on.name if m.stands_on is not None else ""
            carrier = solution.members.get(on)
            uses = [m.utilisation or 0.0]
            uses += [carrier.utilisation or 0.0] if carrier is not None else []
            found.append((m.verdict is Verdict.NO_LOAD_PATH, max(uses), key))
    if not found:
        found = [
            (m.verdict is Verdict.NO_LOAD_PATH, m.utilisation or 0.0, key)
            for key, m in solution.members.items()
            if m.role in ("rafter", "ceiling_joist")
        ]
    _, _, about = max(found, key=lambda one: (one[0], one[1]))
    start, end = solution.framing.ends(about)
    place = end if solution.members[about].role == "strut" else (start + end) / 2
    on = solution.members[about].stands_on
    under = solution.members.get(on.name) if on is not None else None
    names = [
        m.combination
        for m in (under, solution.members[about])
        if m is not None and m.combination
    ]
    combination = names[0] if names else ""
    if not combination and solution.frame is not None:
        combination = solution.main_combination
    return Cut(float(place[0]), combination, about)


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
    for member in _cut_members(solution, cut):
        _piece(sketch, solution, member)
    _dimensions(sketch, solution, show, rise)
    forces = _forces(sketch, solution, cut, show)
    words = (
        f"Section across at {show.length(cut.x)} from the west end, through "
        f"{cut.about}; to scale, south on the left. {forces}"
    )
    return tag(
        "figure",
        Raw(sketch.svg(f"Section through {cut.about}").text
            + tag("figcaption", words).text),
    )  # fmt: skip


def _cut_members(solution: Solution, cut: Cut) -> list[Member]:
    """Return the members that the section shows, the far ones first."""
    framing, out = solution.framing, []
    for role in (*_ALONG, *_ACROSS, Role.STRUT, Role.POST):
        members = framing.of_role(role)
        if role in _ACROSS or role in (Role.STRUT, Role.POST):
            away = {m.key: abs(framing.ends(m.key)[-1][0] - cut.x) for m in members}
            least = min(away.values(), default=math.inf)
            limit = _NEAR if role in (Role.STRUT, Role.POST) else least + INCH
            if role in (Role.COLLAR_TIE, Role.RAFTER_TIE) and least > 4 * FOOT:
                continue
            if role is Role.CEILING_JOIST and _runs_along(solution):
                out += [m for m in members if _covers(solution, m, cut.x)]
                continue
            out += [m for m in members if away[m.key] <= limit]
        else:
            out += [m for m in members if _covers(solution, m, cut.x)]
    return out


def _runs_along(solution: Solution) -> bool:
    """Return whether the ceiling joists run along the ridge."""
    joists = solution.brief.ceiling_joists
    return joists is not None and joists.direction.value == "along"


def _covers(solution: Solution, member: Member, x: float) -> bool:
    """Return whether a member passes through the section."""
    a, b = (float(p[0]) for p in solution.framing.ends(member.key))
    return min(a, b) - _NEAR <= x <= max(a, b) + _NEAR


def _piece(sketch: Sketch, solution: Solution, member: Member) -> None:
    """Add the outline of a drawn piece; what fails is hatched and marked."""
    solid = member_solid(solution.brief, solution.framing, member.key)
    corners = solid.vertices[:, 1:]
    failing = solution.members[member.key].verdict
    over = failing in (Verdict.OVER_LIMIT, Verdict.KEEPS_RULE_FAILS)
    lost = failing is Verdict.NO_LOAD_PATH
    sketch.polygon(
        hull(corners.tolist()),
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
        if line.along == 0 and line.covers(cut.x):
            stands = wall.bearing and wall_stands_at(wall, cut.x)
            note = "" if stands else (" (gap)" if wall.bearing else " (partition)")
            places.append((line.at, f"wall {wall.name}{note}", stands))
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
        _, y, z = solution.framing.ends(purlin.key)[0]
        base = 0.0 if purlin.slope == "S" else width
        a, b = sorted((float(y), base))
        level = rise + 0.3
        sketch.dimension((a, level), (b, level), show.length(b - a), 12)
        sketch.line([(y, z), (y, level)], 0.5, SOFT, "2 3")
    pitch = show_pitch(brief.roof.pitch)
    turn = -math.degrees(math.atan(brief.roof.pitch))
    sketch.text((width * 0.31, rise * 0.62), pitch, 10.5, shift=(-14, -20), turn=turn)


def _forces(sketch: Sketch, solution: Solution, cut: Cut, show: Show) -> str:
    """Add the force of each strut in the section and the pull of the tie."""
    if solution.frame is None or solution.model is None or not cut.combination:
        return "Nothing here is analysed, so no force is drawn."
    row = solution.combinations.row(cut.combination)
    for strut in solution.framing.of_role(Role.STRUT):
        foot, top = solution.framing.ends(strut.key)
        if abs(top[0] - cut.x) > _NEAR:
            continue
        toward = (float(foot[1] - top[1]), float(foot[2] - top[2]))
        head = f"{strut.key}"
        if strut.key not in solution.model.members:
            sketch.text(foot[1:], f"{head}: no load path", 10.5, shift=(0, 26),
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
        for m in _cut_members(solution, cut)
        if m.role in (Role.CEILING_JOIST, Role.RAFTER_TIE)
        and m.key in solution.model.members
        and not (m.role is Role.CEILING_JOIST and _runs_along(solution))
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
