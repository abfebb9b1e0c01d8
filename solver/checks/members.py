"""The checks of all members in all combinations at once.

Receives forces at stations and a basis; adds utilisations. Forces are first reduced to
the extremes of each member; only members with axial force and bending together, or
bending about both axes, are looked at station by station.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..basis.arrays import Floats
from ..basis.pieces import Strengths
from ..basis.protocol import Basis, Check
from ..errors import FieldError
from .forces import ReducedForces, SharedForces, reduced
from .inputs import MemberTable, StationForces
from .interaction import interactions
from .plates import check_plates
from .results import CheckResult, CheckRows, Extremes, assemble_result
from .run import NEGLIGIBLE, ROUNDING, CheckRun
from .segments import Segments

Ints = NDArray[np.int64]

_RECTANGLE_SHEAR = 1.5  # peak over mean shear stress of a rectangle, mechanics


def check_members(
    table: MemberTable,
    stations: StationForces | ReducedForces,
    element_member: Ints,
    combinations: Sequence[str],
    duration: Floats,
    basis: Basis,
    strengths: Strengths | None = None,
) -> CheckResult:
    """Return every check of every member that forces alone decide.

    Bearing, notches and deflection need to know what stands where; they are added by
    `bearing`, `notches` and `deflection`.

    Source: clauses as `basis` names them.

    Args:
        table: (n,) members.
        stations: forces at stations, (ncomb, m, K).
        element_member: (m,) row of each element's member, nondecreasing.
        combinations: (ncomb,) names.
        duration: (ncomb,) load duration factor.
        basis: the rules.
        strengths: of the same members and duration, where known already.

    Returns:
        Utilisations; all finite.

    Raises:
        FieldError: forces that are not finite, or elements out of order.
    """
    forces = _of_the_wood(table, reduced(stations), element_member)
    run = CheckRun(
        table=table,
        basis=basis,
        segments=Segments.of(element_member, forces.length, len(table.keys)),
        strengths=(
            basis.strengths(table, duration) if strengths is None else strengths
        ),
        forces=forces,
    )
    extremes = _extremes(run)
    found = [
        _bending(run, extremes),
        _shear(run, extremes),
        _axial(run, Check.TENSION, extremes.tension, run.strengths.tension, 1.0),
        _axial(
            run,
            Check.COMPRESSION,
            extremes.compression,
            run.strengths.compression,
            -1.0,
        ),
        _column_slenderness(run, extremes),
        *_beam_slenderness(run, extremes),
        *interactions(run, extremes),
        *check_plates(run, extremes),
    ]
    return assemble_result(
        table,
        basis,
        tuple(combinations),
        duration,
        run.strengths,
        extremes,
        {rows.check: rows for rows in found},
    )


def _of_the_wood(
    table: MemberTable, forces: ReducedForces, element_member: Ints
) -> ReducedForces:
    """Return the forces that the wood takes, all of them where no steel helps."""
    if not table.has_plates:
        return forces
    return SharedForces(forces, table.wood_share[element_member])


def _extremes(run: CheckRun) -> Extremes:
    """Return the largest forces of each member and combination."""
    of, forces = run.segments, run.forces
    (M_high, M_low), (V_high, V_low) = run.moments, forces.high_low("V_strong")
    N_high, N_low = forces.high_low("N")
    found = Extremes(
        sag=np.maximum(of.largest(M_high), 0.0),
        hog=np.maximum(-of.smallest(M_low), 0.0),
        weak=of.largest(run.weak),
        shear=of.largest(np.maximum(V_high, -V_low)),
        tension=np.maximum(of.largest(N_high), 0.0),
        compression=np.maximum(-of.smallest(N_low), 0.0),
    )
    for name, value in vars(found).items():
        if not np.isfinite(value).all():
            raise FieldError(f"forces.{name}", "not finite", "finite numbers")
    return found


def _bending(run: CheckRun, extremes: Extremes) -> CheckRows:
    """Return strong axis bending, each edge with its own stability."""
    S, s = run.table.section_modulus, run.strengths
    sag = extremes.sag / (S * s.bending_sag)
    hog = extremes.hog / (S * s.bending_hog)
    hogs = hog > sag
    moment = np.where(hogs, extremes.hog, extremes.sag)
    capacity = np.where(hogs, s.bending_hog, s.bending_sag)
    rows = run.rows(Check.BENDING, np.maximum(sag, hog), moment / S, capacity, "Pa")
    at = np.arange(run.segments.n)
    sign = np.where(hogs, -1.0, 1.0)[rows.combination, at]
    return _placed(run, rows, "M_strong", moment, sign)


def _shear(run: CheckRun, extremes: Extremes) -> CheckRows:
    """Return shear of the whole section, at the largest shear force."""
    stress = _RECTANGLE_SHEAR * extremes.shear / run.table.area
    Fv = run.strengths.shear
    rows = run.rows(Check.SHEAR, stress / Fv, stress, Fv, "Pa")
    return _placed(run, rows, "V_strong", extremes.shear, None)


def _axial(
    run: CheckRun, check: Check, force: Floats, capacity: Floats, sign: float
) -> CheckRows:
    """Return tension or compression parallel to grain on the whole section."""
    stress = force / run.table.area
    rows = run.rows(check, stress / capacity, stress, capacity, "Pa")
    return _placed(run, rows, "N", force, np.full(run.segments.n, sign))


def _column_slenderness(run: CheckRun, extremes: Extremes) -> CheckRows:
    """Return the slenderness limit of members in more than passing compression."""
    s = run.strengths
    stress = extremes.compression / run.table.area
    least = np.where(run.table.axial_is_primary, ROUNDING, NEGLIGIBLE)
    pressed = stress > least * s.compression_star
    ratio = np.where(pressed, s.slenderness, 0.0)
    limit = run.basis.slenderness_limit
    return run.rows(Check.SLENDERNESS, ratio / limit, ratio, limit, "")


def _beam_slenderness(run: CheckRun, extremes: Extremes) -> list[CheckRows]:
    """Return the slenderness limit of bending members, where any is past it."""
    s = run.strengths
    least = NEGLIGIBLE * run.table.section_modulus * s.bending_star
    ratio = np.maximum(
        np.where(extremes.sag > least, s.beam_slenderness_sag, 0.0),
        np.where(extremes.hog > least, s.beam_slenderness_hog, 0.0),
    )
    limit = run.basis.beam_slenderness_limit
    if not np.any(ratio > limit):
        return []
    return [run.rows(Check.BEAM_SLENDERNESS, ratio / limit, ratio, limit, "")]


def _placed(
    run: CheckRun,
    rows: CheckRows,
    quantity: str,
    force: Floats,
    sign: Floats | None,
) -> CheckRows:
    """Return a check with the station where its force is largest.

    Args:
        run: forces.
        rows: the check.
        quantity: name of the force.
        force: (ncomb, n) its extremes.
        sign: (n,) side of the extreme; None for either side.
    """
    of = run.segments
    target = force[rows.combination, np.arange(of.n)]
    values = run.forces.in_combination(quantity, rows.combination[of.member])
    values = np.abs(values) if sign is None else values * sign[of.member]
    element, station = of.reached(values, target)
    return replace(rows, station=run.position(element, rows.combination, station))
