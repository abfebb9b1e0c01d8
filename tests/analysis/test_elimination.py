"""Every order of elimination solves the same equations as a dense solve."""

import numpy as np
import pytest
from loadfall.solver.analysis.assembly import System, gather, spread
from loadfall.solver.analysis.builder import _Builder
from loadfall.solver.analysis.factor import SingularPivot, factorise
from loadfall.solver.analysis.mechanism import idle_rotations
from loadfall.solver.analysis.ordering import (
    by_dissection,
    by_levels,
    components,
    make_graph,
)
from loadfall.solver.analysis.plan import Plan

from .frames import continuous, make_frame
from .roof import roof_frame


def wide_roof():
    """Three roofs side by side, tied by links: a graph of several parts in places."""
    one, _, _ = roof_frame(stations=5, one_sided=False)
    n = one.n_nodes
    step = np.array([0.0, 8.0, 0.0])
    xyz = np.concatenate([one.xyz + k * step for k in range(3)])
    ends = np.concatenate([one.ends + n * k for k in range(3)])
    fixed = {
        k * n + node: np.flatnonzero(one.fixed[node])
        for k in range(3) for node in range(n)
    }  # fmt: skip
    ties = np.array([[n - 1, n + 3], [2 * n - 1, 2 * n + 3]])
    ends = np.concatenate([ends, ties])
    bars = np.concatenate([np.tile(one.axial_only, 3), [True, True]])
    return make_frame(xyz, ends, fixed, axial_only=bars)


FRAMES = {
    "beam": lambda: continuous([2.0, 3.0, 1.5], parts=3),
    "roof": lambda: roof_frame(stations=7, one_sided=False)[0],
    "roof without wall links": lambda: roof_frame(6, False, wall_links=False)[0],
    "wide": wide_roof,
}
ORDERS = {
    "levels": by_levels,
    "dissection, fine": lambda graph, xyz: by_dissection(graph, xyz, 1),
    "dissection, coarse": lambda graph, xyz: by_dissection(graph, xyz, 8),
    "all at once": lambda graph, xyz: np.zeros(graph.n, np.int64),
    "one by one": lambda graph, xyz: np.arange(graph.n),
}


def layout_of(frame, order):
    """The layout of a frame in a given order."""
    system = System(frame)
    natural = system.natural_freedoms()
    free = natural & ~idle_rotations(system, natural)
    live = np.flatnonzero(free.any(axis=1))
    number = np.full(frame.n_nodes, -1)
    number[live] = np.arange(len(live))
    links = frame.links
    tied = np.stack([links.i, links.j], axis=1)[links.j >= 0]
    pairs = number[np.concatenate([frame.ends, tied])]
    graph = make_graph(len(live), pairs[(pairs >= 0).all(axis=1)])
    plan = Plan(graph, order(graph, frame.xyz[live]), free[live].sum(axis=1))
    return system, _Builder(frame, free, number, plan).layout(())


@pytest.mark.parametrize("name", list(FRAMES))
@pytest.mark.parametrize("order", list(ORDERS))
def test_elimination_solves_the_dense_equations(name, order):
    system, layout = layout_of(FRAMES[name](), ORDERS[order])
    n, none = len(layout.dof), np.zeros(0, bool)
    state = np.zeros((n, 0), bool)
    K = gather(layout, system.inner_force(spread(layout, system, np.eye(n)), state))
    x = np.random.default_rng(1).normal(size=(n, 3))
    f = K @ x
    found = factorise(layout, system.values(none)).solve(f)
    dense = np.linalg.solve(K, f)
    size = np.abs(dense).max()
    assert found == pytest.approx(dense, abs=1e-7 * size)
    assert np.abs(K @ found - f).max() < 1e-9 * np.abs(f).max()


@pytest.mark.parametrize("order", list(ORDERS))
def test_a_shift_adds_to_the_diagonal(order):
    system, layout = layout_of(FRAMES["roof"](), ORDERS[order])
    n, none = len(layout.dof), np.zeros(0, bool)
    state = np.zeros((n, 0), bool)
    K = gather(layout, system.inner_force(spread(layout, system, np.eye(n)), state))
    shift = np.random.default_rng(2).uniform(0, 1e6, n)
    f = np.random.default_rng(3).normal(size=(n, 2))
    found = factorise(layout, system.values(none), shift).solve(f)
    expected = np.linalg.solve(K + np.diag(shift), f)
    assert found == pytest.approx(expected, abs=1e-9 * np.abs(expected).max())


@pytest.mark.parametrize("order", list(ORDERS))
def test_a_loose_frame_has_no_factor(order):
    loose = continuous([2.0, 3.0])
    held = np.zeros_like(loose.fixed)
    held[0, [0, 1, 2, 3, 5]] = True
    frame = make_frame(loose.xyz, loose.ends)
    frame.fixed[:] = held
    system, layout = layout_of(frame, ORDERS[order])
    with pytest.raises(SingularPivot):
        factorise(layout, system.values(np.zeros(0, bool)))


def test_components():
    a, b = np.array([0, 2, 5, 6]), np.array([1, 3, 6, 7])
    assert components(8, a, b).tolist() == [0, 0, 2, 2, 4, 5, 5, 5]


def test_orders_leave_children_before_parents():
    for order in (ORDERS["levels"], ORDERS["dissection, fine"]):
        frame = FRAMES["wide"]()
        graph = make_graph(frame.n_nodes, frame.ends)
        front = order(graph, frame.xyz)
        plan = Plan(graph, front, np.full(frame.n_nodes, 6))
        assert sorted(set(front.tolist())) == list(range(front.max() + 1))
        inner = plan.parent >= 0
        assert (plan.parent[inner] > np.flatnonzero(inner)).all()
        assert sum(len(nodes) for nodes in plan.own) == frame.n_nodes
