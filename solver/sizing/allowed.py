"""How much attic load each ceiling joist may have, by strength and by sag apart.

Reads a solved roof and solves it again under more and less attic load on the whole
ceiling, with everything else of the brief, struts and all. Between two solved loads
that share their state of contact all forces are linear; where the state changes, more
loads are solved until the answers stand still.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..basis.arrays import Floats
from ..basis.protocol import Check
from ..checks.results import CheckRows
from ..solve import Solution
from ..units import PSF
from .ladder import LADDER, Asked, Ladder
from .roots import crossings

MOST = LADDER[-1] * PSF
_ROUNDS = 6
_STILL = 1e-4  # of a load: it moves no more
_SHAPE = (Check.SLENDERNESS, Check.BEAM_SLENDERNESS)


@dataclass(frozen=True, kw_only=True)
class AllowedLoad:
    """What one ceiling joist allows.

    Attributes:
        member: key.
        by_strength: Pa of attic load on the whole ceiling; 0 where it is over its limit
            without any, `MOST` where it allows that or more.
        strength_check: what stops it, None at `MOST`.
        by_sag: likewise, by the sag limits alone.
        sag_check: likewise.
    """

    member: str
    by_strength: float
    strength_check: Check | None
    by_sag: float
    sag_check: Check | None


def allowed_loads(solution: Solution) -> dict[str, AllowedLoad]:
    """Return what every analysed ceiling joist allows, by key.

    Source: the checks of the basis, as for the roof itself; the attic load counts as
    ``L`` in the combinations of ASCE 7-16 2.4.1.

    Args:
        solution: a solved roof.
    """
    if solution.model is None or solution.checked is None:
        return {}
    ladder = Ladder(solution, solution.checked.result.basis)
    if not ladder.keys or len(ladder.levels) < 2:
        return {}
    strength, sag = (_limits(ladder, asked) for asked in Asked)
    return {
        key: AllowedLoad(
            member=key,
            by_strength=float(strength[0][n]),
            strength_check=strength[1][n],
            by_sag=float(sag[0][n]),
            sag_check=sag[1][n],
        )
        for n, key in enumerate(ladder.keys)
    }


def _limits(ladder: Ladder, asked: Asked) -> tuple[Floats, list[Check | None]]:
    """Return (n,) Pa at which the worst of some checks reaches its limit, and which."""
    found = _search(ladder, asked)
    for _ in range(_ROUNDS):
        fresh = _where_states_change(ladder, found)
        if not fresh:
            break
        for load in fresh:
            ladder.solve(load)
        before, found = found, _search(ladder, asked)
        if np.all(np.abs(found - before) <= _STILL * np.maximum(found, PSF)):
            break
    _, names = _worst(ladder.checks(found, asked))
    stopped = found < ladder.levels[-1]
    return found, [
        name if stops else None
        for name, stops in zip(names, stopped.tolist(), strict=True)
    ]


def _search(ladder: Ladder, asked: Asked) -> Floats:
    """Return (n,) Pa: the first load at which each joist reaches its limit."""
    n = len(ladder.keys)
    uses = np.stack(
        [_worst(ladder.level_checks(load, asked))[0] for load in ladder.levels]
    )
    over = uses > 1
    first = np.where(over.any(axis=0), over.argmax(axis=0), len(ladder.levels))
    levels = np.array(ladder.levels)
    at = np.arange(n)
    lower, upper = np.clip(first - 1, 0, None), np.clip(first, 0, len(levels) - 1)
    low, high = levels[np.minimum(lower, len(levels) - 1)], levels[upper]
    return crossings(
        lambda load: _worst(ladder.checks(load, asked))[0],
        np.where(first == 0, 0.0, low),
        high,
        uses[np.minimum(lower, len(levels) - 1), at],
        uses[upper, at],
    )


def _worst(checks: dict[Check, CheckRows]) -> tuple[Floats, list[Check]]:
    """Return the largest utilisation of each joist, (n,), and its check.

    A limit of shape says how thin a piece is, so it counts only where it is past it.
    """
    names, every = list(checks), []
    for name, rows in checks.items():
        use = rows.utilisation
        every.append(np.where(use > 1, use, 0.0) if name in _SHAPE else use)
    stacked = np.stack(every)
    return stacked.max(axis=0), [names[k] for k in stacked.argmax(axis=0).tolist()]


def _where_states_change(ladder: Ladder, found: Floats) -> list[float]:
    """Return loads to solve: within steps of the ladder that change the contacts."""
    fresh = []
    for low, high, a, b in zip(
        ladder.levels, ladder.levels[1:], ladder.states, ladder.states[1:], strict=False
    ):
        inside = (found > low) & (found < high)
        if a != b and inside.any() and high - low > PSF / 4:
            fresh.append(float(np.median(found[inside])))
    return [
        load for load in fresh if all(abs(load - q) > PSF / 50 for q in ladder.levels)
    ]
