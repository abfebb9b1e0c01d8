"""Struts that lean along the ridge: the push is that of their axial force."""

from __future__ import annotations

import math

import pytest
from loadfall.solver.units import POUND

from ..solve.houses import COTTAGE, changed, solved

# Struts every 4 ft that all go to one wall across the house lean along the ridge.
ASIDE = changed(
    COTTAGE,
    walls=[
        {"name": "spine", "start": ["0 ft", "13 ft"], "end": ["32 ft", "13 ft"]},
        {"name": "cross", "start": ["16 ft", "0 ft"], "end": ["16 ft", "13 ft"]},
    ],
    struts=[
        {"purlin": "S", "spacing": "4 ft", "start": "13 ft", "end": "20 ft",
         "size": "4x4", "grade": "No.2", "foot": {"on": "wall", "name": "cross"}},
        {"purlin": "N", "spacing": "4 ft", "foot": {"on": "wall", "name": "spine"}},
    ],
)  # fmt: skip


def notes(solution):
    return [f for f in solution.findings if f.rule == "strut_leans_along"]


def test_the_push_along_the_ridge_is_reported_by_its_force():
    """A pin-ended strut of force N over length L leans by dx: N dx / L along."""
    solution = solved(ASIDE)
    (note,) = notes(solution)
    assert note.passed is None
    pushes = {}
    for key in note.members:
        start, end = solution.framing.ends(key)
        along = abs(end[0] - start[0]) / solution.framing.length(key)
        pushes[key] = abs(solution.members[key].axial) * along
        assert along > math.sin(math.radians(2))
    worst = max(pushes, key=pushes.get)
    said = float(note.value.removesuffix(" lb").replace(",", ""))
    assert said == pytest.approx(pushes[worst] / POUND, abs=1)
    assert worst in note.words
    assert "blocking" in note.words


def test_struts_that_stand_plumb_along_it_are_not_named():
    assert not notes(solved(COTTAGE))
