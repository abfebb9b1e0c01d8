"""The final check of a form finds what is wrong with it."""

from dataclasses import replace

import numpy as np
import pytest
from loadfall.solver.errors import FramingError
from loadfall.solver.form import polygon, roof_from_outline
from loadfall.solver.form.verify import crosses_itself, faults

from .shapes import EAVE, ELL, GABLE, OUTLINES


def found(form, planes, walls=None):
    walls = form.walls if walls is None else walls
    return " ".join(faults(form.outline.polygon, form.nodes, planes, walls))


@pytest.mark.parametrize("name", OUTLINES)
def test_nothing_is_wrong_with_a_roof(name):
    form = roof_from_outline(OUTLINES[name], EAVE)
    assert found(form, form.planes) == ""


def test_a_missing_plane():
    form = roof_from_outline(ELL, EAVE)
    text = found(form, form.planes[1:])
    assert "cover" in text
    assert "are open" in text


def test_a_missing_wall():
    form = roof_from_outline(ELL, [EAVE, GABLE, EAVE, EAVE, GABLE, EAVE])
    assert "are open" in found(form, form.planes, form.walls[1:])


def test_a_plane_twice():
    form = roof_from_outline(ELL, EAVE)
    assert "two faces" in found(form, [*form.planes, form.planes[0]])


def test_a_plane_inside_out():
    form = roof_from_outline(ELL, EAVE)
    plane = form.planes[0]
    turned = replace(plane, polygon3=plane.polygon3[::-1], nodes=plane.nodes[::-1])
    assert "inside out" in found(form, [turned, *form.planes[1:]])


@pytest.mark.parametrize(("lift", "fault"), [(1e-3, "not flat"), (-5, "below")])
def test_a_node_out_of_place(lift, fault):
    form = roof_from_outline(ELL, EAVE)
    plane = form.planes[0]
    points = plane.polygon3.copy()
    points[-1, 2] += lift
    moved = replace(plane, polygon3=points)
    assert fault in found(form, [moved, *form.planes[1:]])


def test_a_bow_tie():
    assert crosses_itself(np.array([[0.0, 0], [4, 4], [4, 0], [0, 4]]))
    assert not crosses_itself(np.array([[0.0, 0], [4, 0], [2, 1], [0, 4]]))


def test_a_form_at_fault_is_refused(monkeypatch):
    monkeypatch.setattr(
        polygon, "faults", lambda *_: ["the plane over edges [2] leaks"]
    )
    with pytest.raises(FramingError, match=r"edges \[2\] leaks"):
        roof_from_outline(ELL, EAVE)
