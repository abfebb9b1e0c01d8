"""Each line of the axes and signs in the docstring of the analysis package."""

import numpy as np
from loadfall.solver.analysis import PUSH_ONLY, Links
from loadfall.solver.analysis.element import local_axes

from .frames import continuous, make_frame, solve_one

CANTILEVER = {0: range(6)}


def test_depth_lies_towards_up_and_axes_are_right_handed():
    xyz = np.array([[0, 0, 0], [2, 0, 0], [0, 3, 1.5]])
    ends = np.array([[0, 1], [0, 2]])
    _, x, y, z = local_axes(xyz, ends, np.tile([0.0, 0.0, 1.0], (2, 1)))
    assert np.allclose(x[0], [1, 0, 0])
    assert np.allclose(y[0], [0, 1, 0])
    assert np.allclose(z[0], [0, 0, 1])
    assert np.allclose(np.cross(x, y), z)
    assert z[1, 2] > 0
    assert z[1, 0] == 0


def test_sagging_beam_has_positive_strong_moment_and_moves_down():
    result = solve_one(continuous([4.0]), q=[0, 0, -1000.0])
    stations = result.stations(3)
    assert np.isclose(stations.M_strong[0, 0, 1], 2000.0)
    assert stations.displacement[0, 0, 1, 2] < 0
    assert np.isclose(stations.V_strong[0, 0, 0], 2000.0)
    assert np.isclose(stations.V_strong[0, 0, 2], -2000.0)
    assert np.allclose(result.reaction[0, :, 2], 2000.0)


def test_positive_weak_moment_puts_the_side_away_from_y_in_tension():
    result = solve_one(continuous([4.0]), q=[0, -1000.0, 0])
    assert np.isclose(result.stations(3).M_weak[0, 0, 1], 2000.0)


def test_tension_is_positive():
    frame = make_frame([[0, 0, 0], [2, 0, 0]], [[0, 1]], CANTILEVER)
    result = solve_one(frame, p={1: (500, 0, 0, 0, 0, 0)})
    assert np.allclose(result.stations().N, 500.0)
    assert np.isclose(result.end_force_global[0, 0, 1, 0], 500.0)
    assert np.isclose(result.end_force_global[0, 0, 0, 0], -500.0)


def test_link_in_compression_is_positive_and_pushes_its_node():
    links = Links([1], [-1], [[0, 0, 1.0]], [1e5], [PUSH_ONLY])
    frame = make_frame([[0, 0, 0], [2, 0, 0]], [[0, 1]], CANTILEVER, links)
    pressed = solve_one(frame, p={1: (0, 0, -300, 0, 0, 0)})
    assert pressed.link_force[0, 0] > 0
    free = solve_one(make_frame(frame.xyz, frame.ends, CANTILEVER),
                     p={1: (0, 0, -300, 0, 0, 0)})  # fmt: skip
    assert 0 > pressed.displacement[0, 1, 2] > free.displacement[0, 1, 2]
    lifted = solve_one(frame, p={1: (0, 0, 300, 0, 0, 0)})
    assert lifted.link_force[0, 0] == 0
    assert not lifted.link_active[0, 0]


def test_nodes_balance():
    links = Links([1], [2], [[0, 0, 1.0]], [1e5], [0])
    frame = make_frame(
        [[0, 0, 0], [2, 0, 0], [2, 0, -0.1], [0, 0, -0.1]], [[0, 1], [3, 2]],
        {0: range(6), 3: range(6)}, links,
    )  # fmt: skip
    result = solve_one(frame, q=[0, 50, -800.0], p={1: (10, 20, -300, 1, 2, 3)})
    ends = np.zeros((4, 6))
    np.add.at(ends, frame.ends, result.end_force_global[0])
    links_on_nodes = np.zeros((4, 6))
    links_on_nodes[1, 2] = result.link_force[0, 0]
    links_on_nodes[2, 2] = -result.link_force[0, 0]
    loads = np.zeros((4, 6))
    loads[1] = (10, 20, -300, 1, 2, 3)
    total = loads + result.reaction[0] + links_on_nodes - ends
    assert np.abs(total).max() < 1e-9 * 1600
