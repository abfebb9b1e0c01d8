"""The frame of a whole roof against OpenSees and PyNite, general-purpose libraries.

A bungalow with an opened spine wall, a header beam, and struts to wall and joists, as
the solver itself idealises it. Linear states to 1e-6 of the largest value of each
quantity; the contact state against OpenSees, whose contacts take no tension.
"""

import dataclasses

import numpy as np
import pytest
from loadfall.solver.analysis import solve

from ..analysis.peers import opensees_solve, pynite_solve
from .houses import BUNGALOW, changed, solved

RELATIVE = 1e-6


@pytest.fixture(scope="module")
def roof():
    return solved(BUNGALOW)


def linear(frame):
    """The frame with every contact and strut acting both ways."""
    links = dataclasses.replace(
        frame.links, one_sided=np.zeros_like(frame.links.one_sided)
    )
    return dataclasses.replace(
        frame, one_sided=np.zeros_like(frame.one_sided), links=links
    )


def differences(ours, theirs):
    """The largest difference of each quantity over its own largest value."""
    out = {}
    for name in ("displacement", "end_force_global", "link_force", "reaction"):
        a, b = getattr(ours, name), getattr(theirs, name)
        parts = {"force": slice(0, 3), "moment": slice(3, 6)}
        if a.ndim < 3:
            parts = {"": slice(None)}
        for kind, part in parts.items():
            x, y = a[..., part], b[..., part]
            size = np.abs(x).max(initial=0.0)
            if size > 0:
                out[f"{name} {kind}"] = np.abs(x - y).max() / size
    return out


def same(ours, theirs):
    found = differences(ours, theirs)
    assert len(found) >= 5
    assert max(found.values()) <= RELATIVE, found


def test_the_roof_is_the_whole_of_it(roof):
    frame = roof.model.frame
    assert frame.n_elements > 250
    assert {"B-living", "P-S", "ST-S-05", "CJ-10-1"} <= set(roof.model.members)
    assert frame.links.one_sided.any()
    assert frame.one_sided.any()


@pytest.mark.parametrize("peer", [opensees_solve, pynite_solve])
def test_the_linear_state_agrees(roof, peer):
    pytest.importorskip("openseespy.opensees" if peer is opensees_solve else "Pynite")
    frame, factors = linear(roof.model.frame), roof.combinations.factors
    if peer is pynite_solve:
        factors = factors[-1:]
    ours = solve(frame, roof.model.loads, factors)
    same(ours, peer(frame, roof.model.loads, factors, ours.dropped))


def test_opensees_finds_the_same_contact_state(roof):
    pytest.importorskip("openseespy.opensees")
    loads = BUNGALOW["loads"] | {"attic_live": "40 psf"}
    for solution in (roof, solved(changed(BUNGALOW, loads=loads))):
        frame, result = solution.model.frame, solution.frame
        theirs = opensees_solve(
            frame, solution.model.loads, solution.combinations.factors, result.dropped
        )
        same(result, theirs)
        sided = frame.links.one_sided != 0
        pushes = theirs.link_force[:, sided] > 1e-6
        assert (pushes == result.link_active[:, sided]).all()
        assert not result.link_active[:, sided].all()
    struts = frame.one_sided != 0
    assert not result.element_active[:, struts].all()
