"""The results of a roof on its member objects: colours, patterns, custom properties.

Receives an outcome and the objects by key; writes only what differs, because Blender
evaluates again whatever is touched.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import bpy
import numpy as np

from ...solver.basis.protocol import Check
from ...solver.verdict.model import MemberResult, Verdict
from ..overlay import palette
from ..overlay.palette import State
from . import findings, shading
from .pipeline import Outcome

_OF_SHAPE = (Check.SLENDERNESS.value, Check.BEAM_SLENDERNESS.value)


@dataclass(frozen=True, eq=False)
class Shading:
    """How every member is shown.

    Attributes:
        row: member key to row.
        use: (n,) demand over capacity, 0 where there is none.
        state: (n,) of palette.State.
    """

    row: dict[str, int]
    use: np.ndarray
    state: np.ndarray


def state_of(result: MemberResult) -> State:
    """Return how a member is shown."""
    if result.verdict is Verdict.NO_LOAD_PATH:
        return State.NO_LOAD_PATH
    return State.NOT_COUNTED if result.utilisation is None else State.RATED


def use_under(result: MemberResult, combination: str | None) -> float:
    """Return how far a member is used, by one combination or by the worst of all."""
    if combination is None or result.by_combination is None:
        return result.utilisation or 0.0
    most = 0.0
    for check, uses in result.by_combination.items():
        use = float(uses.get(combination, 0.0))
        if check not in _OF_SHAPE or use > 1:  # thin is not loaded
            most = max(most, use)
    return most


def shading_of(
    results: Iterable[MemberResult], combination: str | None = None
) -> Shading:
    """Return how the members are shown, in their order.

    Args:
        results: of the members.
        combination: whose use is shown; left out, that of the worst.
    """
    results = list(results)
    return Shading(
        {r.key: n for n, r in enumerate(results)},
        np.array([use_under(r, combination) for r in results]),
        np.array([state_of(r) for r in results], dtype=np.int64),
    )


def mark(
    objects: Mapping[str, bpy.types.Object], outcome: Outcome, scale_length: float
) -> None:
    """Write an outcome's colours, patterns and results on its member objects.

    Args:
        objects: the member objects by key; those without a result are left alone.
        outcome: the solved roof.
        scale_length: m per Blender unit.
    """
    results = outcome.solution.members
    shown = shading_of(results.values())
    linear = palette.to_linear(palette.colours(shown.use, shown.state))
    pattern = palette.patterns(shown.use, shown.state)
    for key, obj in objects.items():
        result = results.get(key)
        if result is None:
            continue
        row = shown.row[key]
        shading.shade_mesh(obj.data, linear[row], float(pattern[row]))
        colour = np.array([*linear[row], 1.0], dtype=np.float32)
        if not np.array_equal(np.array(obj.color, dtype=np.float32), colour):
            obj.color = colour.tolist()
        findings.write(obj, findings.properties_of(result, scale_length))
