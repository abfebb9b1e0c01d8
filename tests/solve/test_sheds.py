"""Shed roofs: each rafter a simple beam between its two walls, and no thrust."""

import numpy as np
import pytest
from loadfall.solver.brief import read_brief, write_record
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT, PSF

from ..analysis import peers
from ..outlines import rectangle

BARE = {"roof_dead": "12 psf", "roof_dead_on": "plan", "self_weight": False}


@pytest.fixture(scope="module")
def shed():
    """20 ft by 12 ft without tails, joists or weights of its own."""
    roof = {"form": "shed", "pitch": "4:12", "overhang": "0 in"}
    parts = {"roof": roof, "ceiling_joists": None, "loads": BARE}
    return solve(read_brief(rectangle("shed", 20, 12, **parts)))


def test_a_rafter_is_a_simple_beam_by_hand(shed):
    """M = w l^2 / 8, w per foot of plan: 2 ft of 12 + 20 psf is 64 lb/ft.

    By hand over 12 ft: 64 x 12^2 / 8 = 1,152 lb ft; each wall has 64 x 12 / 2 = 384 lb.
    """
    w = 2 * FOOT * (12 + 20) * PSF
    row = shed.combinations.row("D+Lr")
    elements = shed.model.rows_of("R-S1-05")
    up = shed.frame.end_force_global[row, elements, :, 2]
    assert up[0, 0] == pytest.approx(w * 12 * FOOT / 2, rel=1e-9)
    hand = shed.hand.rafters[0].moment[row]
    assert hand == pytest.approx(w * (12 * FOOT) ** 2 / 8, rel=1e-9)
    middle = shed.members["R-S1-05"]
    assert middle.moment == pytest.approx(hand, rel=1e-6)


def test_it_pushes_no_wall_outward(shed):
    """Two walls hold it plumb; what is level sums to nothing at either."""
    level = np.abs(shed.frame.reaction[..., :2]).max()
    assert level < 1e-6 * np.abs(shed.frame.reaction[..., 2]).max()
    assert shed.hand.thrust is None
    assert not shed.path.faults


def test_it_needs_no_ties_and_the_audit_asks_for_none():
    roof = solve(read_brief(rectangle("shed")))
    assert not roof.path.untied_rafters
    assert not [f for f in roof.findings if f.rule == "tie_spacing"]


def test_snow_does_not_drift_over_a_single_slope():
    """ASCE 7-16 7.6: unbalanced snow belongs to hip, gable and curved roofs."""
    loads = {"snow": {"ground": "30 psf"}}
    roof = solve(read_brief(rectangle("shed", 20, 12, loads=loads)))
    assert all(p.drift is None for p in roof.loads.pressures.planes)


def test_opensees_agrees_on_a_shed_with_its_tails():
    shed = solve(read_brief(rectangle("shed", 20, 12)))
    peers.agrees_with_opensees(shed)


def test_a_high_wall_is_a_side_of_a_drawn_outline_too():
    """A lean-to drawn by its corners is the shed over the rectangle."""
    corners = [
        {"at": ["0 ft", "0 ft"]},
        {"at": ["40 ft", "0 ft"], "edge": "gable"},
        {"at": ["40 ft", "26 ft"], "edge": "high_wall"},
        {"at": ["0 ft", "26 ft"], "edge": "gable"},
    ]
    roof = {"pitch": "4:12", "overhang": "16 in"}
    drawn = rectangle("shed", footprint={"outline": corners}, roof=roof)
    one, other = (frame_roof(read_brief(b)) for b in (drawn, rectangle("shed")))
    assert set(one.members) == set(other.members)
    np.testing.assert_allclose(one.points, other.points)


def test_a_high_wall_that_the_roof_ends_on_at_a_slant_is_refused():
    corners = [
        {"at": ["0 ft", "0 ft"]},
        {"at": ["40 ft", "0 ft"], "edge": "high_wall"},
        {"at": ["40 ft", "26 ft"]},
        {"at": ["0 ft", "26 ft"], "edge": "gable"},
    ]
    with pytest.raises(BriefError) as error:
        frame_roof(read_brief(rectangle("shed", footprint={"outline": corners})))
    assert error.value.field == "footprint.outline[1].edge"


def test_its_rafters_reach_past_both_walls():
    brief = read_brief(rectangle("shed"))
    framing = frame_roof(brief)
    rafter = framing.of_role(Role.RAFTER)[3]
    start, end = framing.ends(rafter.key)
    over = brief.roof.overhang
    assert start[1] == pytest.approx(-over)
    assert end[1] == pytest.approx(brief.footprint.width + over)
    (high,) = (m for m in framing.of_role(Role.PLATE) if m.key.startswith("PH"))
    rise = brief.footprint.width * brief.roof.pitch
    assert framing.ends(high.key)[0][2] == pytest.approx(rise)


def test_a_shed_brief_reads_back_as_itself():
    brief = read_brief(rectangle("shed"))
    assert read_brief(write_record(brief)) == brief
