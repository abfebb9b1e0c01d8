"""The hand method beside the frame analysis, as tables."""

from __future__ import annotations

import numpy as np

from ..solve import Solution
from .markup import Content, Raw, section, table
from .show import Show, use

_SLOPES = {"S": "south", "N": "north", "W": "west end", "E": "east end"}
# Others are planes of an outline


def beside(solution: Solution) -> Raw:
    """Return rafters, purlins and joists under struts, by hand and by the frame."""
    parts = [*_rafters(solution), *_purlins(solution), *_joists(solution)]
    return section(
        "Hand method beside frame analysis",
        *parts,
        key="beside",
        lead="The hand method is what fits on one sheet: rigid purlins, tributary "
        "widths, simple spans. All figures are bending, as parts of its limit.",
    )


def _bending(solution: Solution, keys: list[str]) -> tuple[str, str]:
    """Return the member that bends most among some, and how much, as text."""
    rated = [
        (float((solution.members[k].by_check or {}).get("bending", 0.0)), k)
        for k in keys
        if solution.members[k].by_check is not None
    ]
    if not rated:
        return "–", "–"
    most, key = max(rated)
    return use(most), key


def _rafters(solution: Solution) -> list[Raw]:
    """Return the table of rafters by slope."""
    show, rows = Show(solution.brief.units), list[list[Content]]()
    for hand in solution.hand.rafters:
        keys = [
            k for k, m in solution.framing.members.items()
            if m.slope == hand.slope and m.role.value == "rafter"
        ]  # fmt: skip
        found, key = _bending(solution, keys)
        n = int(np.argmax(hand.utilisation))
        held = len(hand.spans) > 1
        rows.append(
            [
                _SLOPES.get(hand.slope, hand.slope),
                " + ".join(show.length(s) for s in hand.spans.tolist()),
                f"{show.line_load(float(hand.line_load[n]))} "
                f"({solution.hand.combinations[n]})",
                use(float(hand.utilisation.max())),
                use(float(hand.utilisation_alone.max())) if held else "–",
                found, key,
            ]
        )  # fmt: skip
    heads = ("slope", "spans on plan", "load on one rafter", "by hand",
             "by hand, no purlin", "by frame", "worst rafter")  # fmt: skip
    return [table(heads, rows, "Rafters", (3, 4, 5))]


def _purlins(solution: Solution) -> list[Raw]:
    """Return the table of purlins."""
    if not solution.hand.purlins:
        return []
    show = Show(solution.brief.units)
    rows = [
        [
            key, show.length(p.span), show.line_load(float(p.line_load.max())),
            use(float(p.utilisation_simple.max())),
            use(float(p.utilisation_continuous.max())),
            _bending(solution, [key])[0],
        ]
        for key, p in solution.hand.purlins.items()
    ]  # fmt: skip
    heads = ("purlin", "between struts", "load", "by hand, simple span",
             "by hand, run through", "by frame")  # fmt: skip
    return [table(heads, rows, "Purlins", (1, 2, 3, 4, 5))]


def _joists(solution: Solution) -> list[Raw]:
    """Return the table of joists that struts stand on."""
    show, rows = Show(solution.brief.units), list[list[Content]]()
    for key, hand in solution.hand.joists.items():
        if not hand.points:
            continue
        n = int(np.argmax(hand.utilisation))
        m = solution.members[key]
        brought = sum(float(force[n]) for _, force in hand.points)
        rows.append(
            [
                key, show.length(hand.span), show.force(brought),
                show.force(m.strut_load), use(float(hand.utilisation[n])),
                _bending(solution, [key])[0],
                show.small(float(hand.sag_long_term.max())),
                show.small(m.sag_long_term),
            ]
        )  # fmt: skip
    if not rows:
        return []
    heads = ("joist", "span", "struts by hand", "struts by frame", "by hand",
             "by frame", "sag in fifty years, hand", "frame")  # fmt: skip
    return [
        table(heads, rows, "Ceiling joists that struts stand on", range(1, len(heads)))
    ]
