"""Allowable stress load combinations as data.

Flood, earthquake, ice and fluid loads are not covered. Load cases: D dead, L floor or
attic live, Lr roof live, S balanced snow, SuS, SuN, SuE and SuW unbalanced snow with
the drift on the slopes that fall south, north, east or west, W wind.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ..load_duration import load_duration_factor

_ROOF_CASES = ("Lr", "S", "SuS", "SuN", "SuE", "SuW")


@dataclass(frozen=True, kw_only=True)
class Combination:
    """A load combination.

    Attributes:
        name: as it is written, e.g. ``D+0.75L+0.75Lr``.
        factors: factor by load case.
        C_D: load duration factor of the shortest load present.
        clause: which combination it is.
    """

    name: str
    factors: Mapping[str, float]
    C_D: float
    clause: str


def asd_combinations(cases: Iterable[str]) -> tuple[Combination, ...]:
    """Return the combinations that the load cases at hand call for.

    Source: ASCE 7-16 2.4.1, combinations 1 to 7; load duration factor NDS 2018 2.3.2.

    Args:
        cases: names of the load cases that are present; ``D`` always is.

    Returns:
        Combinations without repeats, in the order of the clause.

    Raises:
        TableError: an unknown load case.
    """
    present = {"D", *cases}
    load_duration_factor(present)
    live = "L" in present
    roof = [name for name in _ROOF_CASES if name in present]
    made = [_combination(1, D=1.0)]
    if live:
        made.append(_combination(2, D=1.0, L=1.0))
    made += [_combination(3, D=1.0, **{name: 1.0}) for name in roof]
    if live:
        made += [_combination(4, D=1.0, L=0.75, **{name: 0.75}) for name in roof]
    if "W" in present:
        made.append(_combination(5, D=1.0, W=0.6))
        with_live = {"L": 0.75} if live else {}
        if live or roof:
            made += [
                _combination(6, D=1.0, **with_live, W=0.45, **extra)
                for extra in ([{name: 0.75} for name in roof] or [{}])
            ]
        made.append(_combination(7, D=0.6, W=0.6))
    return tuple(made)


def _combination(number: int, **factors: float) -> Combination:
    """Return a combination, named after its factors."""
    return Combination(
        name="+".join(
            name if factor == 1.0 else f"{factor:g}{name}"
            for name, factor in factors.items()
        ),
        factors=factors,
        C_D=load_duration_factor(factors),
        clause=f"ASCE 7-16 2.4.1, combination {number}",
    )
