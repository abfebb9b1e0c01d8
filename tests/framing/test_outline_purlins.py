"""Purlin lines and struts over drawn outlines, where the statics of them are known.

Level lines, forces and places are worked out by hand in each test; the rule on feet is
IRC 2018 R802.4.5.
"""

from __future__ import annotations

import json

import numpy as np
import pytest
from loadfall.solver.brief import example_text, read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT

from ..hips import hip
from ..outlines import CORNERS, outline

RING = {"name": "ring", "slope": "all", "height": "4 ft", "size": "2x8"}
STRUTS = {"purlin": "ring",
          "foot": {"on": "nearest_wall", "otherwise": "ceiling_joist"}}  # fmt: skip


def ringed(name="L", gabled=False, **parts):
    """A drawn outline with a purlin line under every plane, 4 ft high."""
    return (
        outline(name, gabled=gabled) | {"purlins": [RING], "struts": [STRUTS]} | (parts)
    )


def framed(*args, **parts):
    return frame_roof(read_brief(ringed(*args, **parts)))


@pytest.fixture(scope="module")
def house():
    return solve(read_brief(ringed()))


@pytest.mark.parametrize("name", sorted(CORNERS))
def test_a_ring_is_the_outline_moved_in_and_closed_on_itself(name):
    """Every line ends where another begins, 6 ft in from its plate at 6:12."""
    framing = framed(name, purlins=[RING | {"height": "3 ft"}])
    ends = [n for m in framing.of_role(Role.PURLIN) for n in (m.nodes[0], m.nodes[-1])]
    assert all(ends.count(node) == 2 for node in ends)
    for purlin in framing.of_role(Role.PURLIN):
        plane = framing.plan.plane(purlin.slope)
        for point in framing.points[list(purlin.nodes)]:
            assert point[2] == pytest.approx(3 * FOOT)
            away = (point[:2] - plane.polygon[0]) @ plane.uphill
            assert away / FOOT == pytest.approx(6)


def test_a_line_along_a_ridge_holds_nothing_and_is_left_out():
    """The wings of the Z have their ridge at 4 ft: a line goes on under the main roof
    alone, where rafters pass over it."""
    framing = framed("Z")
    on = {c.lower for c in framing.contacts}
    assert {m.key for m in framing.of_role(Role.PURLIN)} <= on


def test_hips_and_valleys_rest_where_lines_meet(house):
    framing = house.framing
    over = {c.upper for c in framing.contacts if c.upper[:2] in ("HP", "VL")}
    assert over == {m.key for m in framing.of_role(Role.HIP_RAFTER, Role.VALLEY_RAFTER)}


def test_every_rafter_that_a_line_passes_rests_on_it(house):
    framing = house.framing
    on = {c.upper for c in framing.contacts if c.lower.startswith("P-")}
    for rafter in framing.of_role(Role.RAFTER, Role.JACK_RAFTER):
        z = framing.points[list(rafter.nodes), 2]
        passes = z.min() < 4 * FOOT - 0.02 and z.max() > 4 * FOOT + 0.02
        assert (rafter.key in on) == passes


def test_struts_stand_alike_from_both_ends_no_farther_than_the_rule(house):
    framing = house.framing
    for purlin in framing.of_role(Role.PURLIN):
        tops = [framing.ends(m.key)[1] for m in framing.of_role(Role.STRUT)
                if m.group == purlin.group]  # fmt: skip
        start, _ = framing.ends(purlin.key)
        places = sorted(float(np.linalg.norm(t - start)) for t in tops)
        gaps = np.diff([0.0, *places, framing.length(purlin.key)])
        assert gaps.max() <= 4 * FOOT + 2 * FOOT  # moved over a joist by 1 ft at most
    rules = [f for f in house.findings if f.rule == "brace_spacing"]
    assert len(rules) == len(framing.of_role(Role.PURLIN))


def test_without_a_wall_they_land_on_joists_and_the_audit_says_why(house):
    framing = house.framing
    assert {m.foot.on.value for m in framing.of_role(Role.STRUT)} == {"ceiling_joist"}
    broken = [f for f in house.findings if f.rule == "brace_foot" and not f.passed]
    assert {k for f in broken for k in f.members} == {
        m.key for m in framing.of_role(Role.STRUT)
    }
    assert "no interior bearing wall" in broken[0].words


def test_a_wall_within_reach_takes_the_feet():
    """The line over the south side lies 8 ft in and 4 ft high; a wall 10 ft in is 2 ft
    aside: atan(4 / 2) = 63 degrees, 4.47 ft long."""
    wall = {"name": "spine", "start": ["6 ft", "10 ft"], "end": ["34 ft", "10 ft"]}
    framing = framed(walls=[wall])
    south = [m for m in framing.of_role(Role.STRUT) if m.group == "ring-S1"]
    inner = [m for m in south if 8 < framing.ends(m.key)[1][0] / FOOT < 32]
    assert inner
    for strut in inner:
        foot, top = framing.ends(strut.key)
        assert foot[1] / FOOT == pytest.approx(10)
        assert np.linalg.norm(top - foot) / FOOT == pytest.approx(20**0.5)
        assert strut.foot.name == "spine"


def test_a_rectangle_drawn_corner_by_corner_has_the_forces_of_a_hip_roof():
    """Two ways through the code to one roof; nails along purlins are the difference."""
    stated = hip("ring", hip_braces=[])
    corners = [(0, 0), (44, 0), (44, 28), (0, 28)]
    drawn = stated | {
        "footprint": {"outline": [{"at": [f"{x} ft", f"{y} ft"]} for x, y in corners]},
        "roof": {"pitch": "6:12", "overhang": "16 in"},
        "purlins": [RING],
        "struts": [STRUTS],
    }
    one, other = solve(read_brief(stated)), solve(read_brief(drawn))
    assert [len(s.framing.of_role(Role.STRUT)) for s in (one, other)] == [20, 20]
    for strut in one.framing.of_role(Role.STRUT):
        key = f"ST-ring-{strut.group}1-{strut.key[-2:]}"
        assert other.hand.struts[key].vertical == pytest.approx(
            one.hand.struts[strut.key].vertical
        )
        assert pushed(other, key) == pytest.approx(pushed(one, strut.key), rel=0.12)
    total = [sum(pushed(s, m.key) for m in s.framing.of_role(Role.STRUT))
             for s in (one, other)]  # fmt: skip
    assert total[0] == pytest.approx(total[1], rel=0.01)


def pushed(solution, key):
    """The largest push down in a strut, N."""
    element = solution.model.rows_of(key).start
    return float(np.abs(solution.frame.end_force_global[:, element, 0, 2]).max())


def test_hand_load_of_one_strut(house):
    """S1 of the L: 8 ft of rafter below the line, 4 ft above it to the ridge.

    Two spans a, b under w by three moments: M = w (a^3 + b^3) / (8 (a + b)) over the
    line, R = w (a + b) / 2 + M / a + M / b. Load on plan: 10 psf on the slope is 11.18
    psf, and 20 psf of roof live; the rafters' own weight is that of 2x8 SPF at 2 ft.
    """
    key, (a, b) = "ST-ring-S1-03", (8.0, 4.0)
    M = (a**3 + b**3) / (8 * (a + b))
    R = (a + b) / 2 + M / a + M / b
    found = house.hand.struts[key]
    row = house.hand.combinations.index("D+Lr")
    member = house.framing.members["R-S1-08"]
    weight = house.hand.rafters[0].line_load[row] / (2 * FOOT)  # Pa on plan
    own = house.hand.purlins["P-ring-S1"].line_load[row] - R * FOOT * weight
    plain = (11.18 + 20) * 47.88
    assert member.section.depth == pytest.approx(7.25 * 0.0254)
    assert weight == pytest.approx(plain + 1.1 * 47.88, rel=0.02)
    assert 0 < own < 4 * 14.6  # a 2x8 weighs 2 to 3 lb/ft
    assert found.vertical[row] == pytest.approx(
        (R * FOOT * weight + own) * found.tributary_length, rel=1e-9
    )


def test_a_pinned_line_moves_alone_and_says_so_when_it_cannot():
    pin = {"member": "P-ring-S1", "from_plate": "7 ft"}
    framing = framed(overrides=[pin])
    heights = {m.key: framing.ends(m.key)[0][2] / FOOT
               for m in framing.of_role(Role.PURLIN)}  # fmt: skip
    assert heights["P-ring-S1"] == pytest.approx(3.5)
    assert heights["P-ring-E1"] == pytest.approx(4)
    lost = framed(overrides=[pin | {"from_plate": "60 ft"}])
    assert "no room" in lost.change_notes["P-ring-S1"]


def test_changes_stay_with_their_strut_through_another_pitch_and_spacing():
    moved = {"on": "ceiling_joist", "at": ["12 ft", "6 ft"]}
    plain = framed()
    top = plain.ends("ST-ring-S1-03")[1][:2] / FOOT
    near = [f"{v} ft" for v in top]
    change = {"member": "ST-ring-S1-03", "near": near, "foot": moved}
    steep = framed(overrides=[change], roof={"pitch": "7:12", "overhang": "16 in"})
    holder = steep.change_holders.get("ST-ring-S1-03")
    if holder is None:
        assert steep.dropped_overrides == ("ST-ring-S1-03",)
    close = framed(overrides=[change], rafters={"size": "2x8", "spacing": "16 in"})
    holder = close.change_holders["ST-ring-S1-03"]
    assert close.ends(holder)[1][0] / FOOT == pytest.approx(top[0], abs=0.1)
    assert close.ends(holder)[0][:2] / FOOT == pytest.approx([12, 6])
    gone = framed(overrides=[{"member": "ST-ring-S1-03", "removed": True}])
    assert "ST-ring-S1-03" not in gone.members
    other = framed("T", overrides=[change | {"near": ["1 ft", "1 ft"]}])
    assert other.dropped_overrides == ("ST-ring-S1-03",)


def test_a_strut_is_added_or_reported():
    strut = {"name": "more", "purlin": "ring-S1", "at": "5 ft",
             "foot": {"on": "ceiling_joist"}}  # fmt: skip
    framing = framed(added_struts=[strut])
    assert "ST-ring-S1-more" in framing.members
    lost = framed(added_struts=[strut | {"purlin": "ring-S9"}])
    assert "no purlin line ring-S9" in lost.change_notes["ST-ring-S9-more"]


@pytest.mark.parametrize(
    ("field", "parts"),
    [
        ("purlins[0].plane", {"purlins": [RING | {"plane": "S9"}]}),
        ("purlins[0].height", {"purlins": [RING | {"height": "30 ft"}]}),
        ("struts[0].purlin", {"struts": [STRUTS | {"purlin": "ring-S9"}]}),
    ],
)
def test_what_no_plane_has_is_refused_by_its_field(field, parts):
    with pytest.raises(BriefError) as error:
        framed(**parts)
    assert error.value.field == field


def test_a_line_under_a_slope_that_is_not_there_names_those_that_are():
    data = json.loads(example_text()) | {"struts": []}
    data["roof"] |= {"form": "shed"}
    with pytest.raises(BriefError, match=r"purlins\[1\]\.slope.*north.*south, or all"):
        frame_roof(read_brief(data))
