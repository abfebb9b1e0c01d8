"""A house seen in a mirror carries its loads as the mirror shows.

Each line across the ridge is held sideways in one place (see ``idealise/sideways.py``):
amid the house by ceiling or inner wall. Where no joist runs across that is the south
plate, and what leaning struts push then goes that way alone, some per cent of a force
from one side to the other: such roofs are framed here and not compared.
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


def midway(solution, key):
    """Whether a brace stands half a joist spacing aside of its top, as far as any."""
    member = solution.framing.members[key]
    joists = solution.brief.ceiling_joists
    if member.role is not Role.STRUT or joists is None:
        return False
    foot, top = solution.framing.ends(key)
    aside = np.abs(np.subtract(foot, top)[:2]).max()
    return abs(aside - joists.spacing / 2) < 0.0254


@tries(40)
@given(roofs(), st.sampled_from((0, 1)))
def test_a_mirrored_brief_gives_the_mirrored_roof(data, axis):
    data = even(data)
    note(data)
    ours, theirs = both(data, axis)
    plan = ours.brief.footprint
    size = plan.length if axis == 0 else plan.width
    pairs = images(ours.framing, theirs.framing, axis, size)
    lost = [key for key, image in pairs.items() if image is None]
    if lost and all(midway(ours, key) for key in lost):
        event("a brace midway between two joists may take either")
        return
    if lost and axis == 1 and all(key.startswith(("ST-W", "ST-E")) for key in lost):
        event("struts of an end slope are laid out from the south")
        return
    assert not lost
    assert len(pairs) == len(theirs.framing.members)
    if ours.frame is None or theirs.frame is None:
        event("not analysed")
        return
    if max(ours.frame.residual.max(), theirs.frame.residual.max()) > 1e-10:
        event("so nearly loose that rounding decides")
        return
    joists = data.get("ceiling_joists", {"direction": "none"})
    if ours.framing.of_role(Role.STRUT) and joists["direction"] != "across":
        event("held at the south plate")
        return
    if data["roof"].get("form") == "hip" or data["beams"]:
        event("a hip roof, or one on beams: its framing alone; some forces differ")
        return
    states = [s.frame.link_active.sum() for s in (ours, theirs)]
    if states[0] != states[1]:
        event("a contact without force is in another state")
        return
    assert not list(differences(ours, theirs, pairs))


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


def test_a_leaning_strut_pushes_as_much_from_either_side():
    for walls in (HOUSE["walls"], []):
        foot = HOUSE["struts"][0] | {"foot": {"on": "point", "from_plate": "120 in"}}
        data = HOUSE | {"walls": walls, "struts": HOUSE["struts"] if walls else [foot]}
        ours, theirs = both(data, 1)
        size = ours.brief.footprint.width
        pairs = images(ours.framing, theirs.framing, 1, size)
        assert not list(differences(ours, theirs, pairs))
        push = ours.members["ST-S-02"].axial
        assert push < -1000
        rows = [np.abs(s.frame.reaction[..., 1]).max() for s in (ours, theirs)]
        np.testing.assert_allclose(*rows, rtol=1e-9)
