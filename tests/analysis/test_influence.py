"""Influence by one solve, against brute force: every load applied one by one."""

from dataclasses import replace

import numpy as np
import pytest
from loadfall.solver.analysis import (
    Force,
    Links,
    LoadSet,
    SupportGroup,
    all_supports,
    influence,
    link_force,
    node_displacement,
    reaction,
    reaction_influence,
    solve,
    station_displacement,
    station_force,
)

from .frames import make_frame
from .roof import roof_frame

TOLERANCE = 1e-9


def small_frame():
    """Every kind of end: releases, a slack end, a bar, links, skew members."""
    xyz = [[0, 0, 0], [3, 0.4, 0.2], [0.3, 2.8, 0], [2.6, 3.1, 1.9], [1.2, 1.1, 3.4]]
    ends = [[0, 1], [1, 3], [2, 3], [3, 4], [4, 0], [1, 4], [2, 4]]
    along = np.subtract(xyz[3], xyz[1])
    links = Links(
        [1, 4], [3, -1], [along / np.linalg.norm(along), [0, 0.6, 0.8]],
        [3e5, 2e5], [0, 0],
    )  # fmt: skip
    return make_frame(
        xyz, ends, {0: range(6), 2: range(6)}, links,
        axial_only=[False] * 5 + [True] * 2, release={1: (4, 5), 3: (10, 3), 2: (0,)},
    )  # fmt: skip


def unit_loads(frame):
    """One case for each unit uniform load and each unit nodal load."""
    m, n = frame.n_elements, frame.n_nodes
    q = np.eye(3 * m).reshape(3 * m, m, 3)
    p = np.eye(6 * n).reshape(6 * n, n, 6)
    element = np.concatenate([q, np.zeros((6 * n, m, 3))])
    node = np.concatenate([np.zeros((3 * m, n, 6)), p])
    names = tuple(str(k) for k in range(len(node)))
    return LoadSet(names, element, node)


def brute(frame, read):
    """The value that `read` finds for every unit load, as (3m,) and (6n,)."""
    loads = unit_loads(frame)
    values = read(solve(frame, loads, np.eye(len(loads.names))))
    cut = 3 * frame.n_elements
    return values[:cut].reshape(-1, 3), values[cut:].reshape(-1, 6)


def same(found, expected):
    """Equal to 1e-9 of the largest value."""
    for a, b in zip(found, expected, strict=True):
        assert np.abs(a - b).max() <= TOLERANCE * np.abs(b).max()


def station_value(name, element, xi):
    """Read a force at a station of a result."""

    def read(result):
        stations = result.stations(21)
        return getattr(stations, name)[:, element, round(20 * xi)]

    return read


@pytest.fixture(scope="module")
def solved():
    frame = small_frame()
    loads = LoadSet(("x",), np.ones((1, 7, 3)), np.zeros((1, 5, 6)))
    return frame, solve(frame, loads, np.ones((1, 1)))


@pytest.mark.parametrize("force", list(Force))
@pytest.mark.parametrize("element", [0, 1, 2, 3, 6])
def test_station_forces(solved, force, element):
    frame, result = solved
    xi = 0.35
    x = xi * result.system.elements.L[element]
    found = influence(result, 0, [station_force(result, 0, force, element, x)])
    expected = brute(frame, station_value(force.value, element, xi))
    if max(np.abs(part).max() for part in expected) < 1e-9:
        assert np.abs(found.element).max() < 1e-9
        return
    same((found.element[0], found.node[0]), expected)


@pytest.mark.parametrize("element", [0, 1, 2, 3, 5])
def test_station_displacements(solved, element):
    frame, result = solved
    direction = np.array([0.3, -0.5, 0.8])
    x = 0.6 * result.system.elements.L[element]
    found = influence(
        result, 0, [station_displacement(result, 0, element, x, direction)]
    )
    expected = brute(
        frame, lambda r: r.stations(21).displacement[:, element, 12] @ direction
    )
    same((found.element[0], found.node[0]), expected)


def test_nodes_links_and_reactions(solved):
    frame, result = solved
    functionals = [
        node_displacement(result, 3, 2),
        node_displacement(result, 4, 4),
        link_force(result, 0, 0),
        link_force(result, 0, 1),
        reaction(result, 0, 2),
        reaction(result, 2, 4),
    ]
    found = influence(result, 0, functionals)
    reads = [
        lambda r: r.displacement[:, 3, 2],
        lambda r: r.displacement[:, 4, 4],
        lambda r: r.link_force[:, 0],
        lambda r: r.link_force[:, 1],
        lambda r: r.reaction[:, 0, 2],
        lambda r: r.reaction[:, 2, 4],
    ]
    for row, read in enumerate(reads):
        same((found.element[row], found.node[row]), brute(frame, read))


def test_sum_of_functionals_is_a_sag_from_the_chord(solved):
    frame, result = solved
    L = result.system.elements.L[1]
    down = np.array([0.0, 0.0, -1.0])

    def at(x):
        return station_displacement(result, 0, 1, x, down)

    sag = at(L / 2) + at(0.0).times(-0.5) + at(L).times(-0.5)
    found = influence(result, 0, [sag])

    def read(r):
        z = r.stations(3).displacement[:, 1, :, 2]
        return -(z[:, 1] - (z[:, 0] + z[:, 2]) / 2)

    same((found.element[0], found.node[0]), brute(frame, read))


@pytest.mark.parametrize("name", ["M_strong", "V_strong", "N", "M_weak"])
def test_points_against_a_split_element(solved, name):
    """A unit force at a point: the element is split there and the node is loaded."""
    frame, result = solved
    element, xi, at = 1, 0.5, 0.25
    L = result.system.elements.L[element]
    found = influence(
        result, 0, [station_force(result, 0, Force(name), element, xi * L)]
    ).points(np.array([0.0, at, 0.75]))
    i, j = frame.ends[element]
    for load_at, column in ((at, 1), (0.75, 2)):
        point = frame.xyz[i] + load_at * (frame.xyz[j] - frame.xyz[i])
        split = split_element(frame, element, point)
        node = np.zeros((3, frame.n_nodes + 1, 6))
        node[np.arange(3), -1, np.arange(3)] = 1.0
        loads = LoadSet(("x", "y", "z"), np.zeros((3, split.n_elements, 3)), node)
        other = solve(split, loads, np.eye(3))
        part, local = (
            (element, (xi - 0) / load_at) if xi < load_at
            else (frame.n_elements, (xi - load_at) / (1 - load_at))
        )  # fmt: skip
        stations = getattr(other.stations(121), name)
        expected = stations[:, part, round(120 * local)]
        assert found[0, element, column] == pytest.approx(
            expected, abs=1e-8 * max(np.abs(expected).max(), 1e-3)
        )


def split_element(frame, element, point):
    """The same frame with one more node; the new element comes last."""
    i, j = frame.ends[element]
    new = frame.n_nodes
    ends = np.vstack([frame.ends, [new, j]])
    ends[element] = (i, new)
    release = np.vstack([frame.release, np.zeros((1, 12), bool)])
    release[-1, 6:] = frame.release[element, 6:]
    release[element, 6:] = False
    grow = {
        name: np.append(getattr(frame, name), getattr(frame, name)[element])
        for name in (
            "A", "I_strong", "I_weak", "J", "E", "G", "axial_only", "one_sided"
        )
    }  # fmt: skip
    return replace(
        frame, xyz=np.vstack([frame.xyz, point]), ends=ends, release=release,
        fixed=np.vstack([frame.fixed, np.zeros(6, bool)]),
        up=np.vstack([frame.up, frame.up[element]]),
        element_member=np.arange(len(ends)), **grow,
    )  # fmt: skip


def test_points_elsewhere_are_displacements_of_the_influence(solved):
    """Integrated over an element, the effect of points is that of a uniform load."""
    frame, result = solved
    L = result.system.elements.L
    functionals = [
        station_force(result, 0, Force.M_STRONG, 1, 0.3 * L[1]),
        station_displacement(result, 0, 1, 0.4 * L[1], np.array([0, 0, 1.0])),
        station_force(result, 0, Force.V_STRONG, 0, 0.5 * L[0]),
    ]
    found = influence(result, 0, functionals)
    node, weight = np.polynomial.legendre.leggauss(60)
    points = found.points((node + 1) / 2)
    whole = np.einsum("fmkc,k->fmc", points, weight / 2) * L[:, None]
    for row, (part, at) in enumerate([(1, 0.3), (1, 0.4), (0, 0.5)]):
        others = np.arange(frame.n_elements) != part
        same([whole[row, others]], [found.element[row, others]])
        coarse = np.abs(whole[row, part] - found.element[row, part]).max()
        assert coarse < 2e-2 * np.abs(found.element[row]).max(), at


def test_influence_times_load_is_the_result():
    """In a roof with open contacts: influence gives back the solved numbers."""
    frame, loads, factors = roof_frame(stations=7, one_sided=True)
    result = solve(frame, loads, factors)
    stations = result.stations(9)
    for c in range(len(factors)):
        q = np.tensordot(factors[c], loads.element_load, 1)
        p = np.tensordot(factors[c], loads.node_load, 1)
        picks = [(3, 4), (20, 2), (40, 6)]
        functionals = [
            station_force(result, c, Force.M_STRONG, e, stations.x[e, k])
            for e, k in picks
        ] + [link_force(result, c, 3)]
        values = influence(result, c, functionals).value(q, p)
        expected = [stations.M_strong[c, e, k] for e, k in picks]
        expected.append(result.link_force[c, 3])
        size = max(np.abs(expected).max(), 1.0)
        assert values == pytest.approx(expected, abs=1e-9 * size)
    opened = ~np.concatenate([result.link_active, result.element_active], axis=1)
    assert opened.any(), "no contact opened: the test shows nothing"


def test_shares_of_every_patch_add_to_one():
    frame, loads, factors = roof_frame(stations=9, one_sided=True)
    result = solve(frame, loads, factors)
    for c in (2, 5):
        shares = reaction_influence(result, c, all_supports(result))
        total = shares.element.sum(axis=0) / result.system.elements.L[:, None]
        assert np.abs(total - [0, 0, 1.0]).max() < 1e-11
        node = shares.node.sum(axis=0)
        assert np.abs(node[:, :3] - [0, 0, 1.0]).max() < 1e-11


def test_shares_are_the_reactions():
    frame, loads, factors = roof_frame(stations=9, one_sided=True)
    result = solve(frame, loads, factors)
    south = np.flatnonzero(frame.fixed[:, 2] & (frame.xyz[:, 1] < 0.1))
    north = np.flatnonzero(frame.fixed[:, 2] & (frame.xyz[:, 1] > 7))
    groups = [
        SupportGroup("south wall", south, []),
        SupportGroup("north wall", north, []),
        SupportGroup("middle wall", [], np.arange(len(frame.links))),
    ]
    for c in range(len(factors)):
        q = np.tensordot(factors[c], loads.element_load, 1)
        p = np.tensordot(factors[c], loads.node_load, 1)
        values = reaction_influence(result, c, groups).value(q, p)
        expected = [
            -result.reaction[c, south, 2].sum(),
            -result.reaction[c, north, 2].sum(),
            -result.link_force[c].sum(),
        ]
        assert values == pytest.approx(expected, rel=1e-9, abs=1e-6)
