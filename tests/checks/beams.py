"""Frames of one member for the checks, through the frame engine, and bare forces."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from loadfall.solver.analysis import Frame, LoadSet, solve
from loadfall.solver.basis.materials import reference_values
from loadfall.solver.basis.nds.design import NDS
from loadfall.solver.basis.sections import section
from loadfall.solver.checks.inputs import MemberRow, member_table
from loadfall.solver.checks.members import check_members

UP = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True)
class Beam:
    """A level member along X with its solved combinations."""

    table: object
    frame: Frame
    result: object
    stations: object
    names: tuple[str, ...]
    C_D: np.ndarray

    def checks(self, basis=NDS):
        return check_members(
            self.table, self.stations, self.frame.element_member, self.names, self.C_D,
            basis,
        )  # fmt: skip


def beam(x, supports, cases, combinations, size, species, grade, plies=1, **row):
    """A level member with nodes at x, held up at some of them.

    Args:
        x: m, nodes along it.
        supports: indices of the nodes that are held up.
        cases: name to (line load N/m down, {node: N down}).
        combinations: (name, C_D, {case: factor}).
        size, species, grade, plies: of the lumber.
        row: further fields of MemberRow.
    """
    piece = section(size, plies)
    values = reference_values(species, grade, piece)
    n, m = len(x), len(x) - 1
    xyz = np.zeros((n, 3))
    xyz[:, 0] = x
    fixed = np.zeros((n, 6), bool)
    fixed[list(supports), 2] = True
    fixed[:, 1] = True
    fixed[supports[0], [0, 3]] = True
    one = np.ones(m)
    frame = Frame(
        xyz=xyz, fixed=fixed, ends=np.stack([np.arange(m), np.arange(1, n)], axis=1),
        up=np.broadcast_to(UP, (m, 3)), A=piece.area * one,
        I_strong=piece.I_strong * one, I_weak=piece.I_weak * one,
        J=piece.torsion_constant * one, E=values.E * one, G=values.E / 16 * one,
        release=np.zeros((m, 12), bool), axial_only=np.zeros(m, bool),
        one_sided=np.zeros(m, np.int8), element_member=np.zeros(m, np.int64),
    )  # fmt: skip
    element, node = np.zeros((len(cases), m, 3)), np.zeros((len(cases), n, 6))
    for k, (line, points) in enumerate(cases.values()):
        element[k, :, 2] = -line
        for at, force in points.items():
            node[k, at, 2] = -force
    factors = np.array([[f.get(c, 0.0) for c in cases] for _, _, f in combinations])
    names = tuple(name for name, _, _ in combinations)
    result = solve(frame, LoadSet(tuple(cases), element, node), factors, names)
    table = member_table(
        [
            MemberRow(
                key="J", role="joist", section=piece, species=species, grade=grade,
                length=float(x[-1] - x[0]), **row,
            )
        ]
    )  # fmt: skip
    C_D = np.array([cd for _, cd, _ in combinations])
    return Beam(table, frame, result, result.stations(9), names, C_D)


@dataclass
class Bare:
    """Forces at stations without a frame, arrays (ncomb, m, K)."""

    x: np.ndarray
    N: np.ndarray
    V_strong: np.ndarray
    M_strong: np.ndarray
    M_weak: np.ndarray
    displacement: np.ndarray


def random_forces(rng, elements, ncomb=3, K=5, weak=True, constant_axial=False):
    """Random forces on elements of random length."""
    x = np.linspace(0, 1, K) * rng.uniform(0.5, 3.0, (elements, 1))
    shape = (ncomb, elements, K)
    N = rng.normal(scale=3000.0, size=shape)
    if constant_axial:
        N = np.repeat(N[:, :, :1], K, axis=2)
    M_weak = rng.normal(scale=30.0, size=shape) if weak else np.zeros(shape)
    return Bare(
        x, N, rng.normal(scale=2000.0, size=shape),
        rng.normal(scale=600.0, size=shape), M_weak, rng.normal(size=(*shape, 3)),
    )  # fmt: skip
