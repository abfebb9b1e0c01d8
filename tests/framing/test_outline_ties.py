"""Ties over drawn outlines, and heel joints that give, by hand statics."""

from __future__ import annotations

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT, INCH

from ..outlines import outline

COLLARS = {"size": "2x4", "height_ratio": 0.75, "spacing": "4 ft"}
RAFTER_TIES = {"size": "2x6", "height_ratio": 0.3, "spacing": "4 ft"}
GABLED = {"corners": [(0, 0), (40, 0), (40, 24), (0, 24)]}


def barn(**parts):
    """A rectangle drawn corner by corner, gables east and west, 24 ft by 40 ft."""
    corners = [{"at": [f"{x} ft", f"{y} ft"]} for x, y in GABLED["corners"]]
    corners[1]["edge"] = corners[3]["edge"] = "gable"
    return outline("L") | {"footprint": {"outline": corners}} | parts


@pytest.mark.parametrize("name", ["L", "T", "cross"])
def test_collar_ties_join_pairs_at_one_height_no_farther_than_stated(name):
    """0.75 of a rise of 6 ft is 4.5 ft where the ridge is 12 ft from its plates."""
    framing = frame_roof(read_brief(outline(name, collar_ties=COLLARS)))
    ties = framing.of_role(Role.COLLAR_TIE)
    assert ties
    rows = {}
    for tie in ties:
        start, end = framing.ends(tie.key)
        assert start[2] == pytest.approx(end[2], abs=INCH)
        tops = {framing.members[k].nodes[-1] for node in tie.nodes
                for k in framing.by_node[node] if k[:2] in ("R-", "J-")}  # fmt: skip
        (top,) = tops
        assert start[2] / framing.points[top, 2] == pytest.approx(0.75, abs=0.02)
        rows.setdefault(tie.key.rpartition("-")[0], []).append((start + end) / 2)
    for row in rows.values():
        gaps = np.linalg.norm(np.diff(row, axis=0), axis=1)
        assert (gaps <= 4 * FOOT + 2 * FOOT + 1e-6).all()


def test_rafter_ties_hold_what_no_joist_does():
    """Three hinges: H = w L^2 / (8 (h - e)) for each pair; the plates, bent sideways
    between the gables, take some per cent of it."""
    loads = {"roof_dead": "20 psf", "roof_dead_on": "plan", "roof_live": "0 psf",
             "ceiling_dead": "0 psf", "self_weight": False}  # fmt: skip
    parts = {"ceiling_joists": None, "loads": loads}
    bare = solve(read_brief(barn(**parts)))
    assert bare.path.untied_rafters
    ties = RAFTER_TIES | {"spacing": "24 in"}
    tied = solve(read_brief(barn(rafter_ties=ties, **parts)))
    assert not tied.path.faults
    middle = tied.framing.of_role(Role.RAFTER_TIE)[10]
    pull = tied.checked.stations.N[:, tied.model.rows_of(middle.key).start, 0].max()
    w = 20 * 47.880259 * 2 * FOOT
    expected = w * (24 * FOOT) ** 2 / (8 * (6 - 0.3 * 6) * FOOT)
    assert pull == pytest.approx(expected, rel=0.02)


def test_a_heel_that_gives_spreads_the_walls_by_thrust_over_stiffness():
    """As under a gable: what the tie's ends part from the rafters' feet is N / k."""
    heel = {"nail": "16d common", "count": 4, "slip": "stated",
            "slip_stiffness": "1 kN/mm"}  # fmt: skip
    stiff, slips = (solve(read_brief(barn(**parts)))
                    for parts in ({}, {"heel_joint": heel}))  # fmt: skip
    key = "CJ-1010-1"
    feet = stiff.framing.members[key].nodes[0], stiff.framing.members[key].nodes[-1]
    row = stiff.combinations.row("D+Lr")

    def apart(solution):
        moved = solution.frame.displacement[row, list(feet), 1]
        return float(moved[1] - moved[0])

    rows = slips.model.rows_of(key)
    pull = float(slips.checked.stations.N[row, rows.start, 0])
    assert pull > 0
    stretched = pull * 24 * FOOT / (slips.model.frame.E[rows.start]
                                    * slips.model.frame.A[rows.start])  # fmt: skip
    k = 4 * 1e6  # four nails of 1 kN/mm
    assert apart(slips) == pytest.approx(2 * pull / k + stretched, rel=0.02)
    assert slips.frame.residual.max() < 1e-9


def test_heels_give_along_joists_at_an_angle():
    heel = {"nail": "16d common", "count": 4, "slip": "stated",
            "slip_stiffness": "1 kN/mm"}  # fmt: skip
    solution = solve(read_brief(outline("drawn", heel_joint=heel)))
    assert solution.frame is not None
    flow = solution.flow("D+Lr")
    assert flow.ground_imbalance < 1e-9
