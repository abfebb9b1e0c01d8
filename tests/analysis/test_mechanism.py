"""Frames that cannot stand are named; idle rotations are not mistaken for them."""

from dataclasses import replace

import numpy as np
import pytest
from loadfall.solver.analysis import Links, UnstableFrameError
from loadfall.solver.analysis.frame import FrameError
from loadfall.solver.errors import MechanismError

from .frames import continuous, line, make_frame, solve_one
from .roof import roof_frame


def test_rafters_without_tie_spread():
    """A pinned rafter pair on sliding plates: the plates and the ridge move."""
    frame = make_frame(
        [[0, 0, 0], [0, 4, 2], [0, 8, 0]], [[0, 1], [1, 2]],
        {0: (0, 2, 4, 5), 1: (0, 4, 5), 2: (0, 2, 4, 5)},
        release={0: (4, 10), 1: (4, 10)},
    )  # fmt: skip
    with pytest.raises(UnstableFrameError) as caught:
        solve_one(frame, q=[0, 0, -100.0])
    error = caught.value
    assert isinstance(error, MechanismError)
    assert set(error.nodes) == {0, 1, 2}
    assert "uy" in str(error)
    assert "uz" in str(error)
    assert error.modes.shape == (2, 3, 6)


def test_each_of_many_mechanisms_is_found():
    """Twelve rafter pairs, five of them without a tie: those five are named."""
    xyz, ends, fixed, release, bars = [], [], {}, {}, []
    for s in range(12):
        base = len(xyz)
        xyz += [[s, 0, 0], [s, 4, 2], [s, 8, 0]]
        pair = [(base, base + 1), (base + 1, base + 2)]
        for k in range(2):
            release[len(ends) + k] = (4, 10)
        ends += pair
        bars += [False, False]
        if s not in (3, 4, 5, 6, 9):
            ends.append((base, base + 2))
            bars.append(True)
        fixed |= {
            base: (0, 1, 2, 4, 5),
            base + 1: (0, 4, 5),
            base + 2: (0, 2, 4, 5),
        }
    frame = make_frame(xyz, ends, fixed, release=release, axial_only=bars)
    with pytest.raises(UnstableFrameError) as caught:
        solve_one(frame, q=[0, 0, -100.0])
    assert len(caught.value.modes) == 5
    loose = {3 * s + k for s in (3, 4, 5, 6, 9) for k in (1, 2)}
    assert set(caught.value.nodes) == loose


def test_the_null_vector_strains_nothing():
    frame = line([[0, 0, 0], [2, 0, 0], [4, 0, 0]], {0: (0, 1, 2, 3, 5)})
    with pytest.raises(UnstableFrameError) as caught:
        solve_one(frame, q=[0, 0, -10.0])
    mode = caught.value.modes[0]
    slope = mode[0, 4]
    assert mode[:, 2] == pytest.approx(-slope * frame.xyz[:, 0], abs=1e-6)


def test_node_between_two_bars_is_loose_even_without_load():
    frame = make_frame(
        [[0, 0, 0], [1, 0, 0], [2, 0, 0]], [[0, 1], [1, 2]],
        {0: range(6), 2: range(6)}, axial_only=True,
    )  # fmt: skip
    with pytest.raises(UnstableFrameError, match="nodes 1 move freely"):
        solve_one(frame, p={1: (5, 0, 0, 0, 0, 0)})


def test_skew_bars_in_line_are_loose():
    frame = make_frame(
        [[0, 0, 0], [1, 2, 3], [2, 4, 6]], [[0, 1], [1, 2]],
        {0: range(6), 2: range(6)}, axial_only=True,
    )  # fmt: skip
    with pytest.raises(UnstableFrameError):
        solve_one(frame, p={1: (1, 2, 3, 0, 0, 0)})


@pytest.mark.parametrize("end", [[3, 0, 0], [2, 1, 0.5], [0, 0, 3]])
def test_spin_of_a_pinned_member_is_dropped(end):
    """A pin-ended beam spins about its axis at no cost and carries its load."""
    frame = line([[0, 0, 0], end], {0: (0, 1, 2), 1: (0, 1, 2)})
    result = solve_one(frame, q=[0, 100.0, -300])
    assert len(result.dropped) == 1
    assert result.dropped[0] % 6 >= 3
    assert result.residual.max() < 1e-11
    assert np.abs(result.imbalance()).max() < 1e-8


def test_many_joists_spin_at_once():
    """Joists lapped in line share one spin; each line loses one freedom."""
    xyz, ends, fixed = [], [], {}
    for s in range(30):
        base = len(xyz)
        xyz += [[s, 0, 0], [s, 2, 0], [s, 4, 0]]
        ends += [(base, base + 1), (base + 1, base + 2)]
        fixed |= {base + k: (0, 1, 2) for k in range(3)}
    result = solve_one(make_frame(xyz, ends, fixed), q=[0, 0, -100.0])
    assert len(result.dropped) == 30
    assert result.stations().M_strong.min() == pytest.approx(-100 * 4 / 8)


def test_load_on_a_dropped_freedom_is_refused():
    frame = continuous([3.0])
    fixed = frame.fixed.copy()
    fixed[0, 3] = False
    frame = replace(frame, fixed=fixed)
    solve_one(frame, q=[0, 0, -10.0])
    with pytest.raises(UnstableFrameError):
        solve_one(frame, q=[0, 0, -10.0], p={1: (0, 0, 0, 7, 0, 0)})


def test_a_layout_whose_idle_spin_is_idle_no_more_is_not_trusted():
    """The same topology, turned so that the dropped rotation bears load."""
    links = Links.none()
    xyz = [[0, 0, 0], [2, 0, 0], [2, 0, -1]]
    flat = make_frame(
        xyz, [[0, 1], [1, 2]], {0: (0, 1, 2), 1: (1, 2), 2: (0, 1, 2, 3, 4, 5)},
        links, release={1: (3, 4, 5, 9, 10, 11)},
    )  # fmt: skip
    first = solve_one(flat, q={0: [0, 0, -10.0]})
    bent = replace(flat, xyz=np.array([[0, 0, 0], [2, 0, 0], [2, 1.0, -1]]))
    again = solve_one(bent, q={0: [0, 0, -10.0]}, layout=first.layout)
    fresh = solve_one(bent, q={0: [0, 0, -10.0]})
    assert again.displacement == pytest.approx(fresh.displacement, abs=1e-12)


def test_near_mechanism_has_a_small_pivot():
    """A beam held sideways by a spring of almost nothing is told by its pivot."""

    def weakest(stiffness):
        links = Links([1], [-1], [[0, 0, 1.0]], [stiffness], [0])
        frame = line([[0, 0, 0], [2, 0, 0]], {0: (0, 1, 2, 3, 5)}, links=links)
        return solve_one(frame, q=[0, 0, -1e-6]).weakest_pivot[0]

    assert weakest(1e5) > 1e-3
    assert weakest(1e-2) < 1e-6
    with pytest.raises(UnstableFrameError):
        weakest(1e-9)


def test_isolated_node_is_ignored():
    frame = make_frame([[0, 0, 0], [2, 0, 0], [9, 9, 9]], [[0, 1]], {0: range(6)})
    result = solve_one(frame, q=[0, 0, -10.0])
    assert len(result.dropped) == 6
    with pytest.raises(UnstableFrameError):
        solve_one(frame, p={2: (1, 0, 0, 0, 0, 0)})


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"A": np.array([0.0])}, r"frame\.A\[0\]"),
        ({"E": np.array([np.nan])}, r"frame\.E\[0\]"),
        ({"I_strong": np.array([-1.0])}, "I_strong"),
        ({"ends": np.array([[0, 7]])}, "ends"),
        ({"ends": np.array([[0, 0]])}, "an element of length"),
        ({"up": np.array([[5.0, 0, 0]])}, "up"),
        ({"xyz": np.array([[0, 0, 0], [np.inf, 0, 0]])}, "xyz"),
        ({"one_sided": np.array([1])}, "one_sided"),
        ({"release": np.eye(12, dtype=bool)[[1]]}, "release"),
        ({"release": np.eye(12, dtype=bool)[[0]] | np.eye(12, dtype=bool)[[6]]}, "ux"),
        ({"fixed": np.zeros((2, 5), bool)}, "fixed"),
        ({"links": Links([0], [1], [[0, 0, 1.0]], [1e3], [0])}, "links.direction"),
        ({"links": Links([0], [-1], [[0, 0, 2.0]], [1e3], [0])}, "links.direction"),
        ({"links": Links([0], [-1], [[0, 0, 1.0]], [0.0], [0])}, "links.stiffness"),
        ({"links": Links([0], [9], [[0, 0, 1.0]], [1.0], [0])}, r"links\.j"),
    ],
)
def test_bad_arrays_are_refused_by_name(change, field):
    frame = make_frame([[0, 0, 0], [2, 0, 0]], [[0, 1]], {0: range(6)})
    with pytest.raises(FrameError, match=field):
        solve_one(replace(frame, **change), q=None)


def test_bad_loads_are_refused_by_name():
    frame = make_frame([[0, 0, 0], [2, 0, 0]], [[0, 1]], {0: range(6)})
    with pytest.raises(FrameError, match="element_load"):
        solve_one(frame, q=[0, 0, np.nan])


def test_the_roof_frame_stands():
    frame, _, _ = roof_frame(stations=3, one_sided=True)
    assert solve_one(frame, q=[0, 0, -10.0]).residual.max() < 1e-10
