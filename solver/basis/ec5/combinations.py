"""Combinations of actions for the ultimate limit state."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from .factors import Duration, shortest_duration

PERMANENT = 1.35
VARIABLE = 1.5
UPLIFT_PERMANENT = 1.0
# psi_0 of EN 1990 Table A1.1: imposed in houses, roofs, snow to 1000 m, wind.
_SNOW = ("S", "SuS", "SuN", "SuE", "SuW")
COMBINATION = {"L": 0.7, "Lr": 0.0, "W": 0.6} | dict.fromkeys(_SNOW, 0.5)


@dataclass(frozen=True, kw_only=True)
class UltimateCombination:
    """A combination of actions.

    Attributes:
        name: as it is written.
        factors: partial (and combination) factor by load case.
        duration: class of the shortest action.
        clause: where it comes from.
    """

    name: str
    factors: Mapping[str, float]
    duration: Duration
    clause: str


def ultimate_combinations(cases: Iterable[str]) -> tuple[UltimateCombination, ...]:
    """Return the combinations of the load cases at hand.

    Every variable action leads once; the others follow with psi_0. Roof imposed load
    and snow are not taken together.

    Source: EN 1990 Eq. 6.10, Table A1.1 and A1.2(B), recommended values, from memory.

    Args:
        cases: names of the load cases present; ``D`` always is.

    Returns:
        Combinations in the order of their leading action.

    Raises:
        TableError: an unknown load case.
    """
    present = list(dict.fromkeys(["D", *cases]))
    shortest_duration(present)
    made = [_made({"D": PERMANENT})]
    variable = [name for name in present if name != "D"]
    for leading in variable:
        for snow in _snow_choices(variable, leading):
            factors = {"D": PERMANENT, leading: VARIABLE}
            for other in variable:
                psi = COMBINATION[other]
                if other != leading and psi and (other not in _SNOW or other == snow):
                    factors[other] = VARIABLE * psi
            made.append(_made(factors))
    if "W" in present:
        made.append(_made({"D": UPLIFT_PERMANENT, "W": VARIABLE}))
    return tuple({c.name: c for c in made}.values())


def _snow_choices(variable: list[str], leading: str) -> list[str]:
    """Return which snow may follow a leading action; one pattern at a time."""
    if leading in _SNOW or leading == "Lr":
        return [""]
    return [name for name in variable if name in _SNOW] or [""]


def _made(factors: dict[str, float]) -> UltimateCombination:
    """Return a combination, named after its factors."""
    factors = {k: round(v, 6) for k, v in factors.items()}
    return UltimateCombination(
        name="+".join(f"{factor:g}{name}" for name, factor in factors.items()),
        factors=factors,
        duration=shortest_duration(factors),
        clause="EN 1990 Eq. 6.10",
    )
