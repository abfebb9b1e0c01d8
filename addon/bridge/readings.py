"""What each overlay mode makes of a solved roof: colours, patterns, labels, a legend.

Pure of Blender; every number is the solver's. Lengths come in the units that are asked
for, all else in the roof's own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ...solver.ageing import Ageing, age_roof
from ...solver.trace.findings import main_findings
from ...solver.trace.told import Told, Weight
from ...solver.units import INCH, System, feet_inches
from ...solver.verdict.model import Verdict
from ..overlay import palette, scales
from ..overlay.scales import Legend
from .drawing import drawn
from .pipeline import Outcome
from .strips import Strips, strips_of

Floats = NDArray[np.float64]
_LIMITS = ("deflection_live", "deflection_total")
_WORTH_SAYING = 0.25  # of the scale's top: smaller sags get no label
TEN_YEARS = "10 years"


@dataclass(frozen=True, eq=False)
class Reading:
    """How the members of a roof look in a mode.

    Attributes:
        colour: (n, 3) sRGB.
        pattern: (n,) see palette.patterns.
        words: (n) label of each member, "" for none.
        weight: (n,) how much each label matters.
        legend: of the mode.
        strips: stretches of roof and ceiling that are shaded, or None.
        marks: (words, (3,) m) labels at places of their own, first the weightiest.
    """

    colour: Floats
    pattern: Floats
    words: tuple[str, ...]
    weight: Floats
    legend: Legend
    strips: Strips | None = None
    marks: tuple[tuple[str, Floats], ...] = ()

    def moved(self, rows: list[int]) -> Reading:
        """Return the reading of other members, -1 for those that are new; no labels."""
        neutral = palette.srgb(palette.NEUTRAL)
        row = np.array(rows)
        return replace(
            self,
            colour=np.where(row[:, None] >= 0, self.colour[row], neutral),
            pattern=np.where(row >= 0, self.pattern[row], 0.0),
            words=("",) * len(rows),
            weight=np.zeros(len(rows)),
            strips=None,
            marks=(),
        )


@dataclass(frozen=True)
class Asked:
    """What the overlay is asked to show.

    Attributes:
        mode: of MODES.
        picked: member key or support owner, or "".
        lengths: units of lengths.
        top: m, end of the scale of sags.
        quantity: of influence: ``GOVERNING`` or a name of solver.influence.Quantity.
    """

    mode: str
    picked: str = ""
    lengths: System = System.IMPERIAL
    top: float = 0.0
    quantity: str = "GOVERNING"


def reading(outcome: Outcome, asked: Asked) -> Reading:
    """Return how a roof's members look in a mode; made once for each question."""
    if asked.mode not in ("INFLUENCE", "PATH"):
        asked = replace(asked, picked="")
    if asked.mode not in ("SAG_NOW", "SAG_TEN"):
        asked = replace(asked, top=0.0)
    make = {
        "SAG_NOW": _sags,
        "SAG_TEN": _sags,
        "INFLUENCE": _influence,
        "FINDINGS": _findings,
    }.get(asked.mode, _uses)
    return outcome.once(("reading", asked), lambda: make(outcome, asked))


def _uses(outcome: Outcome, _asked: Asked) -> Reading:
    """Return the members shaded by use."""
    lines = drawn(outcome)
    return Reading(
        colour=palette.colours(lines.use, lines.state),
        pattern=palette.patterns(lines.use, lines.state),
        words=lines.words,
        weight=np.where(lines.state == 2, 1e3, lines.use),
        legend=scales.use_legend(),
    )


def ageing(outcome: Outcome) -> Ageing | None:
    """Return how a roof sags over the years, None where it has no analysis."""
    return outcome.once("ageing", lambda: age_roof(outcome.solution))


def sags(outcome: Outcome, mode: str) -> dict[str, float]:
    """Return member key to its largest sag, m, now or in ten years.

    Now is day one under all loads; both are the worst span's.
    """
    members = outcome.solution.members
    if mode == "SAG_NOW":
        return {k: m.sag_now for k, m in members.items() if m.sag_now is not None}
    aged = ageing(outcome)
    if aged is None:
        return {}
    row = aged.spans.sag[aged.names.index(TEN_YEARS)]
    out: dict[str, float] = {}
    for key, sag in zip(aged.spans.member, row.tolist(), strict=True):
        out[key] = max(sag, out.get(key, sag))
    return out


def sag_top(outcomes: Iterable[Outcome], lengths: System) -> float:
    """Return the end of the scale of sags that several roofs share, m.

    That of ten years, so that both pictures can be laid side by side.
    """
    largest = max(
        (max(sags(one, "SAG_TEN").values(), default=0.0) for one in outcomes),
        default=0.0,
    )
    return scales.nice_top(largest, lengths is System.IMPERIAL)


def show_sag(sag: float, lengths: System) -> str:
    """Return a sag as text: sixteenths of an inch, or millimetres."""
    if lengths is System.METRIC:
        return f"{sag * 1e3:.0f} mm"
    return "0" if abs(sag) < INCH / 32 else feet_inches(sag)


def _sags(outcome: Outcome, asked: Asked) -> Reading:
    """Return the members shaded by sag, striped where over their sag limit."""
    lines, members = drawn(outcome), outcome.solution.members
    found = sags(outcome, asked.mode)
    sag = np.array([found.get(key, np.nan) for key in lines.keys])
    bends = np.isfinite(sag)
    top = asked.top or sag_top([outcome], asked.lengths)
    part = np.where(bends, np.maximum(np.nan_to_num(sag), 0.0), 0.0) / top
    colour = palette.sag_colours(part)
    colour[~bends] = palette.srgb(palette.NEUTRAL)
    over = np.array(
        [
            max((members[k].by_check or {}).get(c, 0.0) for c in _LIMITS) > 1.0
            for k in lines.keys
        ]
    )
    pattern = np.where(over & bends, palette.STRIPED_LEAST, 0.0)
    lost = lines.state == palette.State.NO_LOAD_PATH
    colour[lost] = palette.srgb(palette.HATCHED)
    pattern[lost] = palette.HATCH
    words = tuple(
        show_sag(s, asked.lengths) if b and (p > _WORTH_SAYING or o) else ""
        for s, b, p, o in zip(sag.tolist(), bends, part, over, strict=True)
    )
    ticks = tuple((at, show_sag(at * top, asked.lengths)) for at in (0.0, 0.5, 1.0))
    if asked.mode == "SAG_NOW":
        legend = scales.sag_legend("Sag now: day one under all loads", ticks, "")
    else:
        aged = ageing(outcome)
        note = aged.label.partition(";")[0] if aged else ""
        legend = scales.sag_legend("Sag in ten years, creep counted", ticks, note)
    return Reading(colour, pattern, words, part + 2.0 * over, legend)


def _influence(outcome: Outcome, asked: Asked) -> Reading:
    """Return what loads the picked number, on roof and ceiling."""
    lines = drawn(outcome)
    count = len(lines.keys)
    colour = np.tile(palette.srgb(palette.NEUTRAL), (count, 1))
    if asked.picked in lines.row:
        colour[lines.row[asked.picked]] = palette.srgb(palette.PICKED)
    strips = strips_of(outcome, asked.picked, asked.quantity, asked.lengths)
    return Reading(
        colour=colour,
        pattern=np.zeros(count),
        words=("",) * count,
        weight=np.zeros(count),
        legend=strips.legend,
        strips=strips if len(strips.quads) else None,
        marks=strips.marks,
    )


def told(outcome: Outcome) -> tuple[Told, ...]:
    """Return the main findings of a roof, worst first, in the order of their marks."""
    return outcome.once("told", lambda: main_findings(outcome.solution))


def _findings(outcome: Outcome, _asked: Asked) -> Reading:
    """Return the members by verdict, with a numbered mark for every finding."""
    lines, members = drawn(outcome), outcome.solution.members
    looks = [palette.FOUND[str(members[key].verdict)] for key in lines.keys]
    marks = []
    for n, one in enumerate(told(outcome), start=1):
        keys = [key for key in one.members if key in lines.row]
        if keys and one.weight is not Weight.PASSES:
            middle = lines.lines[lines.row[keys[len(keys) // 2]]].mean(axis=0)
            marks.append((f"{n}  {one.head}", middle))
    rank = {v: v.rank for v in Verdict}
    return Reading(
        colour=np.array([palette.srgb(code) for code, _ in looks]),
        pattern=np.array([pattern for _, pattern in looks]),
        words=("",) * len(lines.keys),
        weight=np.array([-float(rank[members[k].verdict]) for k in lines.keys]),
        legend=scales.verdict_legend(("Numbers as in the Findings panel",)),
        marks=tuple(marks),
    )
