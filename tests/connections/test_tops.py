"""Ends of jacks, rafters and hips on what carries them, by free bodies."""

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.connections import JointKind
from loadfall.solver.connections.tops import on_a_face
from loadfall.solver.report import results
from loadfall.solver.solve import solve

from ..hips import hip


@pytest.fixture(scope="module")
def roof():
    return solve(read_brief(hip("posts")))


def joint(roof, key):
    return {j.key: j for j in roof.joints}[key]


def test_a_push_by_hand():
    """3, 4, 5: 5 N square to a face, 12 N down along it."""
    push, away = np.array([[3.0, 4.0, -12.0], [-3.0, -4.0, 1.0]]), [0.6, 0.8, 0.0]
    slide, pull = on_a_face(push, np.array(away))
    np.testing.assert_allclose(slide, [12.0, 1.0])
    np.testing.assert_allclose(pull, [5.0, 0.0])


def test_a_jack_turns_about_its_seat_by_nothing(roof):
    """Free body of one jack about its seat: its loads, and what its top gets back.

    The hip runs to the north-east, so its face looks south-east to the south jacks.
    """
    key = "J-S-03"
    rows, frame = roof.model.rows_of(key), roof.frame
    xyz, ends = frame.frame.xyz, frame.frame.ends[rows]
    seat, top = xyz[roof.framing.members[key].nodes[1]], xyz[ends[-1, 1]]
    push = -frame.end_force_global[:, rows, 1, :3][:, -1]
    length = np.linalg.norm(xyz[ends[:, 1]] - xyz[ends[:, 0]], axis=1)
    loads = np.einsum("cl,led->ced", roof.combinations.factors,
                      roof.model.loads.element_load[:, rows])  # fmt: skip
    middle = (xyz[ends[:, 0]] + xyz[ends[:, 1]]) / 2 - seat
    turning = np.cross(middle, loads * length[:, None]).sum(axis=1)[:, 0]
    given = np.cross(top - seat, push)[:, 0]
    np.testing.assert_allclose(turning, given, rtol=1e-6)
    away = np.array([1.0, -1.0, 0.0]) / np.sqrt(2)
    square = push @ away
    found = joint(roof, f"ON-{key}-HP-SW")
    assert found.kind is JointKind.HIP
    np.testing.assert_allclose(
        found.lateral**2, (push**2).sum(axis=1) - square**2, rtol=1e-9
    )
    np.testing.assert_allclose(found.withdrawal, np.maximum(square, 0), atol=1e-9)


def test_four_jacks_alike_have_four_joints_alike(roof):
    keys = [k for k in (j.key for j in roof.joints) if k.startswith("ON-J-S-03-")]
    assert keys == ["ON-J-S-03-HP-SW"]
    south, north = joint(roof, keys[0]), joint(roof, "ON-J-N-03-HP-NW")
    np.testing.assert_allclose(south.lateral, north.lateral, rtol=1e-6)
    assert south.needed == north.needed >= south.least == 4
    assert south.rule == "IRC 2018 Table R602.3(1)"


def test_hips_end_on_the_ridge_and_stand_on_the_corner():
    """Without a brace the hips push both plates of a corner apart."""
    roof = solve(read_brief(hip("plain")))
    assert joint(roof, "ON-HP-SW-RIDGE").kind is JointKind.RIDGE
    lap = joint(roof, "CORNER-PL-S-PL-W")
    assert lap.kind is JointKind.CORNER
    frame, pulls = roof.frame, []
    for key, axis in (("PL-S", 0), ("PL-W", 1)):
        first = roof.model.rows_of(key).start
        pulls.append(-frame.end_force_global[:, first, 0, axis])
    np.testing.assert_allclose(lap.lateral, np.max(pulls, axis=0), rtol=1e-9)
    assert lap.lateral.max() > 100
    assert lap.needed >= 1
    assert joint(roof, "PLATE-HP-SW").lateral.max() > 100


def test_stated_nails_reach_the_verdict_and_the_results():
    data = hip("posts")
    data["rafters"] = data["rafters"] | {"top_nails": 1}
    solution = solve(read_brief(data))
    worst = max(
        (j for j in solution.joints if j.key.startswith("ON-")),
        key=lambda j: j.utilisation or 0,
    )
    assert worst.utilisation > 1
    assert worst.passes is False
    assert worst.keeps_rule is False
    assert solution.overall.value in ("over its limit", "no load path")
    written = results(solution)["connections"][worst.key]
    assert written["yield_mode"]
    assert written["utilisation"] == pytest.approx(worst.utilisation)
