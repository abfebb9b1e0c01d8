"""Dutch gables: a ledger carries the hip end, and two rafters carry the ledger."""

import pytest
from loadfall.solver.brief import read_brief
from loadfall.solver.errors import BriefError
from loadfall.solver.framing import Role, frame_roof
from loadfall.solver.solve import solve
from loadfall.solver.verification import run_checks
from loadfall.solver.verification.forms import dutch_gable_ledger

from ..analysis import peers
from ..outlines import rectangle


@pytest.fixture(scope="module")
def roof():
    return solve(read_brief(rectangle("dutch gable")))


def test_the_ledger_is_the_simple_beam_of_a_hand_calculation():
    """By hand: 2 ft x 6 ft x 32 psf / 2 = 192 lb from each of three rafters, 2 ft apart
    over 8 ft: 1.5 x 192 x 4 - 192 x 2 = 768 lb ft at the middle."""
    found = run_checks((dutch_gable_ledger,))
    assert [c.expected for c in found] == pytest.approx([192.0, 768.0])
    for check in found:
        assert check.ours == pytest.approx(check.expected, rel=0.02)


def test_the_ledger_hangs_on_the_pair_under_the_small_gable(roof):
    framing = roof.framing
    for ledger in framing.of_role(Role.LEDGER):
        for node in (ledger.nodes[0], ledger.nodes[-1]):
            keys = framing.by_node[node]
            roles = {framing.members[key].role for key in keys}
            assert {Role.HIP_RAFTER, Role.RAFTER} <= roles
            assert any(node in framing.members[key].nodes[1:-1] for key in keys)


def test_that_pair_carries_more_than_its_neighbours(roof):
    pair, beside = (roof.members[key].utilisation for key in ("R-S1-03", "R-S1-05"))
    assert pair > 1.3 * beside


def test_two_more_plies_under_the_small_gable_bring_it_within_its_limit():
    changes = [
        {"member": f"R-{side}1-{n:02d}", "plies": 2} for side in "SN" for n in (3, 17)
    ]
    doubled = solve(read_brief(rectangle("dutch gable", overrides=changes)))
    assert doubled.members["R-S1-03"].utilisation < 1


def test_loads_and_reactions_balance(roof):
    assert not roof.refusal
    assert not roof.path.faults
    assert roof.flow("D+Lr").ground_imbalance < 1e-9
    assert roof.shares().error < 1e-8


def test_opensees_agrees_on_a_dutch_gable():
    roof = solve(read_brief(rectangle("dutch gable", 28, 20)))
    peers.agrees_with_opensees(roof, "displacement", "end_force_global")


def test_a_small_gable_beyond_the_ridge_is_refused():
    roof = {"form": "dutch_gable", "pitch": "6:12", "setback": "14 ft"}
    with pytest.raises(BriefError) as error:
        frame_roof(read_brief(rectangle("dutch gable", roof=roof)))
    assert error.value.field == "roof.setback"
