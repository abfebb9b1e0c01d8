"""Axial force and bending together, and bending about both axes, along members.

Only members in which both are more than rounding are looked at. In members whose axial
force is constant along each element, and that nothing bends about the weak axis, the
two extreme moments of an element stand for all its stations, because every interaction
grows with the moment.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ..basis.arrays import Bools, Floats
from ..basis.protocol import Check
from .results import CheckRows, Extremes, Ints
from .run import NEGLIGIBLE, CheckRun
from .segments import Segments


@dataclass(frozen=True, eq=False)
class _Stresses:
    """Stresses at k places per element of some members, (k, ncomb, e), Pa."""

    segments: Segments  # of the chosen members
    members: Ints  # (e,) row of each element's member among all
    elements: Ints  # (e,)
    strong: Floats  # sagging positive
    weak: Floats  # not negative; (1, 1, 1) of zero where there is none
    axial: Floats  # tension positive

    def at(self, strength: Floats) -> Floats:
        """Return a strength (ncomb or 1, n) at the elements."""
        return strength[:, self.members]


def interactions(run: CheckRun, extremes: Extremes) -> list[CheckRows]:
    """Return the combined checks that apply to any member.

    Args:
        run: members, rules and forces.
        extremes: of each member and combination.

    Returns:
        Bending with tension, bending with compression, and bending about both axes,
        as far as members have them.
    """
    table, s = run.table, run.strengths
    S, A = table.section_modulus, table.area
    bent = np.maximum(extremes.sag, extremes.hog) > NEGLIGIBLE * S * s.bending_star
    weak = extremes.weak > NEGLIGIBLE * table.section_modulus_weak * s.bending_weak
    pulled = extremes.tension > NEGLIGIBLE * A * s.tension
    pressed = extremes.compression > NEGLIGIBLE * A * s.compression_star
    found = [
        _check(run, Check.BENDING_TENSION, _ever(pulled & (bent | weak))),
        _check(run, Check.BENDING_COMPRESSION, _ever(pressed & (bent | weak))),
        _check(run, Check.BIAXIAL_BENDING, _ever(weak)),
    ]
    return [rows for rows in found if rows is not None]


def _ever(flags: Bools) -> Bools:
    """Return (n,) members that have a flag in any combination."""
    return np.logical_or.reduce(flags, axis=0)


def _check(run: CheckRun, check: Check, chosen: Bools) -> CheckRows | None:
    """Return one combined check of the chosen members, None where there are none."""
    if not chosen.any():
        return None
    every = np.zeros((len(run.axial[0]), len(chosen)))
    station = np.zeros(len(chosen))
    parts = {name: np.zeros(len(chosen)) for name in ("axial", "bending", "weak")}
    for group, extremes_do in (
        (chosen & run.plain, True),
        (chosen & ~run.plain, False),
    ):
        if not group.any():
            continue
        stresses = _stresses(run, group, extremes_do)
        ratio = _ratio(run, check, stresses)
        of = stresses.segments
        part = of.largest(np.maximum.reduce(ratio))
        every[:, group] = part
        governing = np.argmax(part, axis=0)
        peak = part[governing, np.arange(len(governing))]
        own, at = governing[of.member], np.arange(len(of.member))
        element, place = of.reached(ratio[:, own, at], peak)
        station[group] = _positions(run, stresses, governing, element, place)
        for name, values in (
            ("axial", stresses.axial),
            ("bending", stresses.strong),
            ("weak", stresses.weak),
        ):
            spread = np.broadcast_to(values, ratio.shape)
            parts[name][group] = spread[place, governing, element]
    rows = run.rows(check, every, every, 1.0, "")
    return replace(rows, station=station, stresses=parts)


def _ratio(run: CheckRun, check: Check, stresses: _Stresses) -> Floats:
    """Return the ratio of a combined check at the places."""
    if check is Check.BENDING_TENSION:
        return _tension(run, stresses)
    return _compression(run, stresses, check is Check.BENDING_COMPRESSION)


def _stresses(run: CheckRun, chosen: Bools, extremes_do: bool) -> _Stresses:
    """Return the stresses at the places of the chosen members that may govern."""
    segments, elements = run.segments.of_members(chosen)
    members = run.segments.member[elements]
    weak = np.zeros((1, 1, 1))
    if extremes_do:
        moment = np.stack([M[:, elements] for M in run.moments])
        axial = run.axial[0][None, :, elements]
    else:
        moment = run.forces.part("M_strong", elements)
        axial = run.forces.part("N", elements)
        if run.weak[:, elements].any():
            weak = np.abs(run.forces.part("M_weak", elements))
    table = run.table
    return _Stresses(
        segments,
        members,
        elements,
        moment / table.section_modulus[members],
        weak / table.section_modulus_weak[members] if weak.any() else weak,
        axial / table.area[members],
    )


def _positions(
    run: CheckRun, stresses: _Stresses, combination: Ints, element: Ints, place: Ints
) -> Floats:
    """Return where the governing places are, m from the start of their members.

    Args:
        run: forces.
        stresses: of the chosen members.
        combination: (c,) that governs each of them.
        element: (c,) element, among those of the chosen members.
        place: (c,) place in it: a station, or 0 for the largest and 1 for the
            smallest moment.
    """
    if len(stresses.strong) == run.segments.x.shape[1]:
        return stresses.segments.position(element, place)
    M = run.forces.part("M_strong", stresses.elements[element])
    sign = np.where(place == 0, 1.0, -1.0)
    own = M[:, combination, np.arange(len(element))] * sign
    return stresses.segments.position(element, np.argmax(own, axis=0))


def _tension(run: CheckRun, r: _Stresses) -> Floats:
    """Return bending with tension, both conditions, where there is tension."""
    s = run.strengths
    ft = np.maximum(r.axial, 0.0)
    bending = np.abs(r.strong) / r.at(s.bending_star)
    weak = r.weak / r.at(s.bending_weak)
    tension_side = run.basis.bending_tension(ft / r.at(s.tension), bending, weak)
    compression_side = np.maximum(
        (r.strong - ft) / r.at(s.bending_sag_no_volume),
        (-r.strong - ft) / r.at(s.bending_hog_no_volume),
    )
    return np.where(r.axial > 0, np.maximum(tension_side, compression_side), 0.0)


def _compression(run: CheckRun, r: _Stresses, with_axial: bool) -> Floats:
    """Return bending about both axes with or without compression, where it applies."""
    s = run.strengths
    fc = np.maximum(-r.axial, 0.0) if with_axial else np.zeros((1, 1))
    sags = r.strong > 0
    strong = np.abs(r.strong)
    ratio = run.basis.bending_compression(
        fc / r.at(s.compression),
        strong / np.where(sags, r.at(s.bending_sag), r.at(s.bending_hog)),
        r.weak / r.at(s.bending_weak),
        fc / r.at(s.euler_strong),
        fc / r.at(s.euler_weak),
        strong / np.where(sags, r.at(s.lateral_sag), r.at(s.lateral_hog)),
    )
    return np.where(r.axial < 0, ratio, 0.0) if with_axial else ratio
