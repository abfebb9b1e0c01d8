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
    """Stresses at k places per element of some members, (ncomb, places), Pa."""

    segments: Segments  # of the chosen members, K = k
    chosen: Bools  # (n,)
    elements: Bools  # (m,)
    strong: Floats  # sagging positive
    weak: Floats  # not negative; (1, 1) of zero where there is none
    axial: Floats  # tension positive

    def at(self, strength: Floats) -> Floats:
        """Return a strength (ncomb or 1, n) at the places."""
        part = strength[:, self.chosen][:, self.segments.member]
        return np.repeat(part, self.segments.K, axis=1)


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
    every = np.zeros((len(run.N), len(chosen)))
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
        part = stresses.segments.largest(ratio)
        every[:, group] = part
        governing = np.argmax(part, axis=0)
        peak = part[governing, np.arange(len(governing))]
        index = stresses.segments.index_of(ratio, governing, peak, np.ones(len(peak)))
        station[group] = _positions(run, stresses, governing, index)
        for name, values in (
            ("axial", stresses.axial),
            ("bending", stresses.strong),
            ("weak", stresses.weak),
        ):
            parts[name][group] = np.broadcast_to(values, ratio.shape)[governing, index]
    rows = run.rows(check, every, every, 1.0, "")
    return replace(rows, station=station, stresses=parts)


def _ratio(run: CheckRun, check: Check, stresses: _Stresses) -> Floats:
    """Return the ratio of a combined check at the places."""
    if check is Check.BENDING_TENSION:
        return _tension(run, stresses)
    return _compression(run, stresses, check is Check.BENDING_COMPRESSION)


def _stresses(run: CheckRun, chosen: Bools, extremes_do: bool) -> _Stresses:
    """Return the stresses at the places of the chosen members that may govern."""
    K = 2 if extremes_do else run.segments.K
    segments, elements = run.segments.of_members(chosen, K)
    weak = np.zeros((1, 1))
    if extremes_do:
        pair = np.stack([run.M_high[:, elements], run.M_low[:, elements]], axis=2)
        moment = pair.reshape(len(pair), -1)
        constant = run.N[:, :: run.segments.K][:, elements]
        axial = np.repeat(constant, 2, axis=1)
    else:
        columns = np.repeat(elements, K)
        moment, axial = run.M[:, columns], run.N[:, columns]
        weak = np.abs(run.weak[:, columns])
    table = run.table
    return _Stresses(
        segments,
        chosen,
        elements,
        moment / segments.spread(table.section_modulus[chosen]),
        weak / segments.spread(table.section_modulus_weak[chosen]),
        axial / segments.spread(table.area[chosen]),
    )


def _positions(
    run: CheckRun, stresses: _Stresses, combination: Ints, index: Ints
) -> Floats:
    """Return where the governing places are, m from the start of their members."""
    if stresses.segments.K == run.segments.K:
        return stresses.segments.position[index]
    element = np.flatnonzero(stresses.elements)[index // 2]
    K = run.segments.K
    sign = np.where(index % 2 == 0, 1.0, -1.0)[:, None]
    moments = run.M.reshape(len(run.M), -1, K)[combination, element] * sign
    at = np.argmax(moments, axis=1)
    return run.segments.position[element * K + at]


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
