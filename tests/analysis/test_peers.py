"""Against OpenSees and PyNite, two general-purpose libraries: six frames and a roof.

Linear states to 1e-6 of the largest value of each quantity; contact states against
OpenSees with materials that take no tension. PyNite takes no part in those: it does
not let a member that left come back.
"""

import numpy as np
import pytest
from loadfall.solver.analysis import Links, LoadSet, solve

from .frames import continuous, line, make_frame
from .peers import opensees_solve, pynite_solve
from .roof import roof_frame

RELATIVE = 1e-6


def loaded(frame, seed, node=True):
    """Three cases of random loads and four combinations of them."""
    rng = np.random.default_rng(seed)
    q = rng.normal(size=(3, frame.n_elements, 3)) * [100, 100, 400]
    p = rng.normal(size=(3, frame.n_nodes, 6)) * 300
    p = p * [1, 1, 1, 0.2, 0.2, 0.2] * (~frame.fixed) * node
    factors = np.array([[1, 0, 0], [0, 1, 0], [1, 1, 1], [0.6, -0.4, 1.2]])
    return frame, LoadSet(("a", "b", "c"), q, p), factors


def two_span_beam():
    return loaded(continuous([3.0, 4.2], parts=2), 1)


def space_portal():
    xyz = [[0, 0, 0], [0, 0, 3], [4, 0, 3], [4, 0, 0], [0, 5, 0], [0, 5, 3.5]]
    ends = [[0, 1], [1, 2], [2, 3], [4, 5], [1, 5], [2, 5]]
    return loaded(make_frame(xyz, ends, {k: range(6) for k in (0, 3, 4)}), 2)


def skew_with_hinges():
    xyz = [[0, 0, 0], [3, 0.4, 0.2], [0.3, 2.8, 0], [2.6, 3.1, 1.9], [1.2, 1.1, 3.4]]
    ends = [[0, 1], [1, 3], [2, 3], [3, 4], [4, 0], [1, 4], [2, 4]]
    up = np.tile([0.2, -0.1, 1.0], (7, 1))
    frame = make_frame(
        xyz, ends, {0: range(6), 2: range(6)}, up=up,
        axial_only=[False] * 5 + [True] * 2, release={1: (4, 5), 3: (10,)},
    )  # fmt: skip
    return loaded(frame, 3)


def tied_rafters():
    xyz = [[0, 0, 0], [0, 2, 1], [0, 4, 2], [0, 6, 1], [0, 8, 0]]
    ends = [[0, 1], [1, 2], [2, 3], [3, 4], [0, 4], [1, 3]]
    frame = make_frame(
        xyz, ends, {0: range(6), 4: (0, 2, 3, 4, 5), 1: (0,), 2: (0,), 3: (0,)},
        axial_only=[False] * 4 + [True] * 2, release={1: (10, 11), 2: ()},
    )  # fmt: skip
    return loaded(frame, 4)


def linked_beams():
    """Two beams one over the other with links between and to the ground."""
    low = [[x, 0, 0] for x in (0, 1, 2, 3)]
    high = [[x, 0, 0] for x in (0, 1, 2, 3)]
    ends = [[0, 1], [1, 2], [2, 3], [4, 5], [5, 6], [6, 7]]
    skew = np.array([0.28, 0.0, 0.96])
    links = Links(
        [5, 6, 7, 1], [1, 2, -1, -1],
        [[0, 0, 1], skew, [0, 0, 1], [0, 0.6, 0.8]], [2e5, 5e6, 1e5, 4e5], [0] * 4,
    )  # fmt: skip
    frame = make_frame(low + high, ends, {0: range(6), 4: range(6)}, links)
    return loaded(frame, 5)


def inclined_cantilever():
    return loaded(line([[0, 0, 0], [1, 2, 2], [2, 3, 5]], {0: range(6)}, parts=2), 6)


def small_roof():
    frame, loads, factors = roof_frame(stations=4, one_sided=False)
    return frame, loads, factors[:4]


CASES = [two_span_beam, space_portal, skew_with_hinges, tied_rafters, linked_beams,
         inclined_cantilever, small_roof]  # fmt: skip


def same(ours, theirs):
    """Equal to 1e-6 of the largest value of each kind."""
    for name in ("displacement", "end_force_global", "link_force", "reaction"):
        a, b = getattr(ours, name), getattr(theirs, name)
        for part in (slice(0, 3), slice(3, 6)) if a.ndim > 2 else (slice(None),):
            x, y = a[..., part], b[..., part]
            size = np.abs(x).max(initial=0.0)
            assert np.abs(x - y).max(initial=0.0) <= RELATIVE * size, name


@pytest.mark.parametrize("case", CASES)
def test_opensees_agrees(case):
    frame, loads, factors = case()
    ours = solve(frame, loads, factors)
    same(ours, opensees_solve(frame, loads, factors, ours.dropped))


@pytest.mark.parametrize("case", CASES)
def test_pynite_agrees(case):
    frame, loads, factors = case()
    ours = solve(frame, loads, factors)
    same(ours, pynite_solve(frame, loads, factors, ours.dropped))


def test_opensees_agrees_on_a_mid_size_roof():
    frame, loads, factors = roof_frame(stations=40, one_sided=False)
    ours = solve(frame, loads, factors)
    same(ours, opensees_solve(frame, loads, factors, ours.dropped))


def test_opensees_finds_the_same_contact_states():
    """No-tension struts and wall contacts, uplift and patchy loads included."""
    frame, loads, factors = roof_frame(stations=14, one_sided=True)
    rng = np.random.default_rng(5)
    patchy = loads.element_load * rng.uniform(0, 3, size=(1, frame.n_elements, 1))
    loads = LoadSet(loads.names, patchy, loads.node_load)
    ours = solve(frame, loads, factors)
    theirs = opensees_solve(frame, loads, factors, ours.dropped)
    same(ours, theirs)
    assert not ours.element_active.all()
    assert ((theirs.link_force > 1e-6) == ours.link_active).all()
