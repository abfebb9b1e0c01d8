"""Influence over a roof, against every unit load applied and solved one by one.

The brute force keeps the contact state of the combination by taking out what does not
act and letting nothing else change.
"""

from dataclasses import replace

import numpy as np
import pytest
from loadfall.solver.analysis import LoadSet, Stations, solve
from loadfall.solver.influence import InfluenceError, Quantity, influence_of
from loadfall.tests.solve.houses import BUNGALOW, COTTAGE, changed, solved

from .frozen import frozen

TOLERANCE = 1e-9
COMBINATION = "D+0.75L+0.75Lr"


@pytest.fixture(scope="module")
def roof():
    """A house of 3 bays whose struts stand on joists; wind makes contacts open."""
    return solved(
        changed(
            COTTAGE,
            footprint={"length": "8 ft"},
            walls=[
                {"name": "spine", "start": ["0 ft", "13 ft"], "end": ["8 ft", "13 ft"]}
            ],
            loads={"attic_live": "10 psf", "wind_uplift": "30 psf"},
        )
    )


@pytest.fixture(scope="module")
def bungalow():
    return solved(BUNGALOW)


def unit_solution(roof, row):
    """Every unit downward line load on one kept element at a time, all solved."""
    frame, keep, on = frozen(roof.frame, row)
    m = frame.n_elements
    load = np.zeros((m, m, 3))
    load[np.arange(m), np.arange(m), 2] = -1.0
    cases = LoadSet(tuple(map(str, range(m))), load, np.zeros((m, frame.n_nodes, 6)))
    return solve(frame, cases, np.eye(m)), keep, on


def at(result, element, x):
    """Stations at one distance from the i end of an element, (ncase, m, 1)."""
    fraction = x / result.system.elements.L[element]
    return Stations(result.end_state, np.array([fraction]))


def place(roof, key, new, station):
    """Kept element of a member, and distance along it, of a station."""
    rows = roof.model.rows_of(key)
    starts = roof.model.start[rows]
    n = max(int(np.searchsorted(starts, station + 1e-9, "right")) - 1, 0)
    return new[rows.start + n], max(station - starts[n], 0.0)


def read(roof, result, keep, on, found):
    """The influenced number in every unit case, (m,)."""
    new = np.cumsum(keep) - 1
    if found.quantity is Quantity.REACTION:
        rows = [
            r for r in roof.model.ground if r.owner == found.key and r.direction == 2
        ]
        link = np.cumsum(on) - 1
        total = result.reaction[:, [r.node for r in rows if r.link < 0], 2].sum(axis=1)
        kept = [link[r.link] for r in rows if r.link >= 0 and on[r.link]]
        return total + result.link_force[:, kept].sum(axis=1)
    if found.quantity is Quantity.SAG:
        return sag(roof, result, new, found)
    element, x = place(roof, found.key, new, found.station)
    stations = at(result, element, x)
    values = stations.M_strong if found.quantity is Quantity.MOMENT else stations.N
    return values[:, element, 0]


def sag(roof, result, new, found):
    """Sag at the station from the chord of the span, from displacements alone."""
    up = np.array(roof.framing.members[found.key].up)

    def down(station):
        element, x = place(roof, found.key, new, station)
        return -(at(result, element, x).displacement[:, element, 0] @ up)

    start, end = found.span
    part = (found.station - start) / (end - start)
    return down(found.station) - (1 - part) * down(start) - part * down(end)


CASES = [
    ("CJ-02-1", Quantity.MOMENT), ("R-S-02", Quantity.MOMENT), ("P-S", Quantity.MOMENT),
    ("CJ-02-1", Quantity.SAG), ("R-N-01", Quantity.SAG), ("P-N", Quantity.SAG),
    ("ST-S-01", Quantity.AXIAL), ("R-S-02", Quantity.AXIAL),
    ("CJ-02-1", Quantity.AXIAL),
    ("W-spine", Quantity.REACTION), ("W-SOUTH", Quantity.REACTION),
]  # fmt: skip


@pytest.mark.parametrize("combination", [COMBINATION, "0.6D+0.6W"])
def test_equals_every_unit_load_solved_by_itself(roof, combination):
    row = roof.combinations.row(combination)
    result, keep, on = unit_solution(roof, row)
    new = np.cumsum(keep) - 1
    carries = [n for n, s in enumerate(roof.model.stretch) if roof.loads.surface[s]]
    length = roof.frame.system.elements.L[carries]
    for key, quantity in CASES:
        found = influence_of(roof, key, quantity, combination)
        expected = read(roof, result, keep, on, found)[new[carries]] / length
        error = np.abs(found.per_force - expected).max()
        assert error <= TOLERANCE * np.abs(expected).max(), (key, quantity)


@pytest.mark.parametrize("combination", [COMBINATION, "0.6D+0.6W"])
def test_points_equal_a_force_put_there(roof, combination):
    """Every element with a surface is cut at its middle and loaded there."""
    row = roof.combinations.row(combination)
    frame, keep, _ = frozen(roof.frame, row)
    found = influence_of(roof, "W-spine", Quantity.REACTION, combination, points=3)
    carries = [n for n, s in enumerate(roof.model.stretch) if roof.loads.surface[s]]
    new = np.cumsum(keep) - 1
    for n, element in list(enumerate(carries))[::7]:
        cut, node = cut_in_half(frame, new[element])
        load = np.zeros((1, cut.n_nodes, 6))
        load[0, node, 2] = -1.0
        cases = LoadSet(("1",), np.zeros((1, cut.n_elements, 3)), load)
        result = solve(cut, cases, np.eye(1))
        on = roof.frame.link_active[row]
        expected = read(roof, result, keep, on, found)[0]
        assert found.point_per_force[n, 1] == pytest.approx(expected, abs=1e-9)


def cut_in_half(frame, element):
    """The frame with one element in two halves, and the node between."""
    i, j = frame.ends[element]
    middle = frame.n_nodes
    xyz = np.concatenate([frame.xyz, frame.xyz[[i, j]].mean(axis=0, keepdims=True)])
    held = np.zeros((1, 6), bool)
    held[0, 0] = True  # along the ridge, as every joint
    order = np.insert(np.arange(frame.n_elements), element + 1, element)
    ends = frame.ends[order].copy()
    ends[element, 1] = ends[element + 1, 0] = middle
    release = frame.release[order].copy()
    release[element, 6:], release[element + 1, :6] = False, False
    release[element, 9] = release[element + 1, 3] = False
    per_element = ("up", "A", "I_strong", "I_weak", "J", "E", "G", "axial_only",
                   "one_sided", "element_member")  # fmt: skip
    return replace(
        frame, xyz=xyz, fixed=np.concatenate([frame.fixed, held]), ends=ends,
        release=release, **{name: getattr(frame, name)[order] for name in per_element},
    ), middle  # fmt: skip


@pytest.mark.parametrize("combination", ["D", COMBINATION, "0.6D+0.6W", None])
def test_influence_times_the_loads_is_the_number_itself(roof, combination):
    for key, quantity in CASES:
        found = influence_of(roof, key, quantity, combination)
        size = np.abs(found.contribution).sum()
        assert abs(found.total - found.value) <= TOLERANCE * size, (key, quantity)


def test_of_a_whole_bungalow(bungalow):
    """Members over the header, in their own worst combination."""
    for key, quantity in (
        (bungalow.worst.key, Quantity.MOMENT),
        (bungalow.worst.key, Quantity.SAG),
        ("B-living", Quantity.MOMENT),
        ("ST-S-03", Quantity.AXIAL),
        ("W-spine", Quantity.REACTION),
    ):
        found = influence_of(bungalow, key, quantity)
        assert found.value
        assert found.total == pytest.approx(found.value, rel=TOLERANCE)
        assert len(found.member) == len(found.surface) == len(found.per_pressure)
        assert set(found.surface) == {"roof S", "roof N", "ceiling"}
        assert found.points.shape == (len(found.member), 5, 3)


def test_a_sag_off_the_middle_of_a_span_whose_end_gives(bungalow):
    """CJ-12-2 rests on the header at one end and on the plate at the other."""
    found = influence_of(bungalow, "CJ-12-2", Quantity.SAG, "D+Lr")
    start, end = found.span
    assert abs((found.station - start) / (end - start) - 0.5) > 0.02
    assert found.total == pytest.approx(found.value, rel=TOLERANCE)


def test_the_shares_of_a_wall_are_the_traces_own(bungalow):
    """Two ways to one number: reaction influence and the shares of the trace."""
    shares = bungalow.shares("D+Lr")
    found = influence_of(bungalow, "W-spine", Quantity.REACTION, "D+Lr")
    row = shares.owners.index("W-spine")
    carries = [
        n for n, s in enumerate(bungalow.model.stretch) if bungalow.loads.surface[s]
    ]
    assert found.per_force == pytest.approx(shares.element[row, carries], abs=1e-12)


def test_a_joist_sags_most_under_its_own_ceiling(bungalow):
    """Per pound, no other stretch of ceiling or roof tells as much on its sag."""
    joists = [m for m in bungalow.members.values() if m.role == "ceiling_joist"]
    key = max(joists, key=lambda m: m.utilisation).key
    found = influence_of(bungalow, key, Quantity.SAG)
    assert found.member[int(np.abs(found.per_force).argmax())] == key


@pytest.mark.parametrize(
    ("key", "quantity", "combination"),
    [
        ("CJ-99-1", Quantity.MOMENT, None), ("W-nowhere", Quantity.REACTION, None),
        ("ST-S-01", Quantity.SAG, None), ("CJ-02-1", Quantity.MOMENT, "D+X"),
    ],
)  # fmt: skip
def test_what_there_is_not_is_refused_by_name(roof, key, quantity, combination):
    with pytest.raises(InfluenceError) as caught:
        influence_of(roof, key, quantity, combination)
    assert (combination or key) in str(caught.value)


def test_some_contacts_are_open_in_the_second_state(roof):
    row = roof.combinations.row("0.6D+0.6W")
    assert not roof.frame.link_active[row].all()
