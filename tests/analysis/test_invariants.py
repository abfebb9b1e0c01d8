"""What must hold for any frame: balance, rigid motions, splitting, turning, scaling."""

from dataclasses import replace

import numpy as np
import pytest
from loadfall.solver.analysis import Links, LoadSet, solve
from loadfall.solver.analysis.assembly import System
from loadfall.solver.analysis.element import basic_forces, element_arrays

from .frames import line, make_frame, solve_one
from .roof import roof_frame


def turned(vectors, R):
    """Vectors (..., 3) or (..., 6) turned by R."""
    parts = np.split(np.asarray(vectors, float), np.shape(vectors)[-1] // 3, axis=-1)
    return np.concatenate([part @ R.T for part in parts], axis=-1)


def rotation(seed):
    """A random rotation."""
    Q, _ = np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))
    return Q * np.sign(np.linalg.det(Q))


def space_frame():
    """A skew frame with releases, a bar, a link and full fixity at its feet."""
    xyz = [[0, 0, 0], [3, 0.4, 0.2], [0.3, 2.8, 0], [2.6, 3.1, 1.9], [1.2, 1.1, 3.4]]
    ends = [[0, 1], [1, 3], [2, 3], [3, 4], [4, 0], [1, 4], [2, 4]]
    along = np.subtract(xyz[3], xyz[1])
    links = Links([1], [3], [along / np.linalg.norm(along)], [3e5], [0])
    return make_frame(
        xyz, ends, {0: range(6), 2: range(6)}, links,
        up=np.array([[0.1, 0.2, 1]] * 7),
        axial_only=[False] * 5 + [True] * 2, release={1: (4, 5), 3: (10, 3)},
    )  # fmt: skip


LOADS = {
    "q": np.linspace(-500, 300, 21).reshape(7, 3),
    "p": {1: (10, -200, -900, 30, 5, -8), 4: (100, 50, -70, 0, 2, 1)},
}


def test_loads_and_reactions_balance():
    result = solve_one(space_frame(), **LOADS)
    assert np.abs(result.imbalance()).max() < 1e-9 * np.abs(result.applied).max()
    assert result.residual.max() < 1e-11


def test_six_rigid_motions_cost_nothing_and_no_other_does():
    frame = replace(space_frame(), links=Links.none())
    frame = replace(
        frame,
        fixed=np.zeros_like(frame.fixed),
        release=np.zeros_like(frame.release),
        axial_only=np.zeros(7, bool),
    )
    system = System(frame)
    n = frame.n_nodes
    unit = np.eye(6 * n).reshape(6 * n, n, 6)
    K = system.inner_force(unit, np.ones((6 * n, 0), bool)).reshape(6 * n, 6 * n)
    assert np.allclose(K, K.T, rtol=0, atol=1e-9 * np.abs(K).max())
    value = np.linalg.eigvalsh(K)
    assert (np.abs(value[:6]) < 1e-9 * value[-1]).all()
    assert value[6] > 1e-7 * value[-1]


def test_assembled_stiffness_is_that_of_the_inner_forces():
    """The eliminated matrix and the element-by-element forces are one stiffness."""
    frame = space_frame()
    result = solve_one(frame, **LOADS)
    inner = result.system.inner_force(result.displacement, np.ones((1, 0), bool))
    free = ~frame.fixed
    rest = (inner - result.applied)[0][free]
    assert np.abs(rest).max() < 1e-10 * np.abs(result.applied).max()


def test_patch_of_constant_strain_in_any_direction():
    """A uniform stretch and a uniform curvature are reproduced in any orientation."""
    for seed in range(3):
        R = rotation(seed)
        points = np.array([[0, 0, 0], [0.7, 0, 0], [1.9, 0, 0], [3.0, 0, 0]]) @ R.T
        frame = line(points, {0: range(6)}, up=np.tile(R[:, 2], (3, 1)))
        N, M = 1500.0, 210.0
        load = np.concatenate([N * R[:, 0], -M * R[:, 1]])
        stations = solve_one(frame, p={3: load}).stations(5)
        assert pytest.approx(N) == stations.N
        assert stations.M_strong == pytest.approx(M, abs=1e-8)
        assert np.abs(stations.V_strong).max() < 1e-8 * M
        assert np.abs(stations.M_weak).max() < 1e-8 * M
        tip = stations.displacement[0, -1, -1] @ R
        assert tip[0] == pytest.approx(N * 3 / (frame.E[0] * frame.A[0]))
        assert tip[2] == pytest.approx(M * 9 / (2 * frame.E[0] * frame.I_strong[0]))


def test_rigid_motion_strains_no_element():
    frame = space_frame()
    turn, shift = np.array([0.01, -0.02, 0.015]), np.array([0.1, 0.2, -0.3])
    motion = np.concatenate(
        [shift + np.cross(turn, frame.xyz), np.tile(turn, (5, 1))], axis=1
    )[None]
    ends = System(frame).at_ends(motion)
    forces = basic_forces(element_arrays(frame), *ends)
    assert np.abs(forces).max() < 1e-8 * (frame.E * frame.A).max()


def test_splitting_a_member_changes_nothing():
    points = [[0, 0, 0], [2, 1, 0.5], [5, 2, 1]]
    fixed = {0: range(6), 1: (2,), 2: (0, 1, 2, 3)}
    q = [100.0, -50.0, -700.0]
    whole = solve_one(line(points, fixed), q=q)
    split = solve_one(line(points, fixed, parts=4), q=q)
    assert split.displacement[0, ::4] == pytest.approx(
        whole.displacement[0], rel=1e-8, abs=1e-11
    )
    for name in ("N", "M_strong", "M_weak", "V_strong", "V_weak"):
        a = getattr(whole.stations(9), name)[0]
        b = getattr(split.stations(3), name)[0].reshape(2, 4, 3)
        joined = np.concatenate([b[:, :, :2].reshape(2, 8), b[:, -1, -1:]], axis=1)
        assert joined == pytest.approx(a, abs=1e-7 * np.abs(a).max())
    a = whole.stations(9).displacement[0]
    b = split.stations(3).displacement[0].reshape(2, 4, 3, 3)
    assert b[:, :, 0] == pytest.approx(a[:, 0:8:2], abs=1e-10)
    assert b[:, :, 1] == pytest.approx(a[:, 1:8:2], abs=1e-10)


def test_a_turned_frame_turns_its_results():
    """All held freedoms come in whole triples, so the frame may be turned freely."""
    frame = space_frame()
    R = rotation(3)
    links = replace(frame.links, direction=frame.links.direction @ R.T)
    other = replace(frame, xyz=frame.xyz @ R.T, up=frame.up @ R.T, links=links)
    a = solve_one(frame, **LOADS)
    loads = {
        "q": LOADS["q"] @ R.T,
        "p": {k: turned(v, R) for k, v in LOADS["p"].items()},
    }
    b = solve_one(other, **loads)
    for name in ("displacement", "reaction", "end_force_global"):
        expected = turned(getattr(a, name), R)
        size = np.abs(expected).max()
        assert getattr(b, name) == pytest.approx(expected, abs=1e-9 * size)
    for name in ("N", "M_strong", "M_weak"):
        x, y = getattr(a.stations(), name), getattr(b.stations(), name)
        assert y == pytest.approx(x, abs=1e-9 * np.abs(x).max())


def test_a_mirrored_roof_mirrors_its_results():
    frame, loads, factors = roof_frame(stations=5, one_sided=True)
    flip = np.array([1.0, -1.0, 1.0])
    whole = np.concatenate([flip, -flip])
    links = replace(frame.links, direction=frame.links.direction * flip)
    other = replace(frame, xyz=frame.xyz * flip, up=frame.up * flip, links=links)
    mirrored = LoadSet(loads.names, loads.element_load * flip, loads.node_load * whole)
    a, b = solve(frame, loads, factors), solve(other, mirrored, factors)
    size = np.abs(a.displacement).max()
    assert b.displacement == pytest.approx(a.displacement * whole, abs=1e-10 * size)
    assert (a.element_active == b.element_active).all()
    x, y = a.stations().M_strong, b.stations().M_strong
    assert y == pytest.approx(x, abs=1e-9 * np.abs(x).max())


def test_scaling_lengths_and_units():
    """Lengths k, areas k^2, inertias k^4, stresses kept: forces k^2, moments k^3."""
    frame, k = space_frame(), 39.37
    other = replace(
        frame, xyz=frame.xyz * k, A=frame.A * k**2, J=frame.J * k**4,
        I_strong=frame.I_strong * k**4, I_weak=frame.I_weak * k**4,
        links=replace(frame.links, stiffness=frame.links.stiffness * k),
    )  # fmt: skip
    scale = np.array([k**2] * 3 + [k**3] * 3)
    loads = {
        "q": LOADS["q"] * k,
        "p": {node: np.array(v) * scale for node, v in LOADS["p"].items()},
    }
    a, b = solve_one(frame, **LOADS), solve_one(other, **loads)
    assert b.displacement[..., :3] == pytest.approx(a.displacement[..., :3] * k)
    assert b.displacement[..., 3:] == pytest.approx(a.displacement[..., 3:])
    assert b.reaction == pytest.approx(
        a.reaction * scale, abs=1e-9 * np.abs(b.reaction).max()
    )


def test_superposition_where_all_is_two_sided():
    frame, loads, _ = roof_frame(stations=4, one_sided=False)
    factors = np.concatenate([np.eye(len(loads.names)), np.ones((1, len(loads.names)))])
    u = solve(frame, loads, factors).displacement
    assert u[-1] == pytest.approx(u[:-1].sum(axis=0), abs=1e-10 * np.abs(u).max())


def test_a_change_of_loads_alone_uses_the_factorisation_again():
    frame, loads, factors = roof_frame(stations=8, one_sided=True)
    first = solve(frame, loads, factors)
    rng = np.random.default_rng(4)
    q = loads.element_load * rng.uniform(0, 2, size=(1, frame.n_elements, 1))
    push = loads.node_load + np.array([0, 0, 3.0, 0, 0, 0])
    others = LoadSet(loads.names, q, push)
    copy = replace(frame, xyz=frame.xyz.copy())
    again = solve(copy, others, factors[::-1], start=first)
    assert again.system is first.system
    fresh = solve(frame, others, factors[::-1])
    size = np.abs(fresh.displacement).max()
    assert again.displacement == pytest.approx(fresh.displacement, abs=1e-11 * size)
    assert (again.element_active == fresh.element_active).all()
    stiffer = solve(replace(frame, E=frame.E * 2), others, factors, start=first)
    assert stiffer.system is not first.system
    assert stiffer.layout is first.layout


def test_a_layout_is_used_again_and_gives_the_same():
    frame, loads, factors = roof_frame(stations=6, one_sided=True)
    first = solve(frame, loads, factors)
    stiffer = replace(frame, I_strong=frame.I_strong * 1.7)
    again = solve(stiffer, loads, factors, layout=first.layout, start=first)
    assert again.layout is first.layout
    fresh = solve(stiffer, loads, factors)
    size = np.abs(fresh.displacement).max()
    assert again.displacement == pytest.approx(fresh.displacement, abs=1e-11 * size)
    held = frame.fixed.copy()
    held[frame.ends[0, 1]] = True
    other = solve(replace(frame, fixed=held), loads, factors, layout=first.layout)
    assert other.layout is not first.layout
