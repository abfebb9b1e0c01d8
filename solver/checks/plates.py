"""Steel plates between plies: bending and shear of what the plate takes.

The plate takes the part of moment and shear that is its own when the wood has crept,
which is more than on day one; the wood is checked for its part on day one.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ..basis import steel
from ..basis.arrays import Floats
from ..basis.protocol import Check
from .results import CheckRows, Extremes, Part
from .run import CheckRun


def check_plates(run: CheckRun, extremes: Extremes) -> list[CheckRows]:
    """Return bending and shear of all plates, where there are any.

    Source: AISC 360-16 F11 and G4 (see ``basis.steel``).

    Args:
        run: members and forces; the forces are those of the wood.
        extremes: likewise.
    """
    table = run.table
    if not table.has_plates:
        return []
    breadth, depth = table.plates.T
    modulus, area = breadth * depth**2 / 6, breadth * depth
    moment = np.maximum(extremes.sag, extremes.hog) / table.wood_share
    shear = extremes.shear / table.wood_share
    return [
        _rows(run, Check.PLATE_BENDING, moment, modulus, steel.plate_bending_stress(),
              "M_strong", (("M", "N m", "moment of wood and plate"),
                           ("S_p", "m3", "section modulus of the plate"))),
        _rows(run, Check.PLATE_SHEAR, shear, area, steel.plate_shear_stress(),
              "V_strong", (("V", "N", "shear force of wood and plate"),
                           ("A_p", "m2", "area of the plate"))),
    ]  # fmt: skip


def _rows(
    run: CheckRun, check: Check, force: Floats, size: Floats, allowed: float,
    quantity: str, said: tuple[tuple[str, str, str], ...],
) -> CheckRows:  # fmt: skip
    """Return one check of all plates.

    Args:
        run: members and forces.
        check: which.
        force: (ncomb, n) of wood and plate together.
        size: (n,) section modulus or area of the plate, 0 where there is none.
        allowed: Pa.
        quantity: name of the force.
        said: symbol, unit and words of the force and of the size.
    """
    table = run.table
    has = size > 0
    stress = np.where(has, force * table.plate_share / np.where(has, size, 1.0), 0.0)
    rows = run.rows(check, stress / allowed, stress, allowed, "Pa")
    own = force[rows.combination, np.arange(run.segments.n)]
    steel_part = Part("p", "", "part of it that the plate takes, wood crept",
                      table.plate_share)  # fmt: skip
    parts = (
        Part(*said[0], np.where(has, own, 0.0)), steel_part, Part(*said[1], size),
        Part("Fy", "Pa", "yield stress of the plate, ASTM A36",
             np.full(run.segments.n, steel.FY)),
    )  # fmt: skip
    values = np.abs(
        run.forces.in_combination(quantity, rows.combination[run.segments.member])
    )
    element, at = run.segments.reached(values, own * table.wood_share)
    station = run.position(element, rows.combination, at)
    return replace(rows, station=np.where(has, station, 0.0), parts=parts)
