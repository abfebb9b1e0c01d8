"""Purlin lines round the hips: on all four slopes, or under the hip ends alone.

Checked against the two-span beam (any handbook), against equilibrium of inclined
struts, and against OpenSees as other hip roofs are.
"""

from __future__ import annotations

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import Role
from loadfall.solver.report.results import results
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT

from ..analysis import peers
from ..hips import POSTS, RING, RING_STRUTS, hip
from .houses import COTTAGE, changed

ENDS = RING[2:]


def solved(name="plain", **parts):
    return solve(read_brief(hip(name, **parts)))


@pytest.fixture(scope="module")
def ring():
    return solved("ring")


def contact(roof, upper, lower, row):
    """(vertical, sideways) N that one member presses on another."""
    model = roof.model
    for n, pair in zip(model.contacts, model.contact_links, strict=True):
        found = roof.framing.contacts[n]
        if (found.upper, found.lower) == (upper, lower):
            return roof.frame.link_force[row, pair]
    raise KeyError((upper, lower))


def test_lines_of_one_height_meet_under_the_hips(ring):
    """4 ft up at 6:12 is 8 ft from every plate: corners at (8, 8) ft and so on."""
    framing = ring.framing
    assert framing.ends("P-S")[0] / FOOT == pytest.approx([8, 8, 4])
    assert framing.ends("P-W")[1] / FOOT == pytest.approx([8, 20, 4])
    south, west = (framing.members[key].nodes for key in ("P-S", "P-W"))
    assert south[0] == west[0], "one joint"
    rests = {(c.upper, c.lower) for c in framing.contacts}
    assert {upper for upper, _ in rests} >= {"HP-SW", "HP-SE", "HP-NE", "HP-NW"}


def test_a_line_that_ends_alone_at_a_hip_does_not_hold_it():
    alone = solved("plain", purlins=ENDS, struts=[])
    assert all(not c.upper.startswith("HP-") for c in alone.framing.contacts)


def test_a_king_common_over_its_purlin_is_a_two_span_beam():
    """Spans 8 and 6 ft under w on plan, a plumb strut under it, a post at the peak.

    Three-moment equation for spans a, b: M = w (a^3 + b^3) / (8 (a + b)),
    R = w (a + b) / 2 + M / a + M / b. Nails push the rafter square to the purlin's
    side by H; along the slope of 1 in 2 that stands for H / 2 of R.
    """
    struts = [
        {"purlin": side, "spacing": "2 ft", "start": "8 ft", "foot": {"on": "point"}}
        for side in "SNWE"
    ]
    roof = solved("plain", purlins=RING, struts=struts, hip_braces=POSTS)
    row = roof.combinations.row("D+Lr")
    hand = next(r for r in roof.hand.rafters if r.slope == "W")
    w = hand.line_load[roof.hand.combinations.index("D+Lr")]
    a, b = 8 * FOOT, 6 * FOOT
    moment = w * (a**3 + b**3) / (8 * (a + b))
    reaction = w * (a + b) / 2 + moment / a + moment / b
    down, nails = contact(roof, "R-W-06", "P-W", row)
    assert down + nails / 2 == pytest.approx(reaction, rel=0.01)


def test_the_push_of_a_strut_along_the_ridge_reaches_its_wall(ring):
    """ST-W-01 stands on the cross wall, 1 ft aside and 4 ft down: a quarter of it.

    It leans to the west as it goes down, so the wall pushes it back to the east.
    """
    row = ring.combinations.row("D+Lr")
    foot, top = ring.framing.ends("ST-W-01")
    assert (top - foot) / FOOT == pytest.approx([1, 0, 4])
    element = ring.model.rows_of("ST-W-01").start
    force = ring.frame.end_force_global[row, element, 0]
    assert force[0] == pytest.approx(force[2] / 4, rel=1e-6)
    node = ring.framing.members["ST-W-01"].nodes[0]
    assert ring.frame.reaction[row, node, 0] == pytest.approx(force[0], rel=1e-6)
    assert force[0] > 0
    given = results(ring)["supports"]["W-west room"]
    assert abs(given["along"]["D+Lr"]) > 1


def test_the_ring_takes_load_off_the_hips(ring):
    bare = solved("posts")
    for key in ("HP-SW", "HP-NE"):
        ours, theirs = ring.members[key], bare.members[key]
        assert ours.by_check["bending"] < 0.75 * theirs.by_check["bending"]


def test_no_joint_of_an_end_purlin_is_held_along_the_ridge(ring):
    """What struts push that way goes to rafters, hips and feet, not into thin air."""
    for key in ("P-W", "P-E"):
        nodes = list(ring.framing.members[key].nodes)
        assert not ring.model.frame.fixed[nodes, 0].any()


def test_opensees_agrees_on_a_ring_in_its_contact_state():
    """Every displacement, force and reaction under dead load, to 1e-6."""
    struts = [s | {"foot": {"on": "point"}} for s in RING_STRUTS]
    roof = solved("ring", struts=struts)
    model, ours = roof.model, roof.frame
    row = roof.combinations.row("D+Lr")
    assert ours.link_active[row].all()
    factors = roof.combinations.factors[row : row + 1]
    theirs = peers.opensees_solve(model.frame, model.loads, factors, ours.dropped)
    a, b = ours.displacement[row, :, :3], theirs.displacement[0, :, :3]
    assert np.abs(a - b).max() <= 1e-6 * np.abs(a).max()
    a, b = ours.end_force_global[row], theirs.end_force_global[0]
    assert np.abs(a - b).max() <= 1e-6 * np.abs(a).max()


def test_hand_and_rules_know_the_ends(ring):
    assert ring.hand.struts["ST-W-02"].axial.max() > 0
    assert set(ring.hand.purlins) == {"P-S", "P-N", "P-W", "P-E"}
    rules = {f.rule: f for f in ring.findings if f.members == ("P-W",)}
    assert rules["brace_spacing"].passed
    angle = next(
        f for f in ring.findings
        if f.rule == "brace_angle" and f.members == ("ST-W-01",)
    )  # fmt: skip
    assert angle.passed


def test_steeper_ends_meet_by_height_not_by_distance():
    """9:12 ends: 4 ft up is 5 ft 4 in from the end plates, 8 ft from the sides."""
    roof = {"form": "hip", "pitch": "6:12", "end_pitch": "9:12", "overhang": "0 in"}
    framing = solved("ring", roof=roof).framing
    assert framing.ends("P-W")[0] / FOOT == pytest.approx([16 / 3, 8, 4])
    assert framing.members["P-W"].nodes[0] == framing.members["P-S"].nodes[0]
    assert all(m.role is not Role.RAFTER or m.nodes for m in framing.members.values())


def test_a_gable_roof_has_no_hip_ends():
    with pytest.raises(BriefError) as caught:
        read_brief(changed(COTTAGE, purlins=[ENDS[0]], struts=[]))
    assert caught.value.field == "purlins[0].slope"
