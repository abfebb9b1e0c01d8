"""Struts that lean along their purlin: what they push that way, and who holds it.

The analysis holds joints along the purlin, as sheathing and a braced wall would; the
force that it puts into those holds is found here and said.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from ..analysis import FrameResult
from ..framing.model import Framing, Member, Role
from ..framing.purlins import purlin_key
from ..framing.struts import is_hip_brace
from ..idealise.model import Model
from ..loads.combine import Combinations
from ..units import POUND, System, show_force
from .model import Finding, FindingKind, key_range

Floats = NDArray[np.float64]
_LEAST_LEAN = math.radians(2.0)
_LEAST_FORCE = 5 * POUND


def leaning_struts(
    framing: Framing,
    model: Model,
    frame: FrameResult,
    combos: Combinations,
    system: System,
) -> Iterator[Finding]:
    """Yield a note on struts that push along their purlin, where there are any.

    Source: statics: a pin-ended strut's force times that part of its way.

    Args:
        framing: of the roof.
        model: of the roof.
        frame: its forces.
        combos: of the frame.
        system: units to show.
    """
    found: dict[str, tuple[float, int, float]] = {}
    counted = set(model.members)
    for strut in framing.of_role(Role.STRUT):
        if strut.key not in counted or is_hip_brace(strut):
            continue
        lean = _lean(framing, strut)
        if lean < _LEAST_LEAN:
            continue
        element = model.rows_of(strut.key).start
        along = _purlin_way(framing, strut)
        push = np.abs(frame.end_force_global[:, element, 0, :3] @ along)
        row = int(push.argmax())
        if push[row] >= _LEAST_FORCE:
            found[strut.key] = float(push[row]), row, lean
    if not found:
        return
    worst = max(found, key=lambda key: found[key][0])
    force, row, lean = found[worst]
    keys = tuple(found)
    value = show_force(force, system)
    many = "lean" if len(keys) > 1 else "leans"
    yield Finding(
        kind=FindingKind.NOTE,
        rule="strut_leans_along",
        section="statics",
        members=keys,
        passed=None,
        value=value,
        limit="held along the purlin at top and foot",
        words=(
            f"{key_range(keys)} {many} along the purlin. {worst}, "
            f"{math.degrees(lean):.0f} degrees out of plumb that way, pushes its "
            f"purlin {value} one way and its foot {value} the other in "
            f"{combos.names[row]}. The analysis takes the purlin as held by rafters "
            "and sheathing, the foot by what it stands on; nothing here checks those, "
            "so nails, blocking or a brace along the purlin must be found for it."
        ),
    )


def _lean(framing: Framing, strut: Member) -> float:
    """Return how far a strut leans along its purlin, rad from plumb."""
    start, end = framing.ends(strut.key)
    way = end - start
    return math.atan2(abs(float(way @ _purlin_way(framing, strut))), float(way[2]))


def _purlin_way(framing: Framing, strut: Member) -> Floats:
    """Return the unit vector along the purlin that a strut holds, (3,)."""
    start, end = framing.ends(purlin_key(str(strut.group)))
    return (end - start) / np.linalg.norm(end - start)
