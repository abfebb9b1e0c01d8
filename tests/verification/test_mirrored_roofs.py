"""A house seen in a mirror carries its loads as the mirror shows.

Each line across the ridge is held sideways in one place (see ``idealise/sideways.py``):
amid the house by ceiling or inner wall, and where no joist runs across at its ridge.
"""

import numpy as np
from hypothesis import assume, event, given, note
from hypothesis import strategies as st
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import Role
from loadfall.solver.solve import solve

from ..solve.hip_strategies import roofs
from ..solve.mirrored import even, images, mirrored
from .trying import tries

# What counts as a difference: the greater of 1e-5 of the value and so much of a unit.
SCALES = {
    "axial": 10.0, "moment": 1.0, "shear": 10.0, "strut_load": 10.0,
    "utilisation": 1e-3, "sag_now": 1e-5, "sag_long_term": 1e-5,
}  # fmt: skip


def both(data, axis):
    """Solutions of a brief and of its mirror image."""
    try:
        briefs = read_brief(data), read_brief(mirrored(data, axis))
    except BriefError:
        assume(False)
    return [solve(brief) for brief in briefs]


def differences(ours, theirs, pairs):
    """Members whose numbers differ from those of their mirror image."""
    for key, image in pairs.items():
        a, b = ours.members[key], theirs.members[image]
        for name, unit in SCALES.items():
            x, y = getattr(a, name), getattr(b, name)
            known = x is not None and y is not None
            alike = known and abs(abs(x) - abs(y)) <= 1e-5 * max(abs(x), unit)
            if not alike and (x, y) != (None, None):
                yield key, name, x, y


def amid(solution, key, axis):
    """Whether a brace under the middle of the house stands half a joist bay aside."""
    member = solution.framing.members[key]
    joists, plan = solution.brief.ceiling_joists, solution.brief.footprint
    if member.role is not Role.STRUT or joists is None:
        return False
    foot, top = solution.framing.ends(key)
    middle = (plan.length, plan.width)[axis] / 2
    aside = abs(foot[axis] - middle)
    return abs(aside - joists.spacing / 2) < 0.0254 and abs(top[axis] - middle) < 0.0254


@tries(40)
@given(roofs(), st.sampled_from((0, 1)))
def test_a_mirrored_brief_gives_the_mirrored_roof(data, axis):
    data = even(data, axis)
    note(data)
    ours, theirs = both(data, axis)
    plan = ours.brief.footprint
    size = plan.length if axis == 0 else plan.width
    pairs = images(ours.framing, theirs.framing, axis, size)
    lost = [key for key, image in pairs.items() if image is None]
    if lost and all(amid(ours, key, axis) for key in lost):
        event("a brace in the middle of the house, between two joists, takes either")
        return
    assert not lost
    assert len(pairs) == len(theirs.framing.members)
    assert (ours.frame is None) == (theirs.frame is None)
    assert {pairs[key] for key in ours.path.faults} == set(theirs.path.faults)
    if ours.frame is None:
        event("not analysed")
        return
    if max(ours.frame.residual.max(), theirs.frame.residual.max()) > 1e-10:
        event("so nearly loose that rounding decides")
        return
    assert not list(differences(ours, theirs, pairs))


def assert_alike(data, axis):
    """A brief and its mirror image have the same members, faults and numbers."""
    ours, theirs = both(data, axis)
    plan = ours.brief.footprint
    size = plan.length if axis == 0 else plan.width
    pairs = images(ours.framing, theirs.framing, axis, size)
    assert None not in pairs.values()
    assert {pairs[key] for key in ours.path.faults} == set(theirs.path.faults)
    assert not list(differences(ours, theirs, pairs))
    return ours, theirs, pairs


HOUSE = {
    "footprint": {"length": "240 in", "width": "312 in"},
    "roof": {"pitch": "6:12"},
    "rafters": {"size": "2x6", "spacing": "24 in"},
    "ceiling_joists": {"size": "2x8", "spacing": "24 in"},
    "walls": [{"name": "w", "start": ["0 in", "120 in"], "end": ["240 in", "120 in"]}],
    "beams": [], "posts": [], "ridge": {"kind": "board", "size": "2x8"},
    "purlins": [{"name": "S", "slope": "south", "size": "2x6", "from_plate": "80 in"}],
    "struts": [{"purlin": "S", "size": "2x4", "spacing": "48 in", "start": "48 in",
                "end": "192 in", "foot": {"on": "wall", "name": "w"}}],
}  # fmt: skip


PLAIN = HOUSE | {"purlins": [], "struts": [], "walls": []}


def test_a_leaning_strut_pushes_as_much_from_either_side():
    for walls in (HOUSE["walls"], []):
        foot = HOUSE["struts"][0] | {"foot": {"on": "point", "from_plate": "120 in"}}
        data = HOUSE | {"walls": walls, "struts": HOUSE["struts"] if walls else [foot]}
        ours, theirs, _ = assert_alike(data, 1)
        push = ours.members["ST-S-02"].axial
        assert push < -1000
        rows = [np.abs(s.frame.reaction[..., 1]).max() for s in (ours, theirs)]
        np.testing.assert_allclose(*rows, rtol=1e-9)


def test_a_rafter_an_inch_inside_the_end_of_a_purlin_rests_on_it_at_both_ends():
    hip = {"pitch": "3:12", "form": "hip", "end_pitch": "3:12"}
    data = PLAIN | {
        "footprint": {"length": "192 in", "width": "96 in"},
        "roof": hip, "rafters": {"size": "2x4", "spacing": "16 in"},
        "ceiling_joists": {"size": "2x6", "spacing": "16 in"},
        "purlins": [HOUSE["purlins"][0] | {"from_plate": "31 in"}],
        "struts": [HOUSE["struts"][0] | {
            "foot": {"on": "point"}, "spacing": "32 in", "start": "48 in",
            "end": "144 in"}],
    }  # fmt: skip
    ours, _, _ = assert_alike(data, 0)
    held = {c.upper for c in ours.framing.contacts}
    assert {"J-S-02", "J-S-10"} <= held


def test_two_joists_that_end_on_one_beam_bear_alike_whichever_comes_first():
    joist = {"on": "ceiling_joist", "from_plate": "100 in"}
    beam = {"name": "b", "size": "4x12", "start": ["0 in", "156 in"],
            "end": ["240 in", "156 in"], "carries_joists": True}  # fmt: skip
    data = HOUSE | {
        "walls": [], "beams": [beam],
        "ceiling_joists": HOUSE["ceiling_joists"] | {"plies_under_struts": 2},
        "struts": [HOUSE["struts"][0] | {"foot": joist}],
    }  # fmt: skip
    pressures = []
    for solution in assert_alike(data, 1)[:2]:
        table = solution.checked.plan.bearings.table(solution.frame)
        on_beam = table.member == solution.model.members.index("B-b")
        stress = table.force.max(axis=0) / table.length
        pressures.append(np.sort(stress[on_beam]))
    np.testing.assert_allclose(*pressures, rtol=1e-9)


def test_a_joist_keeps_its_bearing_where_the_one_that_laps_it_falls():
    wall = HOUSE["walls"][0] | {
        "openings": [{"start": "30 in", "end": "90 in",
                      "header": {"size": "2x8"}}]}  # fmt: skip
    beam = {"name": "b", "size": "4x12", "start": ["24 in", "192 in"],
            "end": ["96 in", "192 in"], "carries_joists": True}  # fmt: skip
    ours, theirs, pairs = assert_alike(PLAIN | {"walls": [wall], "beams": [beam]}, 1)
    assert {"B-b", "CJ-02-2", "CJ-02-3"} <= set(ours.path.faults)
    assert "CJ-02-1" not in ours.path.faults
    assert theirs.members[pairs["CJ-02-1"]].utilisation > 0


def test_a_brace_midway_between_two_joists_takes_the_inner_one():
    data = HOUSE | {
        "walls": [], "ceiling_joists": {"size": "2x8", "spacing": "48 in"},
        "struts": [HOUSE["struts"][0] | {
            "foot": {"on": "ceiling_joist", "from_plate": "100 in"},
            "start": "24 in", "end": "216 in", "spacing": "192 in"}],
    }  # fmt: skip
    ours, _, _ = assert_alike(data, 0)
    feet = [ours.members[key].stands_on.name for key in ("ST-S-01", "ST-S-02")]
    assert feet == ["CJ-01-1", "CJ-04-1"]
