"""Gambrels: what holds a break, by hand, and what does not hold it."""

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.solve import solve
from loadfall.solver.verdict.model import Verdict
from loadfall.solver.verification import run_checks
from loadfall.solver.verification.forms import gambrel_on_gussets, gambrel_on_knee_walls

from ..analysis import peers
from ..outlines import rectangle


def gambrel(**how):
    upper = {"upper_pitch": "6:12", "from_plate": "5 ft"} | how
    roof = {"form": "gambrel", "pitch": "18:12", "overhang": "0 in", "gambrel": upper}
    return read_brief(rectangle("gambrel", 20, 24, roof=roof))


@pytest.fixture(scope="module")
def on_walls():
    return solve(gambrel())


def test_both_ways_to_hold_a_break_are_those_of_statics():
    """Worked on paper; see the two functions: H = w L^2 / 8 f, and one joint's sums.

    By hand, 32 psf over 20 ft of length: 640 x 24^2 / (8 x 11) = 4,189 lb on gussets;
    640 x 7^2 / (2 x 3.5) = 4,480 lb above hinges, 640 x 9.5 - 4,480 x 1.5 = -640 lb.
    """
    found = run_checks((gambrel_on_gussets, gambrel_on_knee_walls))
    expected = [c.expected for c in found]
    assert expected == pytest.approx([4189.1, 1018.2, 4480.0, -640.0], rel=1e-4)
    for check in found:
        assert check.ours == pytest.approx(check.expected, rel=1e-6)


@pytest.mark.parametrize(
    ("how", "word"), [({}, "fold"), ({"ties": True}, "sway")], ids=["nothing", "ties"]
)
def test_hinged_breaks_without_knee_walls_have_no_load_path(how, word):
    roof = solve(gambrel(knee_walls=False, **how))
    assert roof.overall is Verdict.NO_LOAD_PATH
    assert word in roof.path.faults["R-S1-05"]
    assert word in roof.path.faults["R-S1U-05"]


def test_knee_walls_without_joists_to_stand_on_hold_nothing():
    brief = gambrel()
    bare = rectangle("gambrel", 20, 24, ceiling_joists=None)
    assert brief.roof.gambrel.knee_walls
    roof = solve(read_brief(bare))
    assert not roof.framing.of_role(Role.KNEE_STUD)
    assert roof.overall is Verdict.NO_LOAD_PATH


def test_every_stud_stands_on_a_joist_under_its_rafter(on_walls):
    framing = on_walls.framing
    studs = framing.of_role(Role.KNEE_STUD)
    assert len(studs) == 22
    for stud in studs:
        assert on_walls.members[stud.key].stands_on.kind == "ceiling_joist"
        top, foot = framing.ends(stud.key)
        assert np.hypot(*(top - foot)[:2]) < 1e-6


def test_loads_and_reactions_balance(on_walls):
    assert not on_walls.refusal
    assert not on_walls.path.faults
    assert on_walls.flow("D+Lr").ground_imbalance < 1e-9
    assert on_walls.shares().error < 1e-8


def test_the_nails_of_a_tie_are_told():
    roof = solve(gambrel(ties=True))
    ends = [j for j in roof.joints if j.key.startswith("END-CT-S1-05")]
    assert len(ends) == 2
    assert {m for j in ends for m in j.members} >= {"R-S1-05", "R-N1-05"}
    assert ends[0].lateral.max() == pytest.approx(ends[1].lateral.max(), rel=1e-9)


def test_opensees_agrees_on_a_gambrel_with_gussets():
    roof = solve(gambrel(knee_walls=False, gussets=True))
    peers.agrees_with_opensees(roof, "displacement", "end_force_global")


def test_the_flatter_slope_takes_the_snow_of_its_own_pitch():
    """ASCE 7-16 7.4: C_s falls with the slope, and the flattest of the roof governs."""
    snow = {"snow": {"ground": "30 psf"}}
    brief = read_brief(rectangle("gambrel", 20, 24, loads=snow))
    steep = read_brief(
        rectangle("shed", 20, 24, loads=snow, roof={"form": "shed", "pitch": "18:12"})
    )
    balanced = [solve(b).loads.pressures.snow.balanced for b in (brief, steep)]
    assert balanced[0] > balanced[1]


@pytest.mark.parametrize(
    ("field", "gambrel_parts"),
    [
        ("roof.gambrel.from_plate", {"from_plate": "13 ft", "upper_pitch": "6:12"}),
        ("roof.gambrel", None),
    ],
)
def test_a_break_beyond_the_ridge_and_none_at_all_are_refused(field, gambrel_parts):
    roof = {"form": "gambrel", "pitch": "18:12", "overhang": "0 in"}
    if gambrel_parts:
        roof["gambrel"] = gambrel_parts
    with pytest.raises(BriefError) as error:
        frame_roof(read_brief(rectangle("gambrel", 20, 24, roof=roof)))
    assert error.value.field == field
