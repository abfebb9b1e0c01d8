"""Which square foot of roof and ceiling loads the picked member or wall, as strips.

Pure of Blender; the influence is the solver's, one solve for one number.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...solver.influence import InfluenceError, Quantity, RoofInfluence, influence_of
from ...solver.trace.wording import combination_words, is_owner, owner_word
from ...solver.units import FOOT, System
from ..overlay import palette, scales
from ..overlay.scales import Legend
from .pipeline import Outcome

Floats = NDArray[np.float64]

_LEAST = 0.02  # of the densest stretch; less is left unshaded
_SAID = 6  # members whose share is written beside their strips
_ABOVE = 0.16  # m over the joint line of a rafter: clear of its top
_BELOW = 0.12  # m under that of a joist
_WORDS = {
    Quantity.MOMENT: "bending of",
    Quantity.SAG: "sag of",
    Quantity.AXIAL: "push or pull along",
}
_AXIAL = ("strut", "post", "jack_stud", "knee_stud", "collar_tie", "rafter_tie", "web")
_BY_CHECK = {
    "deflection_live": Quantity.SAG,
    "deflection_total": Quantity.SAG,
    "tension": Quantity.AXIAL,
    "compression": Quantity.AXIAL,
    "slenderness": Quantity.AXIAL,
}


@dataclass(frozen=True, eq=False)
class Strips:
    """Shaded stretches of roof and ceiling.

    Attributes:
        quads: (q, 4, 3) m, corners around each.
        colour: (q, 3) sRGB.
        pattern: (q,) see palette.patterns.
        legend: of the mode.
        marks: (words, (3,) m), the weightiest first.
    """

    quads: Floats
    colour: Floats
    pattern: Floats
    legend: Legend
    marks: tuple[tuple[str, Floats], ...]


def _nothing(why: str) -> Strips:
    """Return no strips, and why."""
    none = np.empty((0, 4, 3))
    legend = scales.influence_legend("Who loads it", "most", (why,))
    return Strips(none, np.empty((0, 3)), np.empty(0), legend, ())


def found(outcome: Outcome, key: str, quantity: str) -> RoofInfluence | str:
    """Return the influence on one number of a member or wall, or why there is none.

    Args:
        outcome: of the roof.
        key: member key or support owner.
        quantity: ``GOVERNING`` or a name of Quantity.
    """
    if not key:
        return "Pick a member or a wall"
    which = _quantity(outcome, key, quantity)
    try:
        return outcome.once(
            ("influence", key, which),
            lambda: influence_of(outcome.solution, key, which),
        )
    except InfluenceError as error:
        return str(error)


def _quantity(outcome: Outcome, key: str, quantity: str) -> Quantity:
    """Return which number is meant."""
    if is_owner(key):
        return Quantity.REACTION
    if quantity in Quantity.__members__ and quantity != "REACTION":
        return Quantity[quantity]
    result = outcome.solution.members.get(key)
    if result is None:
        return Quantity.MOMENT
    if result.role in _AXIAL:
        return Quantity.AXIAL
    return _BY_CHECK.get(result.governing_check, Quantity.MOMENT)


def strips_of(outcome: Outcome, key: str, quantity: str, lengths: System) -> Strips:
    """Return the shaded stretches for the picked member or wall."""
    influence = found(outcome, key, quantity)
    if isinstance(influence, str):
        return _nothing(influence)
    density = _density(influence)
    most = float(np.abs(density).max(initial=0.0))
    if most <= 0.0:
        return _nothing("No load on roof or ceiling reaches it")
    kept = np.abs(density) > _LEAST * most
    part = density[kept] / most
    return Strips(
        quads=_quads(influence)[kept],
        colour=palette.influence_colours(part),
        pattern=np.where(part < 0, palette.RELIEF, 0.0),
        legend=_legend(outcome, influence, most, lengths),
        marks=_marks(influence),
    )


def _density(influence: RoofInfluence) -> Floats:
    """Return (s,) how much each stretch counts.

    Of a wall: the part of a load there that reaches it. Of a member's number: the part
    of the number that a square metre brings.
    """
    if influence.quantity is Quantity.REACTION:
        return influence.per_force
    return influence.share / np.maximum(influence.area, 1e-6)


def _quads(influence: RoofInfluence) -> Floats:
    """Return (s, 4, 3) m: the strip of surface that each stretch carries."""
    return strip_corners(influence.ends, influence.width, influence.surface)


def strip_corners(ends: Floats, width: Floats, surface: Sequence[str]) -> Floats:
    """Return (s, 4, 3) m: the corners of the strips that stretches carry.

    Args:
        ends: (s, 2, 3) m, the joint line of each stretch.
        width: (s,) m.
        surface: (s,) names; a ceiling lies under its joists, a roof over its rafters.
    """
    start, end = ends[:, 0], ends[:, 1]
    along = end - start
    across = np.stack([-along[:, 1], along[:, 0], np.zeros(len(along))], axis=1)
    across /= np.maximum(np.linalg.norm(across, axis=1, keepdims=True), 1e-9)
    half = across * (0.485 * width)[:, None]  # a hair apart, to count them
    up = np.cross(along, across)
    up /= np.maximum(np.linalg.norm(up, axis=1, keepdims=True), 1e-9)
    up *= np.sign(up[:, 2:])
    is_ceiling = np.array([name == "ceiling" for name in surface], dtype=bool)
    lift = up * np.where(is_ceiling, -_BELOW, _ABOVE)[:, None]
    corners = [start - half, end - half, end + half, start + half]
    return np.stack([c + lift for c in corners], axis=1)


def _legend(
    outcome: Outcome, influence: RoofInfluence, most: float, lengths: System
) -> Legend:
    """Return the legend of an influence."""
    key = influence.key
    named = owner_word(key) if is_owner(key) else key
    combination = combination_words(
        outcome.solution.combinations, influence.combination
    )
    unit = "sq ft" if lengths is System.IMPERIAL else "m2"
    per = most * (FOOT**2 if lengths is System.IMPERIAL else 1.0)
    is_ceiling = np.array([name == "ceiling" for name in influence.surface])
    share = influence.share
    parts = [("roof", share[~is_ceiling].sum()), ("ceiling", share[is_ceiling].sum())]
    parts.append(("other weights", 1.0 - share.sum()))
    said = ", ".join(
        f"{name} {value:.0%}" for name, value in parts if abs(value) > 5e-3
    )
    if influence.quantity is Quantity.REACTION:
        return scales.influence_legend(
            f"Part of a load here that reaches {named}",
            f"{most:.0%}",
            (f"Of what it holds: {said}", f"Under {combination}"),
        )
    return scales.influence_legend(
        f"What brings the {_WORDS[influence.quantity]} {named}",
        f"{per:.2g} of it per {unit}" if per >= 0.1 else f"{per:.1%} per {unit}",
        (f"Of it: {said}", f"Under {combination}"),
    )


def _marks(influence: RoofInfluence) -> tuple[tuple[str, Floats], ...]:
    """Return the shares of the members that bring most, at the middle of theirs.

    A wall gathers from everywhere: of it, the part of each surface's load is said.
    """
    if influence.quantity is Quantity.REACTION:
        return _surface_marks(influence)
    total: dict[str, float] = {}
    place: dict[str, tuple[float, Floats]] = {}
    quads = _quads(influence).mean(axis=1)
    for n, (key, share) in enumerate(
        zip(influence.member, influence.share.tolist(), strict=True)
    ):
        total[key] = total.get(key, 0.0) + share
        if abs(share) >= place.get(key, (-1.0, quads[n]))[0]:
            place[key] = (abs(share), quads[n])
    ranked = sorted(total, key=lambda key: -abs(total[key]))[:_SAID]
    return tuple(
        (f"{key}  {total[key]:.0%}", place[key][1])
        for key in ranked
        if abs(total[key]) >= 5e-3
    )


def _surface_marks(influence: RoofInfluence) -> tuple[tuple[str, Floats], ...]:
    """Return what part of an even load on each surface reaches a wall."""
    names = np.array(influence.surface)
    middles = _quads(influence).mean(axis=1)
    out = []
    for name in dict.fromkeys(influence.surface):
        rows = np.flatnonzero(names == name)
        area = influence.area[rows]
        part = float((influence.per_force[rows] * area).sum() / area.sum())
        middle = np.average(middles[rows], axis=0, weights=area)
        if abs(part) >= 5e-3:
            out.append((f"{part:.0%} of the load on {surface_word(name)}", middle))
    return tuple(out)


_SIDES = {"S": "south", "N": "north", "E": "east", "W": "west"}


def surface_word(name: str) -> str:
    """Return what a surface of the loads is called, such as ``roof S``."""
    kind, _, side = name.partition(" ")
    if kind != "roof":
        return f"the {name}"
    return f"the {_SIDES[side]} slope" if side in _SIDES else f"slope {side}"
