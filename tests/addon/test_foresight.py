"""Foresight: where members will lie, told from two roofs without framing a third."""

from dataclasses import replace

import numpy as np
import pytest
from loadfall.addon.bridge import foresight
from loadfall.addon.bridge.pipeline import Pipeline
from loadfall.addon.bridge.starts import FeetOn, Start, new_roof
from loadfall.solver.units import FOOT, System

START = new_roof(
    Start(
        length=32 * FOOT, width=26 * FOOT, pitch=0.5, overhang=16 / 12 * FOOT,
        spacing=2 * FOOT, size="2x6", feet=FeetOn.JOISTS, units=System.IMPERIAL,
    )
)  # fmt: skip


def pitched(rise):
    return replace(START, roof=replace(START.roof, pitch=rise / 12))


@pytest.fixture(scope="module")
def known():
    """Two roofs framed exactly, at 6 and at 7 in 12."""
    pipeline = Pipeline()
    return {brief: pipeline.shape(brief) for brief in (pitched(6.0), pitched(7.0))}


def test_a_roof_between_two_is_told_almost_exactly(known):
    """The ridge of a half span of 13 ft rises 13 x 6.5 / 12 ft = 7.0417 ft."""
    told = foresight.foreseen(pitched(6.5), known)
    exact = Pipeline().shape(pitched(6.5))
    assert list(told.roles) == list(exact.roles)
    assert np.abs(told.corners - exact.corners).max() < 0.01
    assert told.solids["P-S"].faces == exact.solids["P-S"].faces
    row = list(told.roles.values()).index("ridge_board")
    assert told.lines[row] == pytest.approx(exact.lines[row], abs=1e-3)
    top = told.corners[told.ends[row - 1] : told.ends[row], 2].max()
    assert top == pytest.approx(7.0417 * FOOT, abs=0.16)  # and a rafter


def test_only_roofs_in_line_are_told(known):
    assert foresight.foreseen(pitched(8.9), known) is not None
    assert foresight.foreseen(pitched(9.5), known) is None, "too far out"
    both = replace(pitched(6.5), roof=replace(START.roof, pitch=6.5 / 12, overhang=0.1))
    assert foresight.foreseen(both, known) is None, "two numbers changed"
    few = dict(list(known.items())[:1])
    assert foresight.foreseen(pitched(6.5), few) is None, "one roof is no line"
    thick = replace(pitched(6.5), rafters=replace(START.rafters, size="2x8"))
    assert foresight.foreseen(thick, known) is None, "another size"


def test_roofs_with_other_members_are_not_mixed():
    pipeline = Pipeline()
    wide, close = (
        replace(START, rafters=replace(START.rafters, spacing=at * FOOT))
        for at in (2.0, 1.5)
    )
    known = {brief: pipeline.shape(brief) for brief in (wide, close)}
    between = replace(START, rafters=replace(START.rafters, spacing=1.75 * FOOT))
    assert foresight.foreseen(between, known) is None


def test_joint_lines_are_those_of_single_pieces(known):
    from loadfall.addon.bridge.drawing import centre_line

    shape = next(iter(known.values()))
    each = np.array([centre_line(shape.solids[key]) for key in shape.roles])
    assert shape.lines == pytest.approx(each)
