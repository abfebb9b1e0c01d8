"""Characteristic values of the strength classes of solid timber."""

from __future__ import annotations

import csv
from functools import lru_cache
from pathlib import Path

from ...errors import TableError
from ..materials import Kind, ReferenceValues

_DATA = Path(__file__).parents[1] / "data" / "strength_classes.csv"
_MPA = 1e6
_WATER = 1000.0


@lru_cache(maxsize=64)
def characteristic_values(grade: str) -> ReferenceValues:
    """Return the characteristic values of a strength class.

    Source: EN 338:2003 Table 1.

    Args:
        grade: such as ``C24``.

    Returns:
        Characteristic strengths in place of reference values; ``Emin`` is E0.05, ``G``
        the mean density over that of water.

    Raises:
        TableError: no such class.
    """
    row = _classes().get(grade.strip().upper())
    if row is None:
        raise TableError("grade", grade, ", ".join(_classes()))

    def stress(name: str) -> float:
        return float(row[f"{name}_MPa"]) * _MPA

    density = float(row["rho_mean_kg_m3"])
    return ReferenceValues(
        species="solid timber",
        grade=row["grade"],
        kind=Kind.SAWN,
        Fb=stress("fm_k"),
        Ft=stress("ft_0_k"),
        Fv=stress("fv_k"),
        Fc_perp=stress("fc_90_k"),
        Fc=stress("fc_0_k"),
        E=stress("E_mean"),
        Emin=stress("E_05"),
        G=density / _WATER,
        density=density,
        depth_exponent=0.0,
        source=row["source"],
        provenance=row["provenance"],
    )


@lru_cache(maxsize=1)
def _classes() -> dict[str, dict[str, str]]:
    """Return the rows of the table by class."""
    with _DATA.open(newline="", encoding="utf-8") as file:
        return {row["grade"]: row for row in csv.DictReader(file)}
