"""What was framed before the struts serves again, and nobody can tell."""

from __future__ import annotations

import copy
from dataclasses import fields

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.framing import frame_roof
from loadfall.tests.solve.houses import BUNGALOW, COTTAGE, changed


def alike(one, other):
    """Return whether two framings say the same, and name the first that does not."""
    for field in fields(one):
        a, b = getattr(one, field.name), getattr(other, field.name)
        if isinstance(a, np.ndarray):
            assert np.array_equal(a, b), field.name
        elif field.name not in ("bare", "form", "plan"):
            assert a == b, field.name
    return True


def with_foot(house, name):
    """The house with the feet of its first struts on a wall."""
    moved = copy.deepcopy(house)
    moved["struts"][0]["foot"] = {"on": "wall", "name": name}
    return moved


EDITS = {
    "foot": with_foot(COTTAGE, "spine"),
    "one foot": changed(
        COTTAGE,
        overrides=[
            {"member": "ST-S-01", "foot": {"on": "ceiling_joist", "from_plate": "7 ft"}}
        ],
    ),
    "post": changed(COTTAGE, posts=[{"name": "new", "at": ["100 in", "80 in"]}]),
    "strut gone": changed(COTTAGE, overrides=[{"member": "ST-S-01", "removed": True}]),
    "no struts": changed(COTTAGE, struts=[]),
}


@pytest.mark.parametrize("edit", EDITS)
def test_an_edit_of_what_comes_last(edit):
    """The framing is that of a brief framed afresh, there and back."""
    first, second = read_brief(COTTAGE), read_brief(EDITS[edit])
    before = frame_roof(first)
    after = frame_roof(second, before)
    assert after.bare is before.bare
    assert alike(after, frame_roof(second))
    assert alike(frame_roof(first, after), before)


@pytest.mark.parametrize(
    "edit",
    [
        {"rafters": {"size": "2x8", "spacing": "24 in"}},
        {"roof": {"pitch": "9:12"}},
        {"loads": {"snow": {"ground": "30 psf"}}},
        {"overrides": [{"member": "R-S-02", "size": "2x10"}]},
    ],
    ids=lambda edit: next(iter(edit)),
)
def test_any_other_edit_frames_afresh(edit):
    """Nothing of the old roof is left where the roof itself changed."""
    before = frame_roof(read_brief(BUNGALOW))
    other = read_brief(changed(BUNGALOW, **edit))
    after = frame_roof(other, before)
    assert after.bare is not before.bare
    assert alike(after, frame_roof(other))
