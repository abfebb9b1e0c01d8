"""The checks of the bench's roof: every stretch of it as a piece of its own.

So there are 1.6 times as many pieces to check as members, and as many spans.
"""

import numpy as np
from loadfall.solver.basis.nds.design import NDS
from loadfall.solver.basis.sections import section
from loadfall.solver.checks.deflection import (
    SpanGrid,
    SpanTable,
    check_deflection,
    span_sags,
)
from loadfall.solver.checks.inputs import MemberRow, member_table
from loadfall.solver.checks.members import check_members
from loadfall.solver.checks.results import with_checks
from loadfall.solver.units import INCH
from loadfall.solver.verdict.checking import FORCE_STATIONS, SHAPE_STATIONS

DURATION = np.array([1.0, 1.25, 1.15, 1.15, 1.15, 1.15, 1.6, 1.6])
_NAMES = tuple(f"{n + 1}" for n in range(len(DURATION)))
_SIZES = {3.5: "2x4", 5.5: "2x6", 7.25: "2x8"}  # dressed depth, in
_LASTING = np.eye(len(DURATION))[0]


class Checks:
    """What the checks know of the bench's roof before any force."""

    def __init__(self, result):
        frame, elements = result.frame, result.system.elements
        depth = np.sqrt(12 * frame.I_strong / frame.A) / INCH
        sizes = [_SIZES[round(float(d), 2)] for d in depth]
        self.table = member_table(
            [
                _row(n, section(size), float(length), bool(axial))
                for n, (size, length, axial) in enumerate(
                    zip(sizes, elements.L, frame.axial_only, strict=True)
                )
            ]
        )
        self.strengths = NDS.strengths(self.table, DURATION)
        bent = np.flatnonzero(~frame.axial_only)
        self.spans = SpanTable(
            member=bent,
            start=np.zeros(len(bent)),
            end=elements.L[bent],
            direction=elements.axes[2].T[bent],
            limit_live=np.full(len(bent), 240.0),
            limit_total=np.full(len(bent), 180.0),
        )

        rows, shape = frame.element_member, result.stations(SHAPE_STATIONS)
        self.grid = SpanGrid.of(shape.x, rows, self.spans)

    def run(self, result):
        """All checks that forces and shapes decide, in all combinations."""
        stations = result.stations(FORCE_STATIONS, peaks=True)
        rows = result.frame.element_member
        found = check_members(
            self.table, stations, rows, _NAMES, DURATION, NDS, self.strengths
        )
        shape = result.stations(SHAPE_STATIONS)
        sags = span_sags(shape, rows, self.spans, _LASTING, NDS, grid=self.grid)
        return with_checks(found, check_deflection(found, sags))


def _row(n, made, length, axial):
    """One stretch as the checks take it."""
    return MemberRow(
        key=str(n), role="strut" if axial else "rafter", section=made,
        species="Spruce-Pine-Fir", grade="No.2", length=length, le_strong=length,
        le_weak=length if axial else 0.0, axial_is_primary=axial,
    )  # fmt: skip
