"""What is stiff, pinned, held and loose in the analysis model of a roof."""

from __future__ import annotations

import numpy as np
import pytest
from loadfall.solver.report import results
from loadfall.solver.units import FOOT

from ..solve.houses import BUNGALOW, COTTAGE, changed, solved


@pytest.fixture(scope="module")
def cottage():
    return solved(COTTAGE)


def ends_free(solution, key):
    """Strong-axis hinges at the two ends of a member, and at its inner joints."""
    rows = solution.model.rows_of(key)
    release = solution.model.frame.release[rows]
    inner = np.concatenate([release[1:, 4], release[:-1, 10]])
    return bool(release[0, 4]), bool(release[-1, 10]), bool(inner.any())


def test_rafters_run_through_over_the_purlin_and_are_pinned_at_the_ends(cottage):
    assert ends_free(cottage, "R-S-05") == (True, True, False)
    rows = cottage.model.rows_of("R-S-05")
    assert rows.stop - rows.start == 3  # tail, to the purlin, to the ridge


def test_joists_lap_as_hinges_and_run_through_when_stated(cottage):
    assert ends_free(cottage, "CJ-05-1") == (True, True, False)
    whole = solved(COTTAGE, ceiling_joists={"over_walls": "continuous"})
    assert ends_free(whole, "CJ-05-1") == (True, True, False)
    assert "CJ-05-2" not in whole.model.members
    rows = whole.model.rows_of("CJ-05-1")
    ends = whole.model.frame.xyz[whole.model.frame.ends[rows]]
    assert ends[-1, 1, 1] == pytest.approx(26 * FOOT)


def test_continuous_joists_carry_moment_over_the_wall():
    """Two equal spans: hogging w l^2 / 8 over the wall, 1.25 w l on it."""
    plain = {"attic_live": "0 psf", "roof_live": "0 psf", "self_weight": False}
    whole = solved(
        COTTAGE, ceiling_joists={"over_walls": "continuous"}, loads=plain,
        purlins=[], struts=[],
    )  # fmt: skip
    w, span = 10 * 14.5939029, 13 * FOOT  # 5 psf every 2 ft, N/m
    assert whole.members["CJ-05-1"].moment == pytest.approx(-w * span**2 / 8, rel=1e-4)


def test_struts_push_and_never_pull(cottage):
    frame = cottage.model.frame
    for key in ("ST-S-03", "ST-N-08"):
        row = cottage.model.rows_of(key).start
        assert frame.axial_only[row]
        assert frame.one_sided[row] == 1


def test_ridge_boards_are_drawn_and_carry_nothing(cottage):
    assert "RIDGE" not in cottage.model.members
    assert cottage.members["RIDGE"].verdict.value in (
        "not counted", "breaks the rule but passes by analysis",
    )  # fmt: skip


def test_ridge_beams_carry():
    ridge = {"kind": "beam", "size": "2x12", "plies": 3, "posts": ["16 ft"]}
    solution = solved(COTTAGE, ridge=ridge, purlins=[], struts=[])
    assert "RIDGE" in solution.model.members
    assert solution.members["RIDGE"].utilisation > 0
    supports = results(solution)["supports"]
    post = supports["F-RIDGE-1"]["vertical"]["D+Lr"]
    # Half the roof between plate and ridge, over half the length: 16 ft of ridge, at
    # least 5/8 of 2 x 16 ft as of two equal spans of a stiff line of rafters.
    assert 0.5 < post / (supports["W-WEST"]["vertical"]["D+Lr"] * 10 / 3) < 2


def test_each_line_is_held_sideways_once():
    """Thrust goes into ties: two holds on one line would lean wall against wall."""
    for house in (COTTAGE, BUNGALOW, changed(COTTAGE, walls=[])):
        solution = solved(house)
        held: dict[float, set[str]] = {}
        for row in solution.model.ground:
            if row.direction == 1 and not row.member.startswith(("ST-", "B-")):
                x = round(float(solution.framing.points[row.node][0]), 6)
                held.setdefault(x, set()).add(row.owner)
        assert set(map(len, held.values())) == {1}
        assert len(held) == len(solution.framing.rafter_stations)


SPREAD = {
    "ceiling_joists": {"direction": "along"},
    "rafter_ties": {"size": "2x6", "height_ratio": 0.0, "spacing": "4 ft"},
    "purlins": [],
    "struts": [],
}


@pytest.mark.parametrize(
    ("parts", "part"), [({}, 1e-6), (SPREAD, 0.05)], ids=["each tied", "every other"]
)
def test_no_thrust_reaches_the_walls_of_a_symmetric_roof(parts, part):
    """Ties, and plates between them, take it all.

    With every other pair tied the ties' own stretch bends one plate more than the
    other, which leaves the holds a few per cent.
    """
    solution = solved(COTTAGE, **parts)
    pull = max(m.axial for m in solution.members.values() if m.role != "plate")
    assert pull > 1000
    for row in solution.model.ground:
        if row.direction == 1:
            push = solution.frame.reaction[:, row.node, 1]
            assert np.abs(push).max() < part * pull, row.owner


def test_weight_of_pin_ended_pieces_is_put_on_their_ends(cottage):
    frame, loads = cottage.model.frame, cottage.model.loads
    assert not loads.element_load[:, frame.axial_only].any()
    row = cottage.model.rows_of("ST-S-03").start
    foot = frame.ends[row, 0]
    assert loads.node_load[0, foot, 2] < 0


def test_what_has_no_load_path_is_left_out_with_its_loads():
    solution = solved(BUNGALOW, beams=[])
    gone = set(solution.path.faults)
    assert gone
    assert not gone & set(solution.model.members)
    kept = {solution.loads.member[n] for n in solution.model.stretch.tolist()}
    assert not gone & kept


def test_plates_take_part_only_where_a_rafter_needs_them():
    assert "PL-S" not in solved(COTTAGE).model.members
    spread = solved(COTTAGE, **SPREAD)
    assert {"PL-S", "PL-N"} <= set(spread.model.members)
    # Every other pair has its own tie; a plate hands the thrust between along.
    tie = spread.members["RT-08"].axial
    each = SPREAD["rafter_ties"] | {"spacing": "2 ft"}
    alone = solved(COTTAGE, **(SPREAD | {"rafter_ties": each})).members["RT-08"].axial
    assert tie == pytest.approx(2 * alone, rel=0.02)
