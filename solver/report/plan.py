"""Two plans to scale: the ceiling with what stands on it, and the roof over it.

Reads framing and verdicts; a member over its limit is told by a mark and a thick
line, never by colour alone.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..basis.irc.purlins import BRACE_LENGTH
from ..framing.model import Member, Role
from ..framing.plan import gaps_of, line_of
from ..solve import Solution
from ..trace.beside import frame_push
from ..trace.wording import sentence
from ..units import INCH
from ..verdict.model import Verdict
from .markup import Raw, tag
from .show import Show, use
from .sketch import INK, LEGAL, OVER, SOFT, Sketch

Floats = NDArray[np.float64]
_WALL = 4.5 * INCH
_ROOM = 46.0  # px that a force needs beside its neighbour
_ROOM_FOR_KEY, _ROOM_ABOVE = 74.0, 14.0  # px that a member's name needs
_MARK_AT = {"rafter": 0.3, "ceiling_joist": 0.24}  # part of the length
_SHAPE = {
    Verdict.NO_LOAD_PATH: "none",
    Verdict.OVER_LIMIT: "over",
    Verdict.KEEPS_RULE_FAILS: "keeps",
    Verdict.BREAKS_RULE: "breaks",
    Verdict.PASSES: "passes",
    Verdict.NOT_COUNTED: "idle",
}
_BAD = (Verdict.NO_LOAD_PATH, Verdict.OVER_LIMIT, Verdict.KEEPS_RULE_FAILS)


def ceiling_plan(solution: Solution) -> Raw:
    """Return the plan of walls, joists, beams, posts and strut feet."""
    sketch, show = _paper(solution), Show(solution.brief.units)
    _walls(sketch, solution)
    _sticks(sketch, solution, (Role.CEILING_JOIST, Role.BEAM, Role.HEADER))
    for beam in solution.framing.of_role(Role.BEAM, Role.HEADER):
        start, end = solution.framing.ends(beam.key)
        sketch.text((start + end) / 2, beam.key, 9.5, shift=(0, -6), bold=True)
    for post in solution.framing.of_role(Role.POST):
        x, y, _ = solution.framing.ends(post.key)[0]
        half = 0.11
        sketch.box((x - half, y - half), (x + half, y + half), fill=INK)
        sketch.text((x, y), post.key, 9, shift=(0, 17))
    _feet(sketch, solution, show)
    _overall(sketch, solution, show)
    return _figure(
        sketch,
        "Plan at the ceiling",
        "Plan at the ceiling, to scale; north slope above. Thick lines with a mark are "
        "over their limit. Where a strut stands, its largest push by the frame "
        "analysis is written. Bearing walls are filled, partitions dashed.",
    )


def roof_plan(solution: Solution) -> Raw:
    """Return the plan of rafters, ridge, purlins, ties and the legal strips."""
    brief, show = solution.brief, Show(solution.brief.units)
    sketch = _paper(solution)
    width = brief.footprint.width
    _strips(sketch, solution)
    _eaves(sketch, solution)
    _sticks(
        sketch, solution,
        (Role.RAFTER, Role.JACK_RAFTER, Role.HIP_RAFTER, Role.VALLEY_RAFTER,
         Role.COLLAR_TIE, Role.RAFTER_TIE, Role.RIDGE_BOARD, Role.RIDGE_BEAM,
         Role.CURB, Role.LEDGER, Role.PURLIN),
    )  # fmt: skip
    for purlin in solution.framing.of_role(Role.PURLIN):
        if solution.framing.plan is not None:
            _purlin_place(sketch, solution, purlin, show)
            continue
        if purlin.slope in ("W", "E"):
            x, y, _ = (float(v) for v in solution.framing.ends(purlin.key)[1])
            wall = 0.0 if purlin.slope == "W" else solution.brief.footprint.length
            away, side = show.length(abs(x - wall)), 18 if purlin.slope == "W" else -18
            sketch.dimension((wall, y), (x, y), away, side)
            continue
        _, y, _ = solution.framing.ends(purlin.key)[0]
        base = 0.0 if purlin.slope == "S" else width
        away = show.length(abs(float(y) - base))
        x = float(solution.framing.ends(purlin.key)[1][0])
        sketch.dimension((x, base), (x, y), away, -18 if purlin.slope == "S" else 18)
    _overall(sketch, solution, show)
    words = f"{zone_words(solution)} Purlins are long dashes, ties dotted lines "
    words += "between the rafters."
    if solution.framing.plan is not None:
        words = "Ridges are dashes and dots, purlins long dashes."
    return _figure(sketch, "Plan of the roof", f"Plan of the roof, to scale. {words}")


def _purlin_place(
    sketch: Sketch, solution: Solution, purlin: Member, show: Show
) -> None:
    """Add how far a purlin line over a drawn outline lies from its plate."""
    plan = solution.framing.plan
    assert plan is not None
    plane, (start, end) = (
        plan.plane(str(purlin.slope)),
        solution.framing.ends(purlin.key),
    )
    middle = ((start + end) / 2)[:2]
    away = float((middle - plane.polygon[0]) @ plane.uphill)
    sketch.dimension(middle - plane.uphill * away, middle, show.length(away), 0.01)


def _eaves(sketch: Sketch, solution: Solution) -> None:
    """Add the lines of plates and eaves."""
    plan = solution.framing.plan
    if plan is not None:
        for edge in plan.edges:
            sketch.line([edge.start, edge.end], 0.8, SOFT, "2 3")
        for plane in plan.form.planes:
            sketch.polygon(plane.overhang3[:, :2], fill="none", ink=SOFT, width=0.6)
        return
    size, over = solution.brief.footprint, solution.brief.roof.overhang
    length, width = size.length, size.width
    for y, eave in ((0.0, -over), (width, width + over)):
        sketch.line([(0, y), (length, y)], 0.8, SOFT, "2 3")
        past = over if solution.framing.form is not None else 0.0
        sketch.line([(-past, eave), (length + past, eave)], 0.8)
    if solution.framing.form is not None:
        for x, eave in ((0.0, -over), (length, length + over)):
            sketch.line([(x, 0), (x, width)], 0.8, SOFT, "2 3")
            sketch.line([(eave, -over), (eave, width + over)], 0.8)


def zone_words(solution: Solution) -> str:
    """Return where a purlin line could have legal braces at all."""
    show = Show(solution.brief.units)
    if any(strip.nearest is not None for strip in solution.zone):
        return (
            "Hatched: where a purlin line could have legal braces at all, from walls "
            "and pitch alone (45 degrees or steeper, at most "
            f"{show.length(BRACE_LENGTH)} long, down to a bearing wall)."
        )
    reasons = dict.fromkeys(s.why_none for s in solution.zone if s.why_none)
    return sentence(
        "Nowhere on this roof could a purlin line have legal braces: "
        + "; ".join(reasons)
    )


def _figure(sketch: Sketch, title: str, words: str) -> Raw:
    """Return a drawing with its caption."""
    return tag(
        "figure", Raw(sketch.svg(title).text + tag("figcaption", words).text)
    )  # fmt: skip


def _paper(solution: Solution) -> Sketch:
    """Return an empty drawing for a plan; both plans have one scale."""
    size, over = solution.brief.footprint, solution.brief.roof.overhang
    past = over if solution.framing.plan is not None else 0.0
    return Sketch(
        (-past, -over), (size.length + past, size.width + over), tallest=600.0
    )


def _overall(sketch: Sketch, solution: Solution, show: Show) -> None:
    """Add the two main dimensions and the compass words."""
    size = solution.brief.footprint
    length, width = size.length, size.width
    low = (0.0, -(sketch.height - sketch.at((0, 0))[1] - 16) / sketch.scale)
    off = -((low[1]) * -1 * sketch.scale)
    sketch.dimension((0, 0), (length, 0), show.length(length), off)
    sketch.dimension((0, 0), (0, width), show.length(width), 26)


def _walls(sketch: Sketch, solution: Solution) -> None:
    """Add outer and interior walls with their gaps."""
    size, half = solution.brief.footprint, _WALL / 2
    length, width = size.length, size.width
    plan = solution.framing.plan
    for edge in () if plan is None else plan.edges:
        sketch.polygon(_strip_of(edge.start, edge.end, half), "#cfd2cf", INK, 0.8)
    for start, end in () if plan is None else plan.mouths.values():
        strip = _strip_of(np.array(start), np.array(end), half)
        sketch.polygon(strip, "none", SOFT, 0.8, "5 3")
    for y in (0.0, width) if plan is None else ():
        sketch.box((-half, y - half), (length + half, y + half), fill="#cfd2cf")
    for x in (0.0, length) if plan is None else ():
        sketch.box((x - half, -half), (x + half, width + half), fill="#cfd2cf")
    for wall in solution.brief.walls:
        line, gaps = line_of(wall), gaps_of(wall)
        edges = [line.low, *(v for gap in gaps for v in gap), line.high]
        way = np.array(line.way) * half
        for a, b in zip(edges[::2], edges[1::2], strict=True):
            start, end = (np.array(line.point(u)[:2]) for u in (a, b))
            if b - a < 1e-6:
                continue
            strip = _strip_of(start + way, end - way, half)
            if wall.bearing:
                sketch.polygon(strip, "#9aa19f", INK, 0.8)
            else:
                sketch.polygon(strip, "none", SOFT, 0.8, "3 2")
        place = line.point((edges[0] + edges[1]) / 2)[:2]
        turn = -math.degrees(math.atan2(line.way[1], line.way[0]))
        beside = (0.0, 3.4) if line.along == 0 else (-9.0, 0.0)
        sketch.text(place, f"wall {wall.name}", 9.5, shift=beside, turn=turn)


def _strip_of(start: Floats, end: Floats, half: float) -> list[tuple[float, float]]:
    """Return the corners of a wall along a line, half its thickness to either side."""
    way = (end - start) / float(np.hypot(*(end - start)))
    aside = np.array([-way[1], way[0]]) * half
    ends = (start - way * half, end + way * half)
    corners = (ends[0] + aside, ends[1] + aside, ends[1] - aside, ends[0] - aside)
    return [(float(x), float(y)) for x, y in corners]


def _sticks(sketch: Sketch, solution: Solution, roles: tuple[Role, ...]) -> None:
    """Add members as lines, thick with a mark where they fail."""
    dashes = {
        Role.PURLIN: "13 4",
        Role.COLLAR_TIE: "1 3",
        Role.RAFTER_TIE: "1 3",
        Role.RIDGE_BOARD: "9 3 2 3",
        Role.CURB: "9 3",
    }
    bad: list[tuple[float, str]] = []
    for member in solution.framing.of_role(*roles):
        result = solution.members[member.key]
        start, end = solution.framing.ends(member.key)
        failing = result.verdict in _BAD
        heavy = 2.6 if failing else 0.8
        if member.role in (Role.BEAM, Role.HEADER, Role.PURLIN, Role.RIDGE_BEAM):
            heavy += 1.2
        ink = OVER if failing else (INK if heavy > 1.5 else SOFT)
        dash = dashes.get(member.role, "")
        if result.verdict is Verdict.NO_LOAD_PATH:
            ink, dash = INK, "5 3"
        sketch.line([start, end], heavy, ink, dash)
        if failing:
            bad.append((result.utilisation or 99.0, member.key))
    taken: list[tuple[float, float]] = []
    for _, key in sorted(bad, key=lambda pair: (-pair[0], pair[1])):
        _label(sketch, solution, key, taken)


def _label(
    sketch: Sketch, solution: Solution, key: str, taken: list[tuple[float, float]]
) -> None:
    """Add the mark of a failing member, and its name and use where there is room."""
    result = solution.members[key]
    start, end = solution.framing.ends(key)
    place = start + _MARK_AT.get(result.role, 0.5) * (end - start)
    sketch.mark(place, _SHAPE[result.verdict], 10)
    x, y = sketch.at(place)
    if any(abs(x - a) < _ROOM_FOR_KEY and abs(y - b) < _ROOM_ABOVE for a, b in taken):
        return
    taken.append((x, y))
    words = "no path" if result.utilisation is None else use(result.utilisation)
    room = sketch.width - x > _ROOM_FOR_KEY + 50
    anchor, side = ("start", 5.0) if room else ("end", -5.0)
    sketch.text(place, f"{key} {words}", 9, anchor, (side, -7.0), ink=OVER, bold=True)


def _feet(sketch: Sketch, solution: Solution, show: Show) -> None:
    """Add the feet of struts with the push in each, where there is room."""
    counted = solution.model.members if solution.model is not None else ()
    by_purlin: dict[str, list[str]] = {}
    for strut in solution.framing.of_role(Role.STRUT):
        by_purlin.setdefault(str(strut.group), []).append(strut.key)
    for keys in by_purlin.values():
        places = [solution.framing.ends(key) for key in keys]
        gaps = [abs(b[0][0] - a[0][0]) * sketch.scale for a, b in pairwise(places)]
        crowded = bool(gaps) and min(gaps) < _ROOM
        pushes = {k: float(frame_push(solution, k).max()) for k in keys if k in counted}
        most = max(pushes.values(), default=0.0)
        for key, (foot, top) in zip(keys, places, strict=True):
            sketch.line([foot, top], 1.0, INK, "2 2")
            sketch.mark(foot, _SHAPE[solution.members[key].verdict])
            if key not in pushes or (crowded and pushes[key] < most - 1e-6):
                continue
            below = top[1] >= foot[1]
            sketch.text(
                foot, show.force(pushes[key]), 9.5, shift=(0, 17 if below else -10)
            )


def _strips(sketch: Sketch, solution: Solution) -> None:
    """Add the strips where a purlin could be braced by the rule."""
    width = solution.brief.footprint.width
    for strip in solution.zone:
        if strip.nearest is None or strip.farthest is None:
            continue
        low, high = strip.nearest, strip.farthest
        if strip.slope == "N":
            low, high = width - high, width - low
        sketch.box(
            (strip.start, low), (strip.end, high),
            fill="url(#hatch-legal)", ink=LEGAL, width=0.6,
        )  # fmt: skip
