"""Creep between two beams, worked out by hand; and creep that is alike everywhere.

Two simple beams cross at their middles, one over the other, joined by a stiff link; a
weight P hangs there. With k = 48 E I / L^3 of each, beam 1 carries k1/(k1 + k2) of it
and both sag P/(k1 + k2). Creep makes k/(1 + phi) of each (EN 1995-1-1 2.3.2.2(2), the
principle), so the one that creeps less takes over.
"""

import numpy as np
import pytest
from loadfall.solver.ageing.effective import aged_results
from loadfall.solver.analysis import Links, LoadSet
from loadfall.tests.analysis.frames import B, D, E, make_frame

P = 4000.0
LINK = 1e13
L1, L2 = 4.0, 3.0
INERTIA = B * D**3 / 12


def crossing(link_stiffness=LINK):
    """Beam 1 along x over beam 2 along y; the load on beam 1's middle."""
    xyz = [
        [-L1 / 2, 0, 0], [0, 0, 0], [L1 / 2, 0, 0],
        [0, -L2 / 2, 0], [0, 0, 0], [0, L2 / 2, 0],
    ]  # fmt: skip
    ends = [[0, 1], [1, 2], [3, 4], [4, 5]]
    fixed = {0: (0, 1, 2, 3), 2: (1, 2), 3: (0, 1, 2, 4), 5: (0, 2)}
    links = Links([1], [4], [[0, 0, 1]], [link_stiffness], [0])
    return make_frame(xyz, ends, fixed, links, element_member=[0, 0, 1, 1])


def lasting():
    node = np.zeros((1, 6, 6))
    node[0, 1, 2] = -P
    return LoadSet(("D",), np.zeros((1, 4, 3)), node)


def aged(phi1, phi2, shares=(0.0, 1.0), link=0.0):
    element = np.array([phi1, phi1, phi2, phi2], float)
    return aged_results(
        crossing(), lasting(), np.ones(1), element, np.array([link]), np.array(shares)
    )


def share_of_second(result):
    return result.link_force[0, 0] / P


def sag(result):
    return -result.displacement[0, 1, 2]


K1, K2 = 48 * E * INERTIA / L1**3, 48 * E * INERTIA / L2**3


@pytest.mark.parametrize(
    ("phi1", "phi2"), [(0.5, 0.0), (0.0, 0.5), (0.6, 0.8), (2.0, 0.5)]
)
def test_hand_solution(phi1, phi2):
    first, later = aged(phi1, phi2)
    assert share_of_second(first) == pytest.approx(K2 / (K1 + K2), rel=1e-6)
    assert sag(first) == pytest.approx(P / (K1 + K2), rel=1e-6)
    k1, k2 = K1 / (1 + phi1), K2 / (1 + phi2)
    assert share_of_second(later) == pytest.approx(k2 / (k1 + k2), rel=1e-6)
    assert sag(later) == pytest.approx(P / (k1 + k2), rel=1e-6)


def test_numbers_on_paper():
    """L 4 m and 3 m: k1/k2 = 27/64; sawn 0.5 over steel 0: 64/91, then 64/82."""
    first, later = aged(0.5, 0.0)
    assert share_of_second(first) == pytest.approx(64 / 91, rel=1e-6)
    assert share_of_second(later) == pytest.approx(64 / (64 + 27 / 1.5), rel=1e-6)
    assert sag(later) / sag(first) == pytest.approx(91 / 82, rel=1e-6)


def test_what_creeps_less_takes_over_and_the_whole_stays():
    results = aged(0.5, 0.1, (0.0, 0.2, 0.6, 1.0, 1.38))
    shares = [share_of_second(r) for r in results]
    assert shares == sorted(shares)
    assert shares[-1] > shares[0]
    for r in results:
        held = r.reaction[0, [0, 2, 3, 5], 2].sum()
        assert held == pytest.approx(P, rel=1e-9)


def test_creep_alike_moves_no_force():
    """Forces unchanged, sag times 1 + phi, to 1e-9: the exact solution."""
    phi = 0.5
    first, later = aged(phi, phi, link=phi)
    size = np.abs(first.end_force_global).max()
    error = np.abs(later.end_force_global - first.end_force_global).max()
    assert error <= 1e-9 * size
    grown = later.displacement - (1 + phi) * first.displacement
    assert np.abs(grown).max() <= 1e-9 * np.abs(later.displacement).max()
