"""Braces under the lines of a drawn outline, where no wall takes their feet."""

from __future__ import annotations

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.framing.model import Role
from loadfall.solver.solve import solve

from ..outlines import outline


@pytest.fixture(scope="module")
def braced():
    """An L whose valley is braced at its middle down to a ceiling joist."""
    plain = solve(read_brief(outline("L")))
    valley = next(m.key for m in plain.framing.of_role(Role.VALLEY_RAFTER))
    brace = {"under": valley, "at": 0.5, "size": "2x4",
             "foot": {"on": "ceiling_joist"}}  # fmt: skip
    return solve(read_brief(outline("L") | {"hip_braces": [brace]}))


def test_a_brace_stands_on_the_nearest_joist(braced):
    (strut,) = braced.framing.of_role(Role.STRUT)
    foot, top = braced.framing.ends(strut.key)
    on = braced.members[strut.key].stands_on
    assert braced.members[on.name].role == "ceiling_joist"
    spacing = braced.brief.ceiling_joists.spacing
    assert np.hypot(*(foot - top)[:2]) <= spacing


def test_its_push_reaches_the_ground(braced):
    assert braced.frame is not None
    assert braced.frame.residual.max() < 1e-9
    (strut,) = braced.framing.of_role(Role.STRUT)
    assert braced.members[strut.key].axial < 0
