"""What the checks know of a roof before any force: the plan of the checks.

Bracing, spans, limits, strengths and places depend on brief and framing alone, so a
plan is made once and serves every change of loads. Forces meet it as whole arrays.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from ..analysis import Stations
from ..basis.nds.design import NationalDesignSpecification
from ..basis.pieces import Strengths
from ..basis.protocol import Basis
from ..brief.model import Brief
from ..checks.deflection import SpanGrid, SpanTable
from ..checks.inputs import MemberTable, member_table
from ..framing.model import Framing
from ..framing.spans import Span, spans
from ..idealise.model import Model
from .bearings import BearingPlan, bearing_plan
from .cuts import CutPlan, cut_plan
from .limits import role_sag_limits
from .rows import member_rows

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False, kw_only=True)
class CheckPlan:
    """Members, spans and places of one framing, ready for forces.

    Attributes:
        basis: the rules.
        members: (n,) keys, in the order of the analysis.
        table: (n,) members as the checks take them.
        spans: (k,) spans of the members that bend.
        span_table: (k,) the same as arrays.
        bearings: where members bear.
        cuts: where they are cut; None where none is.
    """

    basis: Basis
    members: tuple[str, ...]
    table: MemberTable
    spans: tuple[Span, ...]
    span_table: SpanTable
    bearings: BearingPlan
    cuts: CutPlan | None
    _strengths: dict[bytes, Strengths] = field(default_factory=dict)
    _grids: dict[int, SpanGrid] = field(default_factory=dict)

    def grid(self, stations: Stations, element_member: Ints) -> SpanGrid:
        """Return where even stations lie on the spans, the same for all forces."""
        count = stations.x.shape[1]
        if count not in self._grids:
            self._grids[count] = SpanGrid.of(
                stations.x, element_member, self.span_table
            )
        return self._grids[count]

    def counted(self, counts: Bools | None) -> MemberTable:
        """Return the table, with the combinations that count for each member.

        Args:
            counts: (ncomb, n); None: all do.
        """
        return self.table if counts is None else replace(self.table, counts=counts)

    def strengths(self, duration: Floats) -> Strengths:
        """Return the adjusted design values under (ncomb,) duration factors."""
        name = duration.tobytes()
        if name not in self._strengths:
            self._strengths.clear()
            self._strengths[name] = self.basis.strengths(self.table, duration)
        return self._strengths[name]


def check_plan(brief: Brief, framing: Framing, model: Model) -> CheckPlan:
    """Return the plan of the checks of a model's members.

    Raises:
        TableError: a species, grade or size that the tables do not hold.
    """
    held = spans(framing)
    row = {key: n for n, key in enumerate(model.members)}
    listed = tuple(s for key in model.members for s in held.get(key, ()))
    return CheckPlan(
        basis=NationalDesignSpecification(),
        members=model.members,
        table=member_table(member_rows(brief, framing, model.members, held)),
        spans=listed,
        span_table=span_table(brief, framing, row, listed),
        bearings=bearing_plan(framing, model),
        cuts=cut_plan(brief, framing, model),
    )


def span_table(
    brief: Brief, framing: Framing, row: dict[str, int], listed: tuple[Span, ...]
) -> SpanTable:
    """Return the spans as the checks take them."""
    members = framing.members
    roles = {members[s.member].role for s in listed}
    of_role = {role: role_sag_limits(brief, role) for role in roles}
    limits = [of_role[members[s.member].role] for s in listed]
    return SpanTable(
        member=np.array([row[s.member] for s in listed], dtype=np.int64),
        start=np.array([s.start for s in listed]),
        end=np.array([s.end for s in listed]),
        direction=np.array([members[s.member].up for s in listed]).reshape(-1, 3),
        limit_live=np.array([limit.live for limit in limits]),
        limit_total=np.array([limit.total for limit in limits]),
    )
