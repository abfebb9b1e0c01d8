"""Stub joists over a drawn outline hold the feet that no joist ties."""

import numpy as np
import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.framing import Role, SupportKind
from loadfall.solver.solve import solve
from loadfall.solver.units import FOOT

from ..outlines import outline
from .test_hip_roof import SAW_KERF, overlap, pieces


def house(stubs):
    return read_brief(
        outline(
            "L",
            hips={"size": "2x10", "stub_joists": stubs},
            ceiling_joists={"size": "2x6", "spacing": "24 in"},
        )
    )


@pytest.fixture(scope="module")
def roofs():
    return solve(house(False)), solve(house(True))


def test_each_runs_square_in_from_its_foot_to_the_first_joist(roofs):
    framing = roofs[1].framing
    stubs = framing.of_role(Role.STUB_JOIST)
    assert stubs
    for stub in stubs:
        foot, end = framing.ends(stub.key)
        run = (end - foot)[:2]
        uphill = framing.plan.plane(stub.slope).uphill
        np.testing.assert_allclose(run / np.hypot(*run), uphill, atol=1e-9)
        assert np.hypot(*run) <= 8 * FOOT
        beside = [framing.members[k].role for k in framing.by_node[stub.nodes[0]]]
        assert Role.CEILING_JOIST not in beside


def test_they_take_the_push_of_hip_ends_off_the_plates(roofs):
    without, held = roofs
    for plate in ("PL-S1", "PL-N1", "PL-N2", "PL-W2"):
        assert held.members[plate].utilisation < without.members[plate].utilisation / 2
    assert held.members["HP-1"].utilisation < without.members["HP-1"].utilisation


def test_the_straps_give_what_the_stubs_pull(roofs):
    """Statics: what the straps hold level is the axial force of the stubs."""
    held = roofs[1]
    row = held.combinations.row("D+Lr")
    for support in held.framing.supports:
        if support.kind is not SupportKind.STRAPPED:
            continue
        rows = held.model.rows_of(support.member)
        pull = held.checked.stations.N[row, rows.start, 0]
        level = np.hypot(*held.frame.reaction[row, support.node, :2])
        assert level == pytest.approx(abs(pull), abs=1e-3)


def test_no_stub_crosses_another_piece(roofs):
    found = list(pieces(house(True), roofs[1].framing))
    for one in (p for p in found if p[0].startswith("SJ-")):
        for other in found:
            if other[0] == one[0] or other[0].startswith("PL-"):
                continue
            apart = np.maximum(one[1].min(0), other[1].min(0)) - np.minimum(
                one[1].max(0), other[1].max(0)
            )
            if apart.max() < 0:
                assert overlap(one, other) < SAW_KERF, (one[0], other[0])
