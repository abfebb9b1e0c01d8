"""Loads, load combinations, thrust with its nails, and sag: the tables of each."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..brief.model import Surface
from ..framing.roof_snow import PlaneSnow
from ..solve import Solution
from ..trace.wording import combination_words, role_word
from ..units import INCH, show_pitch
from ..verdict.model import MemberResult
from .markup import Content, Raw, join, section, table, tag
from .show import Show, use

_WAYS = {"S": "south", "N": "north", "E": "east", "W": "west"}


def loads(solution: Solution) -> Raw:
    """Return the loads as stated and as they act, and the load combinations."""
    show, brief = Show(solution.brief.units), solution.brief
    stated, acting = brief.loads, solution.loads.pressures
    on = "of slope" if stated.roof_dead_on is Surface.SLOPE else "on plan"
    steep = math.hypot(1.0, brief.roof.pitch)
    rows: list[list[Content]] = [
        ["Roof dead", show.pressure(stated.roof_dead), on],
        ["Roof live", show.pressure(acting.roof_live), "on plan, after any reduction"],
        ["Ceiling dead", show.pressure(stated.ceiling_dead), "on plan"],
        ["Attic live", show.pressure(stated.attic_live),
         f"on plan; {stated.attic_live_lasting:.0%} of it stays for years"],
        ["Wind uplift", show.pressure(stated.wind_uplift),
         "square to the roof, strength level, as stated"],
        ["Weight of members", "added" if stated.self_weight else "within dead",
         "from the density of each species"],
    ]  # fmt: skip
    if stated.roof_dead_on is Surface.SLOPE:
        more = f"the same on plan at {show_pitch(brief.roof.pitch, brief.units)}"
        rows.insert(1, ["", show.pressure(stated.roof_dead * steep), more])
    rows += _snow(solution, show)
    combos = solution.combinations
    made: list[list[Content]] = [
        [name, combination_words(combos, name), f"{c:.2f}", clause]
        for name, c, clause in zip(
            combos.names, combos.C_D.tolist(), combos.clauses, strict=True
        )
    ]
    return section(
        "Loads and load combinations",
        table(("load", "value", "on what"), rows, class_="sum"),
        table(
            ("combination", "in words", "load duration factor", "source"),
            made, numeric=(2,),
        ),
        key="loads",
    )  # fmt: skip


def _snow(solution: Solution, show: Show) -> list[list[Content]]:
    """Return the rows of snow."""
    stated, acting = solution.brief.loads.snow, solution.loads.pressures.snow
    acting_planes = solution.loads.pressures.planes
    if stated is None or acting is None:
        return [["Snow", "none", "none is stated"]]
    ground = (
        f"ground {show.pressure(stated.ground)}, Ce {stated.exposure:g}, "
        f"Ct {stated.thermal:g}, Is {stated.importance:g}"
        if stated.ground is not None
        else "as stated for the roof"
    )
    out: list[list[Content]] = [
        ["Snow, balanced", show.pressure(acting.balanced), f"on plan; {ground}"]
    ]
    drift = acting.unbalanced
    if drift is not None:
        drifted: list[list[Content]] = [
            ["Snow, lee slope", show.pressure(drift.leeward), "on plan, one slope"],
            ["Snow, windward slope", show.pressure(drift.windward), "the other slope"],
            ["Drift by the ridge", show.pressure(drift.surcharge),
             f"on top, {show.length(drift.surcharge_width)} from the ridge"],
        ]  # fmt: skip
        out += drifted
    return out + _snow_by_plane(acting_planes, show)


def _snow_by_plane(planes: Sequence[PlaneSnow], show: Show) -> list[list[Content]]:
    """Return the rows of unbalanced snow on the planes of a hip roof."""
    out: list[list[Content]] = []
    for n, plane in enumerate(planes):
        drift = plane.drift
        if drift is None or any(p.way == plane.way and p.drift for p in planes[:n]):
            continue
        way = _WAYS[plane.way]
        more = f"; {show.pressure(drift.windward)} on the slope across from it"
        out.append(
            [f"Snow, lee slope {way}", show.pressure(drift.leeward), f"on plan{more}"]
        )
        if drift.surcharge > 0:
            out.append(
                [
                    f"Drift at the top of it, {way}", show.pressure(drift.surcharge),
                    f"on top, {show.length(drift.surcharge_width)} from the ridge",
                ]
            )  # fmt: skip
    if out:
        note = "unbalanced cases leave them as they are: our reading of the clause"
        out.append(["Slopes along the wind", "balanced", note])
    return out


def thrust(solution: Solution) -> Raw:
    """Return the thrust of the rafters, what holds it, and the nails it needs."""
    hand = solution.hand.thrust
    if hand is None:
        text = "The ridge is a beam that carries, so the rafters do not thrust."
        return section("Thrust and heel nails", tag("p", text), key="thrust")
    show = Show(solution.brief.units)
    frame = _tie_pull(solution)
    rows: list[list[Content]] = []
    for n, name in enumerate(solution.hand.combinations):
        needed = math.ceil(float(hand.tie_force[n] / hand.nail_value[n]) - 1e-9)
        rows.append(
            [
                name, show.line_load(float(hand.thrust[n])),
                show.force(float(hand.tie_force[n])),
                show.force(frame[name]) if name in frame else "–",
                show.force(float(hand.nail_value[n])), str(needed),
            ]
        )  # fmt: skip
    heads = ("combination", "thrust along the wall", "tie by hand", "most pulled tie "
             "by frame", f"one {hand.nail} nail", "nails at each end")  # fmt: skip
    count = solution.brief.heel_joint.count
    placed = "not stated" if count is None else str(count)
    notes = [
        f"Nails at the heel in place: {placed}; needed by hand: {hand.nails_needed}.",
    ]
    if hand.tie_height > INCH:
        notes.append(
            f"The tie lies {show.length(hand.tie_height)} above the plates, which "
            f"makes its pull {hand.raised_tie_factor:.2f} times that at the plate."
        )
    notes.append(
        "By hand: pull = w W² / (8 (h − e)), two rafters leaning on each other "
        f"without a purlin's help. Were there no tie, the plates would have to bend "
        f"sideways over {show.length(hand.plate_span)}: "
        f"{use(float(hand.plate_utilisation.max()))} times their strength."
    )
    return section(
        "Thrust and heel nails",
        table(heads, rows, numeric=(1, 2, 3, 4, 5)),
        join(tag("p", note) for note in notes),
        key="thrust",
        lead="What pushes the walls apart, and what holds them in.",
    )


def _tie_pull(solution: Solution) -> dict[str, float]:
    """Return the largest pull in any tie from plate to plate, by combination."""
    if solution.model is None or solution.checked is None:
        return {}
    joists = solution.brief.ceiling_joists
    roles = ["rafter_tie"]
    if joists is not None and joists.direction.value == "across":
        roles.append("ceiling_joist")
    rows = [
        row
        for key in solution.model.members
        if solution.members[key].role in roles
        for row in range(*solution.model.rows_of(key).indices(10**9))
    ]
    if not rows:
        return {}
    pull = solution.checked.stations.N[:, rows].max(axis=(1, 2))
    return dict(zip(solution.combinations.names, pull.tolist(), strict=True))


def sags(solution: Solution) -> Raw:
    """Return the sag of the worst member of each role, and of joists that differ."""
    show = Show(solution.brief.units)
    worst: dict[str, MemberResult] = {}
    for m in solution.members.values():
        if m.sag_long_term is None or not m.sag_span:
            continue
        known = worst.get(m.role)
        if known is None or abs(m.sag_long_term) > abs(known.sag_long_term or 0.0):
            worst[m.role] = m
    if not worst:
        return Raw("")
    rows = [_sag_row(m, show) for m in worst.values()]
    apart = sorted(
        (m for m in solution.members.values() if m.sag_against_neighbour),
        key=lambda m: -(m.sag_against_neighbour or 0.0),
    )[:6]
    heads = ("member", "role", "span", "dead alone, now", "worst, now",
             "in fifty years", "span over it", "to its neighbour")  # fmt: skip
    numeric = (2, 3, 4, 5, 6, 7)
    parts: list[Content] = [
        table(heads, rows, "The most of each role", numeric),
    ]
    if apart:
        parts.append(
            table(
                heads, [_sag_row(m, show) for m in apart],
                "Joists that differ most from the one beside them", numeric,
            )
        )  # fmt: skip
    return section(
        "Sag now, in fifty years, and beside its neighbour",
        *parts,
        key="sag",
        lead="Fifty years is where the creep factor stands: the lasting load's sag "
        "times it, and the rest of the load as it is. A remedy stops sag; it does "
        "not lift what has crept.",
    )


def _sag_row(m: MemberResult, show: Show) -> list[Content]:
    """Return the sags of one member."""
    later = m.sag_long_term or 0.0
    span = m.sag_span or 0.0
    part = f"{span / abs(later):,.0f}" if abs(later) > 1e-5 else "–"
    return [
        m.key, role_word(m.role), show.length(span), show.small(m.sag_dead),
        show.small(m.sag_now), show.small(later), part,
        show.small(m.sag_against_neighbour),
    ]  # fmt: skip
