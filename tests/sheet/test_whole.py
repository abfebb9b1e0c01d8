"""The whole roof at a slant: parallel, true to the framing, what is worst marked."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from loadfall.solver.drawings.view import tilted
from loadfall.solver.sheet import choose
from loadfall.solver.sheet.whole import has_hips, sight_of, whole_roof

from .test_sheet import found_of, sheet


def test_the_view_keeps_parallels_and_shows_lengths_by_its_angles():
    """Axonometry by hand: looking north, 30 degrees down, a metre up is cos 30 high."""
    view = tilted(np.zeros(3), math.pi / 2, math.radians(30))
    east, north, up = view.at(np.eye(3))
    assert east == pytest.approx([1, 0, 0], abs=1e-12)
    assert north[:2] == pytest.approx([0, math.sin(math.radians(30))], abs=1e-12)
    assert up[:2] == pytest.approx([0, math.cos(math.radians(30))], abs=1e-12)
    assert north[2] > 0 > up[2], "north is farther, up is nearer"


@pytest.mark.parametrize("name", ["hip", "cottage"])
def test_every_ply_is_drawn_and_the_worst_is_named(name):
    found = found_of(name)
    before, chosen = found.before, choose(found)
    sight = sight_of(before, chosen.solution)
    text = whole_roof(before, sight, "as it is").text
    plies = sum(m.section.plies for m in before.framing.members.values())
    assert len(re.findall(r"Z\"", text)) == plies + 1  # and the floor
    over = sum(m.analysis_passes is False for m in before.members.values())
    assert len(re.findall(r"url\(#hatch-over\)", text)) >= over > 0
    assert f"{before.worst.utilisation:.2f} times its limit" in text
    after = whole_roof(chosen.solution, sight, "with the change", before).text
    assert "#1f5c6b" in after


def test_a_hip_roof_is_shown_whole_and_a_gable_by_its_slice():
    assert has_hips(found_of("hip").before)
    assert not has_hips(found_of("cottage").before)
    assert "hip rafter" in sheet("hip").pictures[0].svg.text
    assert sheet("hip").plain.seen.startswith("4 hip rafters")
