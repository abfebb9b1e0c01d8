"""Shared by the external checks: tables, feet and inches, and forces on one member."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from ..basis.arrays import Floats, Real
from ..basis.nds.design import NDS
from ..basis.protocol import Basis
from ..basis.sections import section
from ..checks.inputs import MemberRow, member_table
from ..checks.members import check_members
from ..checks.results import CheckResult

Row = dict[str, str]
_DATA = Path(__file__).parent / "data"


@cache
def table(name: str) -> tuple[Row, ...]:
    """Return the rows of a table in the data folder."""
    with (_DATA / name).open(newline="", encoding="utf-8") as file:
        return tuple(csv.DictReader(file))


def inches(feet_inches: str) -> int:
    """Return the inches of a span printed as ``14-7``."""
    feet, rest = feet_inches.split("-")
    return 12 * int(feet) + int(rest)


@dataclass
class Forces:
    """Constant forces along one element, one row per combination."""

    x: Floats
    N: Floats
    V_strong: Floats
    M_strong: Floats
    M_weak: Floats
    displacement: Floats


def forces(
    N: Real = 0.0,
    M: Real = 0.0,
    M_weak: Real = 0.0,
    V: Real = 0.0,
    length: float = 1.0,
) -> Forces:
    """Return forces on one member, each a number or one per combination."""
    every = np.broadcast_arrays(*np.atleast_1d(N, M, M_weak, V))
    x = np.array([[0.0, length / 2, length]])

    def along(values: Floats) -> Floats:
        return np.repeat(np.asarray(values, float)[:, None, None], 3, axis=2)

    axial, strong, weak, shear = (along(values) for values in every)
    zero = np.zeros((*axial.shape, 3))
    return Forces(x, axial, shear, strong, weak, zero)


def check_one(
    size: str,
    species: str,
    grade: str,
    duration: Sequence[float],
    acting: Forces,
    plies: int = 1,
    basis: Basis = NDS,
    **bracing: float | bool,
) -> CheckResult:
    """Check one member under given forces; durations one per combination."""
    row = MemberRow(
        key="A",
        role="member",
        section=section(size, plies),
        species=species,
        grade=grade,
        **{"length": 1.0, **bracing},  # type: ignore[arg-type]
    )
    names = [f"C_D {cd:g}" for cd in duration]
    return check_members(
        member_table([row], basis),
        acting,
        np.zeros(1, dtype=int),
        names,
        np.asarray(duration, float),
        basis,
    )
