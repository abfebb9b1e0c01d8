"""Shared by the validation tests: tables, feet and inches, and forces on one member."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from loadfall.solver.basis.nds.design import NDS
from loadfall.solver.basis.sections import section
from loadfall.solver.checks.inputs import MemberRow, member_table
from loadfall.solver.checks.members import check_members

DATA = Path(__file__).parent / "data"


def table(name):
    """Rows of a table in the data folder."""
    with (DATA / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def inches(feet_inches):
    """Inches of a span printed as ``14-7``."""
    feet, rest = feet_inches.split("-")
    return 12 * int(feet) + int(rest)


@dataclass
class Forces:
    """Constant forces along one element, one row per combination."""

    x: np.ndarray
    N: np.ndarray
    V_strong: np.ndarray
    M_strong: np.ndarray
    M_weak: np.ndarray
    displacement: np.ndarray


def forces(N=0.0, M=0.0, M_weak=0.0, V=0.0, length=1.0):
    """Forces on one member, each a number or one per combination."""
    N, M, M_weak, V = np.broadcast_arrays(*np.atleast_1d(N, M, M_weak, V))
    x = np.array([[0.0, length / 2, length]])

    def along(values):
        return np.repeat(np.asarray(values, float)[:, None, None], 3, axis=2)

    zero = np.zeros((len(N), 1, 3, 3))
    return Forces(x, along(N), along(V), along(M), along(M_weak), zero)


def check_one(size, species, grade, duration, acting, plies=1, basis=NDS, **bracing):
    """Check one member under given forces; durations one per combination."""
    row = MemberRow(
        key="A", role="member", section=section(size, plies), species=species,
        grade=grade, **{"length": 1.0, **bracing},
    )  # fmt: skip
    duration = np.atleast_1d(np.asarray(duration, float))
    names = [f"C_D {cd:g}" for cd in duration]
    return check_members(
        member_table([row], basis), acting, np.zeros(1, dtype=int), names, duration,
        basis,
    )  # fmt: skip
