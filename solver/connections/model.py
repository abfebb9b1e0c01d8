"""What is known of one nailed joint when its forces are known."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..basis.nds.toe_nails import nails_for_both
from .nail_values import NailValues

Floats = NDArray[np.float64]
_SLACK = 1e-9


class JointKind(StrEnum):
    """What a joint joins."""

    HEEL = "heel joint"
    LAP = "joist lap"
    STRUT_FOOT = "strut foot"
    STRUT_TOP = "strut top"
    TIE_END = "tie end"
    PLATE = "seat on the plate"
    SEAT = "seat on a purlin or beam"
    RIDGE = "ridge joint"
    CURB = "joint on a curb"
    LEDGER = "joint on a ledger"
    HIP = "joint on a hip"
    VALLEY = "joint on a valley"
    CORNER = "corner of the plates"


@dataclass(frozen=True, eq=False, kw_only=True)
class Joint:
    """One nailed joint.

    Attributes:
        key: stable name, e.g. ``HEEL-S-12``.
        kind: what it joins.
        members: keys of the two members; a wall by its owner.
        point: m, where.
        lateral: (c,) N, sideways force on the nails, not negative.
        withdrawal: (c,) N, pull along the nails, not negative.
        each: what one nail is worth; None where the nail is too short to count.
        combinations: (c,) names.
        least: fewest nails that a rule asks for.
        stated: nails in place as the brief states, None where it does not.
        rule: where ``least`` stands, "" where there is none.
        note: what the numbers do not say, "" for nothing.
    """

    key: str
    kind: JointKind
    members: tuple[str, str]
    point: tuple[float, float, float]
    lateral: Floats
    withdrawal: Floats
    each: NailValues | None
    combinations: tuple[str, ...]
    least: int = 0
    stated: int | None = None
    rule: str = ""
    note: str = ""

    @cached_property
    def nails(self) -> Floats | None:
        """(c,) nails that the forces ask for, not rounded; None where none will do."""
        if self.each is None:
            return None
        return nails_for_both(
            self.lateral, self.withdrawal, self.each.lateral, self.each.withdrawal
        )

    @cached_property
    def worst(self) -> int:
        """Row of the combination that asks for most nails."""
        if self.nails is None:
            return int(np.argmax(self.lateral + self.withdrawal))
        return int(np.argmax(self.nails))

    @property
    def combination(self) -> str:
        """Name of the combination that governs."""
        return self.combinations[self.worst]

    @property
    def by_force(self) -> int | None:
        """Whole nails that the forces ask for."""
        if self.nails is None:
            return None
        return math.ceil(float(self.nails[self.worst]) - _SLACK)

    @property
    def needed(self) -> int | None:
        """Whole nails that forces and rule ask for."""
        return None if self.by_force is None else max(self.by_force, self.least)

    @property
    def utilisation(self) -> float | None:
        """Nails asked for by the forces over nails stated; None where none are."""
        if self.stated is None or self.nails is None:
            return None
        return float(self.nails[self.worst]) / self.stated

    @property
    def passes(self) -> bool | None:
        """Whether the nails stated are enough for the forces; None where none are."""
        if self.stated is None or self.by_force is None:
            return None
        return self.by_force <= self.stated

    @property
    def keeps_rule(self) -> bool | None:
        """Whether the nails stated keep the rule; None where either is missing."""
        if self.stated is None or not self.rule:
            return None
        return self.stated >= self.least

    @property
    def words(self) -> str:
        """One plain sentence."""
        pair = " to ".join(self.members)
        if self.each is None:
            return f"{pair}: the nail named is too short to count here."
        need = f"{pair}: {self.needed} {self.each.nail} {self.each.driven} needed"
        if self.stated is None:
            return f"{need}; look how many are there."
        return f"{need}, {self.stated} stated."
