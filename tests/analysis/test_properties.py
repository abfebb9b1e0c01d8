"""Properties that hold for every frame, tried on random ones.

Balance in every combination; superposition while the contact state stays; the work of
the loads never rises when a support is added or a member stiffened, contacts included
(the loads' work is minus twice the least energy, which a stiffer frame can only raise);
contacts that press more under more of the same load; and nothing but the documented
errors, nor a NaN or an infinity, ever leaves the engine.
"""

from dataclasses import replace

import numpy as np
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from loadfall.solver.analysis import (
    PULL_ONLY,
    PUSH_ONLY,
    TWO_SIDED,
    Frame,
    Links,
    LoadSet,
    solve,
)
from loadfall.solver.errors import SolverError

from .roof import roof_frame

RUN = settings(
    max_examples=100, deadline=None, derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)  # fmt: skip
SIDES = (PULL_ONLY, TWO_SIDED, PUSH_ONLY)


@st.composite
def frames(draw, one_sided=True):
    """A random frame: timbers between random points, bars, links, releases, supports.

    Seeds drive NumPy so that a frame is quick to draw; hypothesis varies the sizes and
    shrinks them.
    """
    n = draw(st.integers(3, 9))
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    xyz = rng.uniform(0, 6, size=(n, 3))
    tree = [(rng.integers(0, k), k) for k in range(1, n)]
    more = rng.integers(0, n, size=(draw(st.integers(0, 6)), 2))
    ends = np.array(tree + [tuple(e) for e in more if e[0] != e[1]])
    m = len(ends)
    bars = rng.random(m) < draw(st.sampled_from([0.0, 0.2, 0.5]))
    bars[: n - 1] &= rng.random(n - 1) < 0.3
    sides = rng.choice(SIDES, size=m) * bars * one_sided
    release = np.zeros((m, 12), bool)
    hinges = rng.random((m, 6)) < draw(st.sampled_from([0.0, 0.1, 0.3]))
    release[:, [3, 4, 5, 9, 10, 11]] = hinges
    release[:, 0] = (rng.random(m) < 0.03) & ~bars
    b, d = rng.uniform(0.03, 0.09, m), rng.uniform(0.08, 0.3, m)
    E = rng.uniform(7e9, 14e9, m)
    fixed = np.zeros((n, 6), bool)
    fixed[0] = True
    held = rng.integers(1, n, size=draw(st.integers(0, 3)))
    fixed[held, :3] = True
    k = draw(st.integers(0, 4))
    direction = rng.normal(size=(k, 3))
    direction /= np.linalg.norm(direction, axis=1, keepdims=True)
    links = Links(
        rng.integers(0, n, k), np.full(k, -1), direction, 10 ** rng.uniform(4, 9, k),
        rng.choice(SIDES, size=k) * one_sided,
    )  # fmt: skip
    return Frame(
        xyz=xyz, fixed=fixed, ends=ends, up=rng.normal(size=(m, 3)), A=b * d,
        I_strong=b * d**3 / 12, I_weak=d * b**3 / 12, J=0.2 * d * b**3, E=E, G=E / 16,
        release=release, axial_only=bars, one_sided=sides, links=links,
    )  # fmt: skip


@st.composite
def loaded(draw, one_sided=True, cases=2):
    """A random frame with random loads on elements and nodes."""
    frame = draw(frames(one_sided=one_sided))
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    q = rng.normal(size=(cases, frame.n_elements, 3)) * [200, 200, 900]
    p = rng.normal(size=(cases, frame.n_nodes, 6)) * [500, 500, 900, 30, 30, 30]
    return frame, LoadSet(tuple("abcdef"[:cases]), q, p)


def attempt(frame, loads, factors=None):
    """Solve, or discard a frame that the engine refuses in a documented way."""
    factors = np.eye(len(loads.names)) if factors is None else np.array(factors, float)
    try:
        return solve(frame, loads, factors)
    except SolverError:
        assume(False)


def work(result):
    """Work of the loads on the displacements that they cause, (ncomb,).

    With contacts of no gap and one-sided springs this is twice the strain energy and
    minus twice the least total energy.
    """
    inner = result.system.inner_force(
        result.displacement, np.array([s.state for s in result.solved])
    )
    return (inner * result.displacement).sum(axis=(1, 2))


@RUN
@given(loaded())
def test_only_documented_errors_and_finite_numbers_leave(case):
    frame, loads = case
    try:
        result = solve(frame, loads, np.array([[1.0, 0], [0, 1], [1, -1]]))
    except SolverError:
        return
    stations = result.stations(5, peaks=True)
    for array in (
        result.displacement, result.end_force_global, result.link_force,
        result.reaction, result.residual, stations.N, stations.M_strong,
        stations.M_weak, stations.V_strong, stations.V_weak, stations.displacement,
        *result.peak_moments(), result.imbalance(),
    ):  # fmt: skip
        assert np.isfinite(array).all()


@RUN
@given(loaded())
def test_loads_reactions_and_links_balance(case):
    frame, loads = case
    result = attempt(frame, loads, [[1, 0], [0.3, 1]])
    size = np.abs(result.applied).sum(axis=(1, 2)) * 10
    assert (np.abs(result.imbalance()) <= 1e-8 * size[:, None]).all()
    assert result.residual.max() <= 1e-8


@RUN
@given(loaded())
def test_contacts_act_the_way_their_sign_says(case):
    frame, loads = case
    result = attempt(frame, loads)
    N = result.stations(3).N[:, :, 1]
    size = max(np.abs(result.applied).max(), np.abs(N).max())
    bars = frame.one_sided != TWO_SIDED
    assert (N[:, bars] * frame.one_sided[bars] <= 1e-6 * size).all()
    push = result.link_force * frame.links.one_sided
    assert (push >= -1e-6 * size).all()


@RUN
@given(loaded())
def test_superposition_in_a_fixed_contact_state(case):
    """Where two cases and their sum share a state, displacements add."""
    frame, loads = case
    result = attempt(frame, loads, [[1, 0], [1, 1e-3], [0, 1e-3]])
    one, both, _ = result.solved
    other = one.base.solve(
        (result.applied[2].ravel()[result.layout.dof])[:, None], one.state
    )
    assume((one.state == both.state).all())
    u = one.u + other[:, 0]
    assert np.abs(u - both.u).max() <= 1e-7 * np.abs(both.u).max()


@RUN
@given(loaded(), st.floats(0.1, 50))
def test_scaling_all_loads_scales_all_results(case, scale):
    """No gaps, so a contact state does not depend on the size of the load."""
    frame, loads = case
    result = attempt(frame, loads, [[1, 0], [scale, 0]])
    u = result.displacement
    assert np.abs(u[1] - scale * u[0]).max() <= 1e-6 * np.abs(u[1]).max()


@RUN
@given(loaded(), st.integers(0, 2**32 - 1))
def test_a_support_more_never_raises_the_work(case, seed):
    frame, loads = case
    before = attempt(frame, loads)
    rng = np.random.default_rng(seed)
    node, axis = rng.integers(0, frame.n_nodes), rng.integers(0, 3)
    d = np.zeros((1, 3))
    d[0, axis] = 1.0
    links = frame.links
    more = Links(
        np.append(links.i, node), np.append(links.j, -1),
        np.concatenate([links.direction, d]), np.append(links.stiffness, 3e6),
        np.append(links.one_sided, rng.choice(SIDES)),
    )  # fmt: skip
    after = attempt(replace(frame, links=more), loads)
    assert (work(after) <= work(before) * (1 + 1e-7)).all()


@RUN
@given(loaded(), st.integers(0, 2**32 - 1), st.floats(1.0, 20.0))
def test_a_stiffer_member_never_raises_the_work(case, seed, factor):
    frame, loads = case
    before = attempt(frame, loads)
    E, G = frame.E.copy(), frame.G.copy()
    member = np.random.default_rng(seed).integers(0, frame.n_elements)
    E[member] *= factor
    G[member] *= factor
    after = attempt(replace(frame, E=E, G=G), loads)
    assert (work(after) <= work(before) * (1 + 1e-7)).all()


@RUN
@given(loaded(), st.floats(1.0, 5.0))
def test_more_of_a_load_at_a_node_never_moves_it_back(case, factor):
    """Contacts are monotone: along its own load a node moves further under more."""
    frame, loads = case
    rng = np.random.default_rng(1)
    node = int(rng.integers(0, frame.n_nodes))
    p = np.zeros((2, frame.n_nodes, 6))
    p[1, node, :3] = rng.normal(size=3) * 1000
    loads = LoadSet(("a", "b"), loads.element_load * [[[1.0]], [[0.0]]], p)
    result = attempt(frame, loads, [[1, 1], [1, factor]])
    way = (result.displacement[:, node, :3] * p[1, node, :3]).sum(axis=1)
    size = np.abs(result.displacement).max() * 1000
    assert way[1] >= way[0] - 1e-9 * size


@RUN
@given(st.integers(3, 16), st.integers(0, 2**32 - 1), st.floats(0.0, 3.0))
def test_patchy_roofs_balance_and_share_all(stations, seed, wind):
    frame, loads, factors = roof_frame(stations=stations, one_sided=True)
    rng = np.random.default_rng(seed)
    q = loads.element_load * rng.uniform(0, 2, size=(1, frame.n_elements, 1))
    q[4] *= wind
    result = attempt(frame, LoadSet(loads.names, q, loads.node_load), factors)
    size = np.abs(result.applied).sum(axis=(1, 2))
    assert (np.abs(result.imbalance()) <= 1e-8 * size[:, None] * 10).all()
    state = np.array([s.state for s in result.solved])
    press = result.system.contacts.press(result.displacement)
    tight = 1e-9 * np.abs(press).max()
    assert (press[state] >= -tight).all()
    assert (press[~state] <= tight).all()
