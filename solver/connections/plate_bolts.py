"""Bolts of a steel plate between plies: what hands the plate its part of the load.

Load comes on the wood and leaves by the wood, so all that the plate carries passes
through bolts: along the beam, at each place where much comes at once, and at the ends.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..basis.flitch import wood_share
from ..basis.materials import reference_values
from ..basis.nds.bolts import (
    STEEL_BEARING,
    bolt_bearing_across,
    double_shear_value,
)
from ..basis.nds.creep import Condition, creep_factor
from ..framing.model import Framing, Member
from ..idealise.model import Model
from ..loads.combine import Combinations
from ..units import INCH

Floats = NDArray[np.float64]
DIAMETER = INCH / 2
MOST_APART = 16 * INCH  # staggered; common practice, no source
LEAST_AT_ENDS = 2  # common practice, no source
_PER_ENDS = 90.0  # degrees, load across the grain


@dataclass(frozen=True, kw_only=True)
class PlateBolts:
    """The bolts of one beam with a plate.

    Attributes:
        beam: key.
        diameter: m.
        each: N, design value of one bolt before the load duration factor.
        part: of the load that the plate takes, wood crept.
        ends: bolts at each end.
        end_force: N, that passes there into the wood, largest over the combinations
            divided by its load duration factor.
        places: bolts at the heaviest place between the ends; 0 where nothing stands.
        place_force: N, that passes there, likewise.
        spacing: m, of the others, staggered.
        clause: of the design value.
    """

    beam: str
    diameter: float
    each: float
    part: float
    ends: int
    end_force: float
    places: int
    place_force: float
    spacing: float
    clause: str


def bolt_value(made_breadth: float, plate: float, specific_gravity: float) -> float:
    """Return the reference value of a half inch bolt, wood both sides of steel, N.

    Source: NDS 2018 12.3.1 (see ``basis.nds.bolts``), load across the grain.

    Args:
        made_breadth: m, of the wood on each side.
        plate: m, thickness.
        specific_gravity: of the wood.
    """
    across = bolt_bearing_across(specific_gravity, DIAMETER)
    return double_shear_value(
        DIAMETER, plate, made_breadth, STEEL_BEARING, across, _PER_ENDS
    )


def plate_bolts(
    framing: Framing, model: Model, frame: FrameResult, combos: Combinations
) -> tuple[PlateBolts, ...]:
    """Return the bolts of every analysed beam with a steel plate, in order.

    What a stretch hands its plate is the plate's part of how the shear falls along it.

    Args:
        framing: of the roof.
        model: of the roof.
        frame: its forces.
        combos: of the frame.
    """
    found = [
        m for k in model.members if (m := framing.members[k]).section.plate is not None
    ]
    if not found:
        return ()
    stations = frame.stations(2)
    near, far = stations.ends("V_strong")
    length = stations.x.max(axis=1)
    out = []
    for member in found:
        rows = model.rows_of(member.key)
        part = slice(rows.start, rows.stop)
        over_time = combos.C_D[:, None]
        out.append(
            _bolts(member, near[:, part] / over_time, far[:, part] / over_time,
                   length[part])
        )  # fmt: skip
    return tuple(out)


def _bolts(member: Member, near: Floats, far: Floats, length: Floats) -> PlateBolts:
    """Return the bolts of one beam from the shear at both ends of its stretches."""
    made = member.section
    assert made.plate is not None
    values = reference_values(member.species, member.grade, made)
    creep = creep_factor(Condition.SEASONED_DRY)
    part = 1 - wood_share(values.E, made, creep)
    side = made.total_breadth / 2
    each = bolt_value(side, made.plate.breadth, values.G)
    end = part * float(np.abs(np.stack([near[:, 0], far[:, -1]])).max())
    jumps = part * np.abs(far[:, :-1] - near[:, 1:])
    place = float(jumps.max(initial=0.0))
    spread = part * float((np.abs(far - near) / length).max())
    apart = MOST_APART if spread <= 0 else min(MOST_APART, each / spread)
    return PlateBolts(
        beam=member.key,
        diameter=DIAMETER,
        each=each,
        part=part,
        ends=max(LEAST_AT_ENDS, _needed(end, each)),
        end_force=end,
        places=_needed(place, each),
        place_force=place,
        spacing=apart,
        clause="NDS 2018 12.3.1, Z across the grain, C_D taken with the force",
    )


def _needed(force: float, each: float) -> int:
    """Return how many bolts a force needs; no group factor (NDS 2018 11.3.6)."""
    return math.ceil(force / each - 1e-9)
