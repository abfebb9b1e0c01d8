"""Pick and ask: what a member, a wall and a patch of roof answer."""

import dataclasses

import bpy
import numpy as np
import pytest
from loadfall.addon.bridge import asking
from loadfall.addon.bridge.session import SESSION
from loadfall.solver.trace.reactions import reactions


@pytest.fixture
def outcome(roof):
    return SESSION.outcome(roof)


@pytest.mark.parametrize("point", [(3.0, 2.0, 1.2), (6.0, 6.5, 0.9), (3.0, 2.0, 0.0)])
def test_the_shares_of_a_patch_add_to_all_of_it(outcome, point):
    found = asking.patch(outcome, point)
    assert sum(found.shares.values()) == pytest.approx(1.0, abs=0.02)
    assert found.surface == ("ceiling" if point[2] == 0 else found.surface)
    assert f"over {found.member}" in asking.about_patch(outcome, found).title


def test_a_patch_weighs_what_lies_on_it(outcome):
    """Dead 10 psf on the slope and live 20 psf on plan over the strip; own weight of
    the 2x6 rafter, at most 3 psf at 24 in, comes on top."""
    found = asking.patch(outcome, (3.0, 2.0, 1.2))
    psf = found.load / found.area / 47.88
    slope = np.hypot(6, 12) / 12
    assert 10 * slope + 20 <= psf + 1e-6 < 10 * slope + 23


def test_all_walls_together_hold_the_roof(outcome):
    """What the walls hold is the sum of the reactions; a click tells the same."""
    found = reactions(outcome.solution)
    row = outcome.solution.combinations.names.index("D+Lr")
    total = sum(up[row] for up, _ in found.values())
    flow = outcome.solution.flow("D+Lr")
    assert total == pytest.approx(sum(flow.own.values()), rel=0.02)
    told = asking.wall(outcome, "W-Spine")
    assert any("ceiling joists" in words for words in told.sentences)
    assert (
        dict(told.numbers)["Dead load + roof live load"] == dict(told.heads)["Holds Up"]
    )
    assert asking.wall(outcome, "W-NOWHERE") is None


def test_a_ray_meets_the_roof_from_above_and_misses_beside_it(outcome):
    down = np.array([0.0, 0.0, -1.0])
    point = asking.hit(outcome, np.array([3.0, 2.0, 9.0]), down)
    assert point[:2] == pytest.approx([3.0, 2.0])
    assert point[2] > 2.0 * 0.5, "above the slope of 6:12 at 2 m from the plate"
    assert asking.hit(outcome, np.array([90.0, 2.0, 9.0]), down) is None


def test_ask_keeps_a_comparison_and_one_undo_step(roof):
    ask = bpy.ops.loadfall.ask
    assert ask(kind="MEMBER", key="CJ-05-1") == {"FINISHED"}
    assert bpy.context.object["member"] == "CJ-05-1"
    assert ask(kind="WALL", key="W-Spine", add=True) == {"FINISHED"}
    assert ask(kind="PATCH", point=(3.0, 2.0, 1.0), add=True) == {"FINISHED"}
    assert [a.kind for a in roof.loadfall.asked] == ["MEMBER", "WALL", "PATCH"]
    assert bpy.context.object == roof
    assert bpy.context.scene.loadfall.mode == "PATH"
    assert ask(kind="MEMBER", key="R-S-03") == {"FINISHED"}
    assert len(roof.loadfall.asked) == 1
    with pytest.raises(RuntimeError, match="no member nobody"):
        ask(kind="MEMBER", key="nobody")
    assert bpy.ops.loadfall.ask_clear() == {"FINISHED"}
    assert not roof.loadfall.asked


def test_asking_solves_nothing_again(roof, outcome, flush):
    bpy.ops.loadfall.ask(kind="WALL", key="W-SOUTH")
    flush()
    assert SESSION.outcome(roof) is outcome


def test_what_lifts_a_wall_is_said_as_such(outcome):
    """A share below nothing is no share that goes there."""
    found = asking.patch(outcome, (3.0, 2.0, 1.2))
    first, second, *rest = found.shares
    turned = {first: 1.04, second: -0.04} | dict.fromkeys(rest, 0.0)
    told = asking.about_patch(outcome, dataclasses.replace(found, shares=turned))
    assert any("takes 4% of it off" in words for words in told.sentences)
    assert not any("-4%" in words for words in told.sentences)


def test_the_same_question_is_kept_once(roof):
    for key in ("W-SOUTH", "W-NORTH", "W-SOUTH"):
        bpy.ops.loadfall.ask(kind="WALL", key=key, add=True)
    assert [one.key for one in roof.loadfall.asked] == ["W-NORTH", "W-SOUTH"]
