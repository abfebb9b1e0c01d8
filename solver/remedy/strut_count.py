"""More struts, so that each foot brings less; or fewer where fewer pass."""

from __future__ import annotations

from dataclasses import replace

from ..brief.model import Brief
from ..solve import Solution
from ..units import FOOT, show_length
from .model import Ladder, RemedyKind, Rung
from .rows import FootRow, foot_rows
from .walls import STOPS

_SPACINGS = (8.0, 6.0, 5.0, 4.0, 3.0, 2.0)  # ft, widest first


def propose(before: Solution) -> list[Ladder]:
    """Return the struts on joists at closer and wider spacing."""
    rows = foot_rows(before)
    groups = before.brief.struts
    grouped = [row for row in rows if row.part < len(groups)]
    if not grouped or not all(row.on_joists for row in rows):
        return []
    now = {round(groups[row.part].spacing, 4) for row in grouped}
    rungs = tuple(
        Rung(
            size=f"one every {show_length(feet * FOOT, before.brief.units)}",
            brief=_spaced(before.brief, grouped, feet * FOOT),
        )
        for feet in _SPACINGS
        if round(feet * FOOT, 4) not in now
    )
    return [
        Ladder(
            kind=RemedyKind.STRUTS,
            key="strut-spacing",
            title="More or fewer struts on the joists",
            build="Set struts of the same size along the purlins, {size}.",
            rungs=rungs,
            likely=len(rungs) - 1,
            leaves=(
                STOPS,
                "The whole load still comes down on the ceiling joists, each of them "
                "with a share.",
            ),
        )
    ]


def _spaced(brief: Brief, rows: list[FootRow], spacing: float) -> Brief:
    """Return the brief with the rows at another spacing."""
    parts = {row.part for row in rows}
    struts = tuple(
        replace(s, spacing=spacing, start=None) if n in parts else s
        for n, s in enumerate(brief.struts)
    )
    return replace(brief, struts=struts)
