"""Axial force and bending together, and bending about both axes, along members.

Only members in which both are more than rounding are looked at. In members whose axial
force is constant along each element, and that nothing bends about the weak axis, the
two extreme moments of an element stand for all its stations, because every interaction
grows with the moment.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from ..basis.arrays import Bools, Floats
from ..basis.protocol import Check
from .results import CheckRows, Extremes, Ints
from .run import NEGLIGIBLE, CheckRun
from .segments import Segments

_AT_ONCE = 100_000  # places and combinations of one part: what a cache holds


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
    asked = {
        Check.BENDING_TENSION: _ever(pulled & (bent | weak)),
        Check.BENDING_COMPRESSION: _ever(pressed & (bent | weak)),
        Check.BIAXIAL_BENDING: _ever(weak),
    }
    found = {check: _Found(run, which) for check, which in asked.items() if any(which)}
    chosen = _ever(np.array(list(asked.values())))
    for group, extremes_do in (
        (chosen & run.plain, True),
        (chosen & ~run.plain, False),
    ):
        for part in _parts(run, group):
            stresses = _stresses(run, part, extremes_do)
            for check, rows in found.items():
                if np.any(rows.chosen & part):
                    rows.take(part, stresses, _ratio(run, check, stresses))
    return [rows.result(check) for check, rows in found.items()]


def _ever(flags: Bools) -> Bools:
    """Return (n,) members that have a flag in any combination."""
    return np.logical_or.reduce(flags, axis=0)


class _Found:
    """One combined check of all members, part by part."""

    def __init__(self, run: CheckRun, chosen: Bools):
        self._run, self.chosen = run, chosen
        n = len(chosen)
        self._every, self._station = np.zeros((len(run.axial[0]), n)), np.zeros(n)
        self._parts = {name: np.zeros(n) for name in ("axial", "bending", "weak")}

    def take(self, members: Bools, stresses: _Stresses, ratio: Floats) -> None:
        """Take in the ratios at the places of some members, of those chosen."""
        of, own = stresses.segments, self.chosen[members]
        rows = np.flatnonzero(members)[own]
        most = of.largest(np.maximum.reduce(ratio))
        self._every[:, rows] = most[:, own]
        governing = np.argmax(most, axis=0)
        peak = most[governing, np.arange(len(governing))]
        at = governing[of.member], np.arange(len(of.member))
        element, place = of.reached(ratio[:, *at], peak)
        station = _positions(self._run, stresses, governing, element, place)
        self._station[rows] = station[own]
        for name, values in (
            ("axial", stresses.axial),
            ("bending", stresses.strong),
            ("weak", stresses.weak),
        ):
            spread = np.broadcast_to(values, ratio.shape)
            self._parts[name][rows] = spread[place, governing, element][own]

    def result(self, check: Check) -> CheckRows:
        """Return the check."""
        rows = self._run.rows(check, self._every, self._every, 1.0, "")
        return replace(rows, station=self._station, stresses=self._parts)


def _parts(run: CheckRun, chosen: Bools) -> Iterator[Bools]:
    """Yield the chosen members in parts whose places fit the cache."""
    rows = np.flatnonzero(chosen)
    if not len(rows):
        return
    first = run.segments.first
    count = np.diff(np.append(first, len(run.segments.member)))[rows]
    places = run.forces.governing * len(run.axial[0])
    part = (np.cumsum(count) - 1) * places // _AT_ONCE
    for rows_of in np.split(rows, np.flatnonzero(np.diff(part)) + 1):
        own = np.zeros(len(chosen), dtype=bool)
        own[rows_of] = True
        yield own


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
    whole = stresses.elements[element]
    if len(stresses.strong) == run.forces.governing:
        return run.position(whole, combination, place)
    M = run.forces.part("M_strong", whole)
    sign = np.where(place == 0, 1.0, -1.0)
    own = M[:, combination, np.arange(len(element))] * sign
    return run.position(whole, combination, np.argmax(own, axis=0))


def _tension(run: CheckRun, r: _Stresses) -> Floats:
    """Return bending with tension, both conditions, where there is tension."""
    s = run.strengths
    ft = np.maximum(r.axial, 0.0)
    bending = np.abs(r.strong) * (1 / r.at(s.bending_star))
    weak = r.weak / r.at(s.bending_weak) if r.weak.any() else 0.0
    found = run.basis.bending_tension(ft * (1 / r.at(s.tension)), bending, weak)
    for sign, strength in ((1, s.bending_sag_no_volume), (-1, s.bending_hog_no_volume)):
        pressed_side = sign * r.strong
        pressed_side -= ft
        pressed_side *= 1 / r.at(strength)
        np.maximum(found, pressed_side, out=found)
    return np.where(r.axial > 0, found, 0.0)


def _compression(run: CheckRun, r: _Stresses, with_axial: bool) -> Floats:
    """Return bending about both axes with or without compression, where it applies."""
    s = run.strengths
    fc = np.maximum(-r.axial, 0.0) if with_axial else np.zeros((1, 1))
    is_weak = bool(r.weak.any())
    ratio = run.basis.bending_compression(
        fc * (1 / r.at(s.compression)),
        _of_either(r, s.bending_sag, s.bending_hog),
        r.weak / r.at(s.bending_weak) if is_weak else 0.0,
        fc * (1 / r.at(s.euler_strong)),
        fc * (1 / r.at(s.euler_weak)) if is_weak else 0.0,
        _of_either(r, s.lateral_sag, s.lateral_hog) if is_weak else 0.0,
    )
    return np.where(r.axial < 0, ratio, 0.0) if with_axial else ratio


def _of_either(r: _Stresses, sag: Floats, hog: Floats) -> Floats:
    """Return strong bending over the value of the edge that it presses."""
    found = r.strong * (1 / r.at(sag))
    return np.maximum(found, r.strong * (-1 / r.at(hog)), out=found)
