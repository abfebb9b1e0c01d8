"""Purlin lines under rafters that span too far, braced to bearing walls."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..basis.irc.purlins import BRACE_LENGTH, BRACE_SPACING
from ..brief.model import (
    Brief,
    Foot,
    FootOn,
    Orientation,
    Purlin,
    RoofForm,
    Slope,
    Struts,
)
from ..brief.outline import is_outline
from ..framing.model import Role
from ..solve import Solution
from ..units import INCH, show_length
from .model import Ladder, RemedyKind, Rung
from .rows import fresh
from .stock import JOISTS, about, known, larger
from .trouble import find_trouble

_CLEAR = 1 * INCH  # on plan, inside the place where braces just keep their 45 degrees
_LOWEST, _HIGHEST = 0.4, 0.8  # of the rise: a line nearer an end halves no span


def propose(before: Solution) -> list[Ladder]:
    """Return purlin lines for rafters that fail where no line is yet."""
    brief, trouble = before.brief, find_trouble(before)
    walls = any(wall.bearing for wall in brief.walls)
    if brief.purlins or not walls or not trouble.rafters:
        return []
    slopes = _slopes(brief)
    if not slopes:
        return []
    rungs = tuple(_rungs(before, slopes))
    return [
        Ladder(
            kind=RemedyKind.PURLINS,
            key="purlins",
            title="Purlins braced to the bearing walls",
            build=(
                "Run purlins {size} under the rafters of every slope, spliced over "
                "braces only, with a brace at every "
                f"{show_length(BRACE_SPACING, brief.units)} down to the nearest "
                "bearing wall, no flatter than 45 degrees; hold braces longer than "
                f"{about(BRACE_LENGTH, brief.units)} at mid-length."
            ),
            rungs=rungs,
            leaves=(
                "It does not straighten rafters that have bent.",
                "Braces load the walls that they stand on; the wall, the floor and the "
                "footing under it were not checked.",
                "Braces divide the attic.",
            ),
            rises=False,
        )
    ]


def _slopes(brief: Brief) -> tuple[Slope, ...]:
    """Return the slopes that lines run under."""
    if is_outline(brief):
        return (Slope.ALL,)
    if brief.roof.form is RoofForm.HIP:
        return (Slope.SOUTH, Slope.NORTH, Slope.WEST, Slope.EAST)
    if brief.roof.form is RoofForm.GABLE:
        return (Slope.SOUTH, Slope.NORTH)
    return ()


def _rungs(before: Solution, slopes: tuple[Slope, ...]) -> Iterator[Rung]:
    """Yield lines at each height in sizes from that of the rafters up."""
    brief, units = before.brief, before.brief.units
    stock = brief.rafters
    sizes = [stock.size, *larger(JOISTS, stock.size)][:3]
    for height in _heights(before):
        for size in sizes:
            if known(size, 1, stock.species, stock.grade):
                words = f"of {size}, {show_length(height, units)} above the plates"
                yield Rung(size=words, brief=_lined(brief, slopes, height, size))


def _heights(before: Solution) -> list[float]:
    """Return heights to try above the plates, m.

    The middle of the rafters, and the lowest place from which a brace to a wall under
    the ridge keeps 45 degrees: with a pitch p, 1 / (1 + p) of the way up.
    """
    framing = before.framing
    ridges = [
        float(framing.points[node][2])
        for member in framing.of_role(Role.RIDGE_BOARD, Role.RIDGE_BEAM)
        for node in member.nodes
    ]
    if not ridges:
        return []
    rise, pitch = min(ridges), before.brief.roof.pitch
    braced = 1 / (1 + pitch) * rise + _CLEAR * pitch
    low, high = _LOWEST * rise, _HIGHEST * rise
    return sorted({min(max(h, low), high) for h in (rise / 2, braced)})


def _lined(brief: Brief, slopes: tuple[Slope, ...], height: float, size: str) -> Brief:
    """Return the brief with a purlin line under each slope and its braces."""
    purlins: list[Purlin] = []
    for slope in slopes:
        name = fresh(
            "new" if slope is Slope.ALL else f"new {slope.value[0].upper()}",
            (p.name for p in purlins),
        )
        purlins.append(
            Purlin(
                name=name,
                slope=slope,
                height=height,
                size=size,
                species=brief.rafters.species,
                grade=brief.rafters.grade,
                orientation=Orientation.PLUMB,
            )
        )
    struts = tuple(
        Struts(purlin=p.name, spacing=BRACE_SPACING, foot=Foot(on=FootOn.NEAREST_WALL))
        for p in purlins
    )
    return replace(brief, purlins=tuple(purlins), struts=(*brief.struts, *struts))
