"""Beams, portals and ties against printed coefficients and textbook solutions.

Each test names its source; tolerances are what the printed rounding allows, or 1e-9
where the closed form is exact.
"""

import numpy as np
import pytest
from loadfall.solver.analysis import Links

from .frames import E, continuous, line, make_frame, solve_one

W = 1000.0
I_STRONG = 0.0381 * 0.1397**3 / 12
DOWN = np.array([0.0, 0.0, -W])


def reactions(result):
    """Vertical reactions at the held nodes, from the i end onwards."""
    held = result.frame.fixed[:, 2]
    return result.reaction[0, held, 2]


def deepest(result):
    """Largest sag and where, from 9 stations of many short elements."""
    stations = result.stations(9)
    x = result.frame.xyz[result.frame.ends[:, 0], 0][:, None] + stations.x
    sag = -stations.displacement[0, :, :, 2]
    at = np.unravel_index(np.argmax(sag), sag.shape)
    return sag[at], x[at]


def test_two_equal_spans():
    """Lindeburg, Civil Engineering Reference Manual: two equal spans, uniform load."""
    L = 3.0
    result = solve_one(continuous([L, L], parts=40), q=DOWN)
    assert reactions(result) == pytest.approx(W * L * np.array([3, 10, 3]) / 8)
    M = result.stations().M_strong[0]
    assert M.min() == pytest.approx(-W * L**2 / 8)
    assert result.peak_moments()[1].max() == pytest.approx(9 / 128 * W * L**2)
    sag, x = deepest(result)
    assert sag == pytest.approx(0.00541 * W * L**4 / (E * I_STRONG), rel=2e-3)
    assert min(x, 2 * L - x) == pytest.approx(0.4215 * L, rel=2e-3)


def test_two_equal_spans_in_two_elements_have_exact_peaks():
    """The same with one element a span: zero shear at 3/8 of the span."""
    L = 3.0
    result = solve_one(continuous([L, L]), q=DOWN)
    x, M = result.peak_moments()
    assert x[0] == pytest.approx([3 / 8 * L, 5 / 8 * L])
    assert M[0] == pytest.approx([9 / 128 * W * L**2] * 2)
    with_peaks = result.stations(9, peaks=True)
    assert with_peaks.x.shape == (2, 10)
    assert with_peaks.M_strong.max() == pytest.approx(9 / 128 * W * L**2)
    assert with_peaks.V_strong[0, :, 9] == pytest.approx(0, abs=1e-9 * W * L)


def test_three_equal_spans():
    """Continuous-beam table, three equal spans, uniform load (piping-designer.com)."""
    L = 2.5
    result = solve_one(continuous([L] * 3, parts=40), q=DOWN)
    expected = W * L * np.array([0.4, 1.1, 1.1, 0.4])
    assert reactions(result) == pytest.approx(expected)
    M = result.stations().M_strong[0]
    assert M.min() == pytest.approx(-0.100 * W * L**2)
    peaks = result.peak_moments()[1][0]
    assert peaks.max() == pytest.approx(0.080 * W * L**2, rel=1e-3)
    assert M[60].max() == pytest.approx(0.025 * W * L**2, rel=1e-3)
    sag, x = deepest(result)
    assert sag == pytest.approx(0.0069 * W * L**4 / (E * I_STRONG), rel=4e-3)
    assert min(x, 3 * L - x) == pytest.approx(0.446 * L, rel=4e-3)


def test_three_spans_two_loaded():
    """Continuous-beam table, three spans, two loaded at one side."""
    L = 2.5
    result = solve_one(continuous([L] * 3), q={0: DOWN, 1: DOWN})
    expected = W * L * np.array([0.383, 1.200, 0.450, -0.0333])
    assert reactions(result) == pytest.approx(expected, rel=1e-2)
    M = result.stations().M_strong[0]
    assert abs(M[2, 0]) == pytest.approx(0.0333 * W * L**2, rel=1e-2)


def test_four_equal_spans():
    """Handbook coefficients, four equal spans (from memory; exact by statics)."""
    L = 2.0
    result = solve_one(continuous([L] * 4), q=DOWN)
    expected = W * L * np.array([11, 32, 26, 32, 11]) / 28
    assert reactions(result) == pytest.approx(expected)


def test_two_unequal_spans():
    """Continuous-beam table, two unequal spans: M = w(a^3 + b^3) / 8(a + b)."""
    a, b = 2.0, 3.2
    result = solve_one(continuous([a, b]), q=DOWN)
    M = -W * (a**3 + b**3) / (8 * (a + b))
    assert result.stations().M_strong[0, 0, -1] == pytest.approx(M)


@pytest.mark.parametrize(
    ("kind", "bending", "moment"),
    [
        ("uniform", 5 / 384, 1 / 8),
        ("centre", 1 / 48, 1 / 4),
        ("quarters", 11 / 768, 1 / 8),
        ("cantilever uniform", 1 / 8, 1 / 2),
        ("cantilever end", 1 / 3, 1.0),
    ],
)
def test_simple_beam_constants(kind, bending, moment):
    """Wood Handbook, Table 9-1: bending constants of simple beams and cantilevers."""
    L, P = 4.0, 900.0
    loads = {
        "uniform": {"q": [0, 0, -P / L]},
        "centre": {"p": {2: (0, 0, -P, 0, 0, 0)}},
        "quarters": {"p": dict.fromkeys((1, 3), (0, 0, -P / 2, 0, 0, 0))},
        "cantilever uniform": {"q": [0, 0, -P / L]},
        "cantilever end": {"p": {4: (0, 0, -P, 0, 0, 0)}},
    }[kind]
    frame = continuous([L], parts=4)
    if kind.startswith("cantilever"):
        frame = line([[0, 0, 0], [L, 0, 0]], {0: range(6)}, parts=4)
    stations = solve_one(frame, **loads).stations(9)
    sag = -stations.displacement[..., 2].min()
    assert sag == pytest.approx(bending * P * L**3 / (E * I_STRONG), rel=1e-9)
    assert np.abs(stations.M_strong).max() == pytest.approx(moment * P * L, rel=1e-9)


def test_off_centre_load():
    """Deflection under an off-centre load, P a^2 b^2 / 3EIL (any handbook)."""
    a, b, P = 1.1, 2.6, 800.0
    points = [[0, 0, 0], [a, 0, 0], [a + b, 0, 0]]
    frame = line(points, {0: (0, 1, 2, 3), 2: (1, 2)})
    result = solve_one(frame, p={1: (0, 0, -P, 0, 0, 0)})
    expected = P * a**2 * b**2 / (3 * E * I_STRONG * (a + b))
    assert -result.displacement[0, 1, 2] == pytest.approx(expected)


def test_fixed_portal_under_sway():
    """Portal, fixed feet, equal heights, load H at the eave: Kleinlogel's formulas.

    With k = I_beam h / (I_column l): M at the feet = H h (3k + 1) / 2(6k + 1), at the
    corners H h 3k / 2(6k + 1), for axially stiff members (Rahmenformeln, frame 8).
    """
    h, span, H = 3.0, 4.0, 1000.0
    xyz = [[0, 0, 0], [0, 0, h], [span, 0, h], [span, 0, 0]]
    frame = make_frame(
        xyz, [[0, 1], [1, 2], [2, 3]], {0: range(6), 3: range(6), 1: (1,), 2: (1,)},
        A=1e3,
    )  # fmt: skip
    result = solve_one(frame, p={1: (H, 0, 0, 0, 0, 0)})
    k = h / span
    M = np.abs(result.stations(2).M_strong[0])
    feet = H * h * (3 * k + 1) / (2 * (6 * k + 1))
    corner = H * h * 3 * k / (2 * (6 * k + 1))
    assert M[0] == pytest.approx([feet, corner], rel=1e-6)
    assert M[2] == pytest.approx([corner, feet], rel=1e-6)


@pytest.mark.parametrize(
    ("hinges", "at_i", "at_j", "middle"),
    [
        ((), -1 / 12, -1 / 12, 1 / 24),
        ((4,), 0, -1 / 8, 1 / 16),
        ((10,), -1 / 8, 0, 1 / 16),
        ((4, 10), 0, 0, 1 / 8),
    ],
)
def test_releases(hinges, at_i, at_j, middle):
    """Fixed, propped and simple spans under uniform load (any handbook)."""
    L = 3.0
    frame = make_frame(
        [[0, 0, 0], [L, 0, 0]], [[0, 1]], {0: range(6), 1: range(6)},
        release={0: hinges},
    )  # fmt: skip
    result = solve_one(frame, q=DOWN)
    M = result.stations(3).M_strong[0, 0] / (W * L**2)
    assert pytest.approx([at_i, middle, at_j], abs=1e-12) == M


def test_slack_axial_end_carries_no_axial_force_there():
    """A bar held at j alone hangs from it: N grows linearly from the slack end."""
    L = 2.0
    frame = make_frame(
        [[0, 0, 0], [L, 0, 0]], [[0, 1]], {0: range(6), 1: range(6)}, release={0: (0,)}
    )
    result = solve_one(frame, q=[-300.0, 0, 0])
    stations = result.stations(3)
    assert stations.N[0, 0] == pytest.approx([0, 300, 600])
    stretch = 300 * L**2 / (2 * frame.E[0] * frame.A[0])
    assert stations.displacement[0, 0, :, 0] == pytest.approx(
        [-stretch, -0.75 * stretch, 0]
    )
    assert result.reaction[0, :, 0] == pytest.approx([0, 600])


def test_tied_rafters():
    """Pin-jointed rafter pair with a tie: thrust w L^2 / 8h by statics."""
    half, h, w = 4.0, 2.0, 700.0
    slope = np.hypot(half, h)
    frame = make_frame(
        [[0, 0, 0], [0, half, h], [0, 2 * half, 0]],
        [[0, 1], [1, 2], [0, 2]],
        {0: (0, 1, 2, 4, 5), 1: (0, 4, 5), 2: (0, 2, 4, 5)},
        release={0: (4, 10), 1: (4, 10)},
        axial_only=[False, False, True],
    )
    result = solve_one(frame, q={k: [0, 0, -w * half / slope] for k in (0, 1)})
    thrust = w * (2 * half) ** 2 / (8 * h)
    stations = result.stations(3)
    assert stations.N[0, 2] == pytest.approx(thrust)
    assert stations.M_strong[0, :2, 1] == pytest.approx(w * half**2 / 8)
    ends = -(thrust * half / slope + w * half * h / slope)
    assert stations.N[0, 0, 0] == pytest.approx(ends)
    assert result.reaction[0, [0, 2], 2] == pytest.approx(w * half)
    assert result.reaction[0, 0, 1] == pytest.approx(0, abs=1e-9 * thrust)


def test_joist_as_a_spring_under_a_strut():
    """A strut on a joist: forces share by stiffness, P = w-reaction * series springs.

    Two beams crossing at midspan, joined by a strut: compatibility of midspan sags,
    5wL^4/384EI - R L^3/48EI = R L^3/48EI + R h/EA (force method, any textbook).
    """
    L, w, h = 4.0, 500.0, 1.5
    xyz = [[0, 0, h], [L / 2, 0, h], [L, 0, h],
           [L / 2, -L / 2, 0], [L / 2, 0, 0], [L / 2, L / 2, 0]]  # fmt: skip
    frame = make_frame(
        xyz, [[0, 1], [1, 2], [3, 4], [4, 5], [1, 4]],
        {0: (0, 1, 2, 3), 2: (1, 2), 3: (0, 1, 2, 4), 5: (0, 2), 1: (1,)},
        axial_only=[False] * 4 + [True], one_sided=[0, 0, 0, 0, 1],
    )  # fmt: skip
    result = solve_one(frame, q={0: [0, 0, -w], 1: [0, 0, -w]})
    EI, EA = E * I_STRONG, E * frame.A[0]
    R = (5 * w * L**4 / (384 * EI)) / (2 * L**3 / (48 * EI) + h / EA)
    assert result.stations(2).N[0, 4, 0] == pytest.approx(-R)
    assert result.stations(2).M_strong[0, 2, 1] == pytest.approx(R * L / 4)


def test_link_is_a_spring_in_series():
    """A cantilever tip on a spring: R = (P L^3/3EI) / (L^3/3EI + 1/k)."""
    L, P, k = 2.0, 400.0, 5e4
    links = Links([1], [-1], [[0, 0, 1.0]], [k], [1])
    frame = make_frame([[0, 0, 0], [L, 0, 0]], [[0, 1]], {0: range(6)}, links)
    result = solve_one(frame, p={1: (0, 0, -P, 0, 0, 0)})
    soft = L**3 / (3 * E * I_STRONG)
    assert result.link_force[0, 0] == pytest.approx(P * soft / (soft + 1 / k))


def test_biaxial_bending():
    """A beam turned about its axis bends about both, by the cosines of the turn."""
    L, turn = 3.0, np.radians(35)
    up = [[0, np.sin(turn), np.cos(turn)]]
    frame = make_frame(
        [[0, 0, 0], [L, 0, 0]], [[0, 1]], {0: (0, 1, 2, 3), 1: (1, 2)}, up=up
    )
    stations = solve_one(frame, q=DOWN).stations(3)
    strong, weak = W * np.cos(turn), W * np.sin(turn)
    assert stations.M_strong[0, 0, 1] == pytest.approx(strong * L**2 / 8)
    assert abs(stations.M_weak[0, 0, 1]) == pytest.approx(weak * L**2 / 8)
    bow = 5 * L**4 / 384 / E
    depth, across = np.array(up[0]), np.array([0, np.cos(turn), -np.sin(turn)])
    expected = (DOWN @ depth) * bow / frame.I_strong[0] * depth
    expected = expected + (DOWN @ across) * bow / frame.I_weak[0] * across
    assert stations.displacement[0, 0, 1] == pytest.approx(expected, abs=1e-12)
